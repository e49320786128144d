"""The count pad: one huge place to tap, one tap for one item. The key that takes one back is not part of it.

The pad never changes its own figure: whoever owns it records the count first and then sets `counted`.
"""

from __future__ import annotations

from typing import Any

from kivy.metrics import mm
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.floatlayout import FloatLayout

from mobileapp import look
from mobileapp.widgets.drop_key import DropKey  # noqa: F401  (the kv uses it)
from mobileapp.widgets.plate import Faced
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.tally_field import TallyField  # noqa: F401
from mobileapp.widgets.tappable import Tappable
from mobileapp.widgets.text import FitFigure  # noqa: F401


class TapArea(Tappable, Faced):
    """Where one tap is one item. It counts as the finger lands; the notch belongs to the drop key."""

    figure = StringProperty("0")
    below = StringProperty("")
    ask = StringProperty("")
    #: Width and height of the corner the drop key needs, and whether the plate stands beside it altogether.
    room = ListProperty([0, 0])
    beside = BooleanProperty(False)
    #: No room above the notch: the figure goes beside it, and the words beside the figure.
    tight = BooleanProperty(False)
    #: The figure comes first: only with room to spare is it said what one tap does.
    room_to_ask = BooleanProperty(True)

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("at_touch", True)
        kwargs.setdefault("raised", True)
        super().__init__(**kwargs)

    def _choose_ink(self, *_: object) -> None:
        # The figure keeps its ink while pressed: setting letters this large anew would cost the tap its frame.
        self.words_ink = look.DIM if self.raised and self.disabled else look.TONES[self.tone].words

    def _draw_pressed(self) -> None:
        tone = look.TONES[self.tone]
        self._fill(tone.lip, self._shape())
        self._fill(tone.face, self._shape(inset=mm(1.8)))

    def collide_point(self, x: float, y: float) -> bool:
        """The plate without its notch."""
        in_notch = x < self.x + self.notch[0] and y < self.y + self.notch[1]
        return bool(super().collide_point(x, y)) and not in_notch

    def touch_boxes(self) -> list[tuple[float, float, float, float]]:
        """What can be touched, as boxes (left, low, right, high): above the notch, and beside it."""
        wide, high = self.notch
        boxes = [(self.x, self.y + high, self.right, self.top)]
        return [*boxes, (self.x + wide, self.y, self.right, self.y + high)] if high else boxes


class Pad(FloatLayout):
    """Holds the tap area and, in its notch, the drop key."""


class CountPad(BoxLayout):
    """Counts `counted` of `total` items of `line`, `direction` out or back.

    Events: on_count (one tap), on_drop. `blind` hides the total and the open strokes, for a second count. `ready`
    False closes the pad; `done` lays it flat: a tap is still heard, but nothing is left to count.
    """

    __events__ = ("on_count", "on_drop")

    direction = OptionProperty("out", options=["out", "back"])
    line = StringProperty("")
    counted = NumericProperty(0)
    total = NumericProperty(0)
    blind = BooleanProperty(False)
    ready = BooleanProperty(True)
    done = BooleanProperty(False)
    drop_shown = BooleanProperty(True)

    def on_count(self) -> None:
        """One item was tapped."""

    def on_drop(self) -> None:
        """Something fell."""

    def tone_of(self, direction: str, blind: bool) -> str:
        """Orange while counting out, sky while counting back, bone when blind."""
        return "bone" if blind else {"out": "orange", "back": "sky"}[direction]

    def below(self, direction: str, total: float, blind: bool) -> str:
        """The words under the figure."""
        if blind:
            return "counted"
        return f"of {int(total)} {direction}" if total else direction

    def ask(self, counted: float, done: bool) -> str:
        """What a tap would say."""
        if done:
            return "one more in\nyour hand?"
        return "" if counted else "one tap,\none item"

    def room_for(self, width: float, height: float) -> tuple[float, float]:
        """Room for a drop key of this size with 6 mm around it; none when it is not shown."""
        gap = mm(look.GAP_MM)
        return (width + gap, height + gap) if width else (0, 0)


load_rules(__file__)
