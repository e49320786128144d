"""A ball as large as it is, beside a rule of ten millimetres to hold a real one against."""

from __future__ import annotations

from typing import Any

from kivy.metrics import mm, sp

from mobileapp import look
from mobileapp.widgets.drawing import Drawing


class Ball(Drawing):
    """A ball of `diameter` mm, true to size by what the phone says of its screen; between `least` and `most` of it."""

    def __init__(self, diameter: float, least: float = 0.0, most: float = 0.0, **kwargs: Any) -> None:
        self.diameter, self.least, self.most = diameter, least, most
        kwargs.setdefault("size_hint_y", None)
        super().__init__(**kwargs)
        self.height = max(mm(min(60.0, max(diameter, most))) + mm(4), sp(19) * 2 + mm(8))

    def draw(self) -> None:
        """The ball, its largest outline, its figure, the rule."""
        widest = max(self.diameter, self.most, 0.3)
        if mm(widest) + mm(20) > self.width:
            self.words("Larger than this screen.", self.x, self.center_y, across=0, room=self.width)
            return
        x, y = self.x + mm(2 + widest / 2), self.center_y
        self.disc(look.YELLOW, x, y, mm(self.diameter) / 2)
        if self.most > self.diameter:
            self.ring(look.EDGE, x, y, mm(self.most) / 2, mm(0.3))
        right = x + mm(widest / 2 + 4)
        said = f"{self.diameter:.1f} mm"
        self.words(said, right, y + mm(1), look.YELLOW, look.HEADING, across=0, up=0)
        self._rule(right, y - mm(3))

    def _rule(self, x: float, y: float) -> None:
        self.stroke(look.PALE, (x, y, x + mm(10), y), mm(0.5))
        for at in (0, 5, 10):
            self.stroke(look.PALE, (x + mm(at), y - mm(1.5), x + mm(at), y + mm(1.5)), mm(0.4))
        self.words("10 mm", x + mm(12), y, look.DIM, across=0, bold=False)
