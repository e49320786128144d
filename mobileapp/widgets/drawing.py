"""What our own drawings have in common: they are drawn anew when something of them changes, in pixels, with words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from kivy.clock import Clock
from kivy.core.text import Label as Writing
from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Mesh, PopMatrix, PushMatrix, Rectangle, Translate
from kivy.metrics import sp
from kivy.uix.widget import Widget

from mobileapp import look
from mobileapp.right_to_left import joined, laid_out
from mobileapp.widgets.text import in_parts, size_for
from mobileapp.writing import is_plain, plain_font_of


class Drawing(Widget):
    """A drawing redraws itself in `draw`, once a frame at most. Coordinates are the window's pixels.

    Where it is only moved, as when rows come in above or below it, what is drawn is moved with it.
    """

    def __init__(self, **kwargs: Any) -> None:
        self._marks, self._moved = InstructionGroup(), Translate()
        self._drawn_at: tuple[float, float] | None = None
        super().__init__(**kwargs)
        for instruction in (PushMatrix(), self._moved, self._marks, PopMatrix()):
            self.canvas.add(instruction)
        self.redraw = Clock.create_trigger(self._redraw, -1)
        self.bind(pos=self._move, size=self.redraw)
        self.redraw()

    def _move(self, *_: object) -> None:
        if self._drawn_at is None:
            self.redraw()
            return
        x, y = self._drawn_at
        self._moved.xy = round(self.x - x), round(self.y - y)  # by whole pixels: letters stay sharp

    def draw(self) -> None:
        """Draw everything."""

    def _redraw(self, *_: object) -> None:
        self._marks.clear()
        self._drawn_at, self._moved.xy = (self.x, self.y), (0, 0)
        self.draw()

    def bar(self, shade: look.Colour, x: float, y: float, width: float, height: float) -> None:
        """A solid upright rectangle."""
        self._marks.add(Color(*shade))
        self._marks.add(Rectangle(pos=(x, y), size=(width, height)))

    def stroke(self, shade: look.Colour, points: Sequence[float], thick: float) -> None:
        """A line through points x, y, x, y."""
        self._marks.add(Color(*shade))
        self._marks.add(Line(points=list(points), width=max(1.0, thick / 2), cap="none", joint="miter"))

    def disc(self, shade: look.Colour, x: float, y: float, radius: float) -> None:
        """A solid circle about x, y."""
        self._marks.add(Color(*shade))
        self._marks.add(Ellipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius), segments=48))

    def ring(self, shade: look.Colour, x: float, y: float, radius: float, thick: float) -> None:
        """An open circle; `radius` is to the middle of the line."""
        self._marks.add(Color(*shade))
        self._marks.add(Line(circle=(x, y, radius), width=max(1.0, thick / 2)))

    def wedge(self, shade: look.Colour, points: Sequence[tuple[float, float]]) -> None:
        """A filled convex shape."""
        self._marks.add(Color(*shade))
        vertices = [n for x, y in points for n in (x, y, 0.0, 0.0)]
        self._marks.add(Mesh(vertices=vertices, indices=list(range(len(points))), mode="triangle_fan"))

    def words(
        self,
        text: str,
        x: float,
        y: float,
        ink: look.Colour = look.PALE,
        letters: str = look.SMALL,
        across: float = 0.5,
        up: float = 0.5,
        bold: bool = True,
        room: float = 0.0,
    ) -> tuple[float, float]:
        """Words whose share `across` and `up` of their box lies on x, y; smaller where `room` asks for it.

        They are kept inside the drawing from left to right. Answers their width and height.
        """
        written = _written(text, letters, bold, room)
        wide, high = written.size
        left = min(max(x - across * wide, self.x), max(self.x, self.right - wide))
        self._marks.add(Color(*ink))
        self._marks.add(Rectangle(texture=written, pos=(round(left), round(y - up * high)), size=(wide, high)))
        return wide, high


def width_of(text: str, letters: str = look.SMALL, bold: bool = True, room: float = 0.0) -> float:
    """How wide `Drawing.words` writes these words."""
    return float(_written(text, letters, bold, room).size[0])


def fits(text: str, room: float, letters: str = look.SMALL, bold: bool = True) -> bool:
    """Whether `Drawing.words` need not write these words smaller to keep to that room."""
    size = _pixels(letters)
    return size_for(text.replace(" ", "_"), plain_font_of(text), bold, size, room) >= size


def _written(text: str, letters: str, bold: bool, room: float) -> Any:
    font = plain_font_of(text)
    size = _pixels(letters)
    if room:
        size = size_for(text.replace(" ", "_"), font, bold, size, room)  # one line: spaces do not break it
    text = laid_out(joined(text))
    writing = Writing(text=text, font_name=font, font_size=size, bold=bold)
    if not is_plain(text):
        return in_parts(text, writing).texture
    writing.refresh()
    return writing.texture


def _pixels(letters: str) -> float:
    return float(sp(letters.removesuffix("sp")))
