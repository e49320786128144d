"""A place to sign with a finger. What is drawn is kept as strokes in thousandths of the field, from its top left."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color, InstructionGroup, Line
from kivy.metrics import mm
from kivy.properties import ListProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from checklists.facts import Strokes
from checklists.signing import LEAST_INK, ink
from mobileapp import look
from mobileapp.widgets.glyph import Glyph  # noqa: F401  (signature_pad.kv uses these)
from mobileapp.widgets.plate import QuietButton  # noqa: F401
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.text import Body, Small  # noqa: F401

NOT_SIGNED = "Not signed yet"
#: The form of the field on the closing sheet, so that nothing is stretched there.
SHAPE = 24 / 62
#: Points closer than this to the last one say nothing new.
_LEAST = 6
#: A name has a few hundred points; a palm resting on the glass is not to fill the journal.
MOST_POINTS = 3000


class SignatureField(Widget):
    """The field itself. `strokes` is a list of lists of whole numbers, x and y by turns.

    A finger that lands on it draws, also inside a scrolling place: hence `on_scroll_start`, by which a scrolling
    place asks what lies in it whether the touch is theirs.
    """

    __events__ = ("on_scroll_start", "on_scroll_move", "on_scroll_stop", "on_signed")

    strokes = ListProperty([])

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._ink = InstructionGroup()
        self.canvas.add(self._ink)
        self._finger: Any = None
        for name in ("pos", "size", "strokes"):
            self.fbind(name, self._draw)

    def on_signed(self) -> None:
        """A stroke is drawn to its end."""

    # --- the finger

    def on_touch_down(self, touch: Any) -> bool:
        """Begin a stroke."""
        if self.disabled or not self.collide_point(*touch.pos) or getattr(touch, "is_mouse_scrolling", False):
            return False
        if self._finger is not None and self._finger is not touch:
            return True  # a palm
        if self._finger is None:
            self._finger = touch
            touch.grab(self)
            self.strokes = [*self.strokes, list(self._spot(touch))]
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Draw on."""
        if touch.grab_current is not self:
            return False
        x, y = self._spot(touch)
        last = self.strokes[-1]
        if abs(x - last[-2]) + abs(y - last[-1]) >= _LEAST and self._room():
            self.strokes = [*self.strokes[:-1], [*last, x, y]]
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """End the stroke."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._finger = None
        self.dispatch("on_signed")
        return True

    def on_scroll_start(self, touch: Any, *_: object) -> bool:
        """A scrolling place asks: what begins here is a stroke."""
        return self.on_touch_down(touch)

    def on_scroll_move(self, touch: Any, *_: object) -> bool:
        """Whether it is a stroke that moves."""
        return touch is self._finger

    def on_scroll_stop(self, touch: Any, *_: object) -> bool:
        """Whether it is a stroke that ends."""
        return touch is self._finger

    def _room(self) -> bool:
        return sum(map(len, self.strokes)) < 2 * MOST_POINTS

    def _spot(self, touch: Any) -> tuple[int, int]:
        across = (touch.x - self.x) / max(1.0, self.width)
        down = (self.top - touch.y) / max(1.0, self.height)
        return tuple(round(1000 * min(1.0, max(0.0, share))) for share in (across, down))  # type: ignore[return-value]

    # --- what is seen

    def _draw(self, *_: object) -> None:
        self._ink.clear()
        self._ink.add(Color(*look.INK))
        for stroke in self.strokes:
            points = []
            for x, y in zip(stroke[::2], stroke[1::2], strict=True):
                points += [self.x + x * self.width / 1000, self.top - y * self.height / 1000]
            if len(points) == 2:
                points += [points[0] + 1, points[1]]
            self._ink.add(Line(points=points, width=mm(0.45), cap="round", joint="round"))


class SignaturePad(BoxLayout):
    """A field to sign in, whose signature it is, whether it is signed yet, and apart from it the key that clears it.

    Dispatches on_signed whenever `strokes` was changed by hand.
    """

    __events__ = ("on_signed",)

    #: Whose: name and role.
    whose = StringProperty("")
    said = StringProperty(NOT_SIGNED)
    strokes = ListProperty([])
    apart = NumericProperty("13mm")
    form = NumericProperty(SHAPE)

    def on_kv_post(self, base: object) -> None:
        """Join the field and the key to the strokes."""
        self.ids.field.strokes = self.strokes
        self.ids.field.bind(on_signed=self._drawn)
        self.ids.wipe.bind(on_tap=lambda _: self.clear())
        self.fbind("strokes", self._show)
        self._show()

    def on_signed(self) -> None:
        """The signature is another one now."""

    @property
    def signature(self) -> Strokes:
        """The strokes as facts take them; empty while it is not signed."""
        strokes = tuple(tuple(int(part) for part in stroke) for stroke in self.strokes)
        return strokes if ink(strokes) >= LEAST_INK else ()

    def clear(self) -> None:
        """Take the strokes away."""
        self.strokes = []
        self.dispatch("on_signed")

    def _drawn(self, field: SignatureField) -> None:
        self.strokes = [list(stroke) for stroke in field.strokes]
        self.dispatch("on_signed")

    def _show(self, *_: object) -> None:
        self.ids.field.strokes = self.strokes
        drawn = "A dot is no signature yet: write your name" if self.strokes else NOT_SIGNED
        self.said = "Signed" if self.signature else drawn
        self.ids.wipe.disabled = not self.strokes


load_rules(__file__)
