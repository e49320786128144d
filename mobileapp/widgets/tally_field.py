"""The tally: an open stroke for each item out, struck when it is counted back; each by itself."""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, Line, Rectangle
from kivy.metrics import mm
from kivy.properties import BooleanProperty, NumericProperty
from kivy.uix.widget import Widget

from mobileapp import look
from mobileapp.widgets import tally_marks

_LARGEST_PITCH_MM = 3.6


class TallyField(Widget):
    """Draws `out` strokes, the first `back` of them struck, and a stub for each of `to_come`.

    `plain` is for a blind count: solid bone bars that say how many were counted and nothing else.
    """

    out = NumericProperty(0)
    back = NumericProperty(0)
    to_come = NumericProperty(0)
    plain = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._marks = InstructionGroup()
        self.canvas.add(self._marks)
        redraw = Clock.create_trigger(self._draw, -1)
        for name in ("out", "back", "to_come", "plain", "pos", "size"):
            self.fbind(name, redraw)
        redraw()

    def _draw(self, *_: object) -> None:
        self._marks.clear()
        out, back = int(self.out), int(min(self.back, self.out))
        places = tally_marks.strokes(
            out + int(self.to_come), self.x, self.y, self.width, self.height, mm(_LARGEST_PITCH_MM)
        )
        self._draw_struck(places[:back])
        self._draw_open(places[back:out])
        self._draw_stubs(places[out:])

    def _draw_struck(self, places: list[tally_marks.Stroke]) -> None:
        self._marks.add(Color(*look.SKY))
        for place in places:
            self._marks.add(Rectangle(pos=place[:2], size=place[2:4], group="struck"))
        self._strike(places, look.GROUND, 0.55, "gap")
        self._strike(places, look.PALE, 0.26, "strike")

    def _strike(
        self, places: list[tally_marks.Stroke], shade: look.Colour, thick: float, group: str
    ) -> None:
        self._marks.add(Color(*shade))
        for place in places:
            line = Line(points=place.strike, width=place.width * thick, cap="none", group=group)
            self._marks.add(line)

    def _draw_open(self, places: list[tally_marks.Stroke]) -> None:
        self._marks.add(Color(*(look.BONE if self.plain else look.ORANGE)))
        for place in places:
            if self.plain:
                self._marks.add(Rectangle(pos=place[:2], size=place[2:4], group="open"))
            else:
                self._marks.add(_hollow(place))

    def _draw_stubs(self, places: list[tally_marks.Stroke]) -> None:
        self._marks.add(Color(*look.EDGE))
        for place in places:
            size = (place.width, place.height * 0.14)
            self._marks.add(Rectangle(pos=place[:2], size=size, group="stub"))


def _hollow(place: tally_marks.Stroke) -> Line:
    thick = max(1.0, place.width * 0.3)
    half = thick / 2
    corner = (place.x + half, place.y + half)
    return Line(
        rectangle=(*corner, place.width - thick, place.height - thick),
        width=half,
        joint="miter",
        group="open",
    )
