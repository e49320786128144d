"""What can be tapped: one contact, one tap, with a glove that rolls a little and a palm that rests."""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.metrics import mm
from kivy.properties import BooleanProperty, NumericProperty
from kivy.uix.widget import Widget

from mobileapp import look

#: A contact that never ended (the phone went to sleep under the finger) is given up after this many seconds.
_STUCK_SECONDS = 2.0
#: A glove may roll this far out of the part and still mean it.
_ROLL_MM = 4


class Tappable(Widget):
    """A part that answers one contact with one `on_tap`.

    While one contact holds it, others on it are swallowed: a resting palm is not a second tap. With `at_touch`
    the tap happens as the finger lands, else as it lifts, so that sliding off takes it back.
    """

    __events__ = ("on_tap",)

    pressed = BooleanProperty(False)
    at_touch = BooleanProperty(False)
    #: How far every other primary part must stay away, in mm.
    apart_mm = NumericProperty(look.GAP_MM)

    _holder: Any = None
    _held_since = 0.0

    def on_tap(self) -> None:
        """The part was tapped."""

    def on_touch_down(self, touch: Any) -> bool:
        """Take the contact, if it is one and nothing holds the part already."""
        if self.disabled or getattr(touch, "is_mouse_scrolling", False):
            return False
        if not self.collide_point(*touch.pos):
            return False
        if self._held_by_other(touch):
            return True
        self._holder, self._held_since = touch, Clock.get_time()
        touch.grab(self)
        self.pressed = True
        if self.at_touch:
            self.dispatch("on_tap")
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Show whether letting go here would still count."""
        if touch.grab_current is not self:
            return False
        self.pressed = self._within_roll(touch)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Let go; tap unless the finger slid off."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._holder = None
        self.pressed = False
        if not self.at_touch and not self.disabled and self._within_roll(touch):
            self.dispatch("on_tap")
        return True

    def _held_by_other(self, touch: Any) -> bool:
        held = self._holder is not None and self._holder is not touch
        return held and Clock.get_time() - self._held_since < _STUCK_SECONDS

    def _within_roll(self, touch: Any) -> bool:
        roll = mm(_ROLL_MM)
        x, y = touch.pos
        return self.x - roll <= x <= self.right + roll and self.y - roll <= y <= self.top + roll
