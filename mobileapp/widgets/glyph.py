"""One of the house's shapes as a widget."""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.graphics import InstructionGroup
from kivy.metrics import mm
from kivy.properties import ColorProperty, OptionProperty
from kivy.uix.widget import Widget

from mobileapp import look
from mobileapp.widgets.glyph_shapes import SHAPES
from mobileapp.widgets.pen import Pen


class Glyph(Widget):
    """Draws `shape` in `ink`, as large as its box allows; an empty name draws nothing."""

    shape = OptionProperty("", options=["", *SHAPES])
    ink = ColorProperty(look.PALE)

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("size_hint", (None, None))
        kwargs.setdefault("size", (mm(8), mm(8)))
        super().__init__(**kwargs)
        self._group = InstructionGroup()
        self.canvas.add(self._group)
        redraw = Clock.create_trigger(self._draw, -1)
        for name in ("shape", "ink", "pos", "size"):
            self.fbind(name, redraw)
        redraw()

    def _draw(self, *_: object) -> None:
        self._group.clear()
        if self.shape:
            size = min(self.size)
            pen = Pen(self._group, self.center_x - size / 2, self.center_y - size / 2, size, self.ink)
            SHAPES[self.shape](pen)
