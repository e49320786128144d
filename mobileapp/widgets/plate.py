"""Plates carry a state; keys are plates that can be pressed. Both are stamped tags with two cut corners.

A key has a lip below it, a plate has none. A key that cannot be pressed now has no face, only a dashed edge.
"""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, Line, Mesh
from kivy.metrics import mm
from kivy.properties import (
    BooleanProperty,
    ColorProperty,
    ListProperty,
    NumericProperty,
    OptionProperty,
    StringProperty,
)
from kivy.uix.boxlayout import BoxLayout

from mobileapp import look
from mobileapp.widgets import outline
from mobileapp.widgets.glyph import Glyph  # noqa: F401  (plate.kv uses it)
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.tappable import Tappable
from mobileapp.widgets.text import Words  # noqa: F401  (plate.kv uses it)

_CUT_MM, _LIP_MM, _SLIT_MM = 2.2, 1.1, 0.5


class Faced(BoxLayout):
    """Draws the face of a plate behind its children, by tone and by whether it is pressed or unready."""

    tone = OptionProperty("steel", options=list(look.TONES))
    #: Whether it looks like something to press.
    raised = BooleanProperty(False)
    pressed = BooleanProperty(False)
    #: Width and height of the bottom left corner left to another part.
    notch = ListProperty([0, 0])
    #: The colour of words and shapes on the face as it is drawn now.
    words_ink = ColorProperty(look.PALE)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._face = InstructionGroup()
        self.canvas.before.add(self._face)
        redraw = Clock.create_trigger(self._draw_face, -1)
        for name in ("pos", "size", "tone", "raised", "pressed", "notch", "disabled"):
            self.fbind(name, redraw)
        for name in ("tone", "pressed", "disabled"):
            self.fbind(name, self._choose_ink)
        self._choose_ink()
        redraw()

    def _choose_ink(self, *_: object) -> None:
        tone = look.TONES[self.tone]
        if self.raised and self.disabled:
            self.words_ink = look.DIM
        elif self.pressed:
            self.words_ink = look.PALE if self.tone == "steel" else tone.face
        else:
            self.words_ink = tone.words

    def _draw_face(self, *_: object) -> None:
        self._face.clear()
        if self.raised and self.disabled:
            self._draw_dashed()
        elif self.pressed:
            self._draw_pressed()
        else:
            self._draw_raised()

    def _shape(self, inset: float = 0.0, low: float = 0.0) -> outline.Points:
        return outline.notched(
            self.x + inset,
            self.y + inset + low,
            self.width - 2 * inset,
            self.height - 2 * inset - low,
            mm(_CUT_MM),
            (self.notch[0] - 2 * inset * bool(self.notch[0]), self.notch[1] - low if self.notch[1] else 0),
        )

    def _fill(self, shade: look.Colour, points: outline.Points) -> None:
        vertices, indices = outline.fan(points)
        self._face.add(Color(*shade))
        self._face.add(Mesh(vertices=vertices, indices=indices, mode="triangle_fan"))

    def _draw_raised(self) -> None:
        tone = look.TONES[self.tone]
        if not self.raised:
            self._fill(tone.face, self._shape())
            return
        self._fill(tone.face, self._shape(low=mm(_LIP_MM + _SLIT_MM)))
        left, cut = (self.x + self.notch[0], 0) if self.notch[0] else (self.x, mm(_CUT_MM))
        for piece in outline.lip(left, self.y, self.right - left, mm(_LIP_MM), cut):
            self._fill(tone.lip, piece)

    def _draw_pressed(self) -> None:
        tone = look.TONES[self.tone]
        edge = look.PALE if self.tone == "steel" else tone.face
        self._fill(edge, self._shape())
        self._fill(look.GROUND, self._shape(inset=mm(0.9)))

    def _draw_dashed(self) -> None:
        self._face.add(Color(*look.EDGE))
        for piece in outline.dashes(self._shape(inset=mm(0.3)), mm(2.2), mm(1.6)):
            self._face.add(Line(points=piece, width=mm(0.25), cap="none"))


class Plate(Faced):
    """A word, its own shape and its colour, with a smaller line below."""

    text = StringProperty("")
    note = StringProperty("")
    shape = StringProperty("")
    glyph_mm = NumericProperty(8)
    #: Clear above and below the words.
    over = NumericProperty("2mm")
    under = NumericProperty("2mm")
    #: How high it must be for its words; what it has beyond that is shared above and below.
    needed = NumericProperty(0)
    slack = NumericProperty(0)
    content = NumericProperty(0)
    gap = NumericProperty(0)
    sides = NumericProperty(0)
    text_size_sp = StringProperty(look.KEY)
    #: How large the words may become with the font scale.
    most = StringProperty(look.KEY_MOST)
    #: Shape above the words instead of beside them, for narrow places.
    upright = BooleanProperty(False)


class PlateButton(Tappable, Plate):
    """A primary key: at least 20 mm each way, as high as its words need. Dispatches on_tap."""

    least_mm = NumericProperty(look.KEY_MM)

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("raised", True)
        super().__init__(**kwargs)


class QuietButton(PlateButton):
    """A key for what is not the next act."""


class TakeBackButton(PlateButton):
    """The key that takes back a count. Everything else keeps 13 mm away from it."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("apart_mm", look.APART_MM)
        super().__init__(**kwargs)


load_rules(__file__)
