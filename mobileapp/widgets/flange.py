"""A flange from above: its bolts where they sit, with their numbers, what is tight and what comes next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from kivy.metrics import mm
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, ObjectProperty

from mobileapp import look
from mobileapp.widgets.drawing import Drawing

Point = tuple[float, float]


class Flange(Drawing):
    """Draws `points` (y upwards) with `numbers`; those in `done` are struck sky, `upcoming` is yellow.

    With `placing`, a tap on the field puts a bolt there: `on_place` gives it in shares of the field, y upwards, and
    the points are taken as shares, not fitted. `backdrop` is a texture drawn behind them.
    """

    __events__ = ("on_place",)

    points = ListProperty([])
    numbers = ListProperty([])
    done = ListProperty([])
    upcoming = NumericProperty(0)
    placing = BooleanProperty(False)
    backdrop = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("size_hint_y", None)
        kwargs.setdefault("height", mm(50))
        super().__init__(**kwargs)
        for name in ("points", "numbers", "done", "upcoming", "placing", "backdrop"):
            self.fbind(name, self.redraw)

    def on_place(self, x: float, y: float) -> None:
        """A bolt was put on the field."""

    def on_touch_down(self, touch: Any) -> bool:
        """Take a tap on the field while placing; it counts as the finger lifts."""
        if self.placing and self.collide_point(*touch.pos):
            touch.ud["countback.flange"] = self
            return True
        return bool(super().on_touch_down(touch))

    def on_touch_up(self, touch: Any) -> bool:
        """Put a bolt where the finger lifted."""
        if touch.ud.get("countback.flange") is not self:
            return bool(super().on_touch_up(touch))
        if self.collide_point(*touch.pos):
            self.dispatch("on_place", (touch.x - self.x) / self.width, (touch.y - self.y) / self.height)
        return True

    def draw(self) -> None:
        """The plate, then each bolt with its number."""
        if self.width < mm(10):
            return
        self._ground()
        spots = self._spots()
        radius = min(mm(6.2), _half_gap(spots) * 0.8)
        for at, (x, y) in enumerate(spots):
            self._bolt(int(self.numbers[at]) if at < len(self.numbers) else 0, x, y, radius)

    def _ground(self) -> None:
        self.bar(look.STEEL, self.x, self.y, self.width, self.height)
        if self.backdrop is not None:
            from kivy.graphics import Color, Rectangle

            wide, high = self.backdrop.size
            scale = min(self.width / wide, self.height / high)
            size = (wide * scale, high * scale)
            self._marks.add(Color(1, 1, 1, 0.75))
            self._marks.add(Rectangle(texture=self.backdrop, size=size, pos=(
                self.center_x - size[0] / 2, self.center_y - size[1] / 2)))  # fmt: skip

    def _spots(self) -> list[Point]:
        if self.placing:
            return [(self.x + x * self.width, self.y + y * self.height) for x, y in self.points]
        return fitted([tuple(point) for point in self.points], self.pos, self.size, mm(6.5))

    def _bolt(self, number: int, x: float, y: float, radius: float) -> None:
        done, first = number in self.done, number and number == self.upcoming
        face = look.SKY if done else look.YELLOW if first else look.GROUND
        self.disc(look.PALE if first else look.EDGE, x, y, radius + mm(0.8 if first else 0.5))
        self.disc(face, x, y, radius)
        if done:
            reach = radius * 0.78
            self.stroke(look.PALE, (x - reach, y - reach * 0.55, x + reach, y + reach * 0.55), mm(0.7))
        if number:
            ink = look.PALE if face == look.GROUND else look.INK
            self.words(str(number), x, y, ink, look.KEY, room=radius * 1.5)


def fitted(points: Sequence[Any], pos: Sequence[float], size: Sequence[float], edge: float) -> list[Point]:
    """Points moved and scaled alike both ways into a box, `edge` free all round."""
    if not points:
        return []
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    low, high = min(y for _, y in points), max(y for _, y in points)
    wide, tall = size[0] - 2 * edge, size[1] - 2 * edge
    scales = [room / span for room, span in ((wide, right - left), (tall, high - low)) if span > 0]
    scale = min(scales, default=1.0)
    x0, y0 = pos[0] + size[0] / 2, pos[1] + size[1] / 2
    return [(x0 + (x - (left + right) / 2) * scale, y0 + (y - (low + high) / 2) * scale) for x, y in points]


def _half_gap(spots: Sequence[Point]) -> float:
    """Half the least distance between two bolts; large where there is only one."""
    gaps = [
        ((x1 - x2) ** 2 + (y1 - y2) ** 2) ** 0.5
        for at, (x1, y1) in enumerate(spots)
        for x2, y2 in spots[at + 1 :]
    ]
    return max(mm(1.5), min(gaps, default=mm(40)) / 2)
