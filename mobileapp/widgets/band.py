"""A band on a scale: what is allowed or plausible, and where a figure lies against it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kivy.metrics import mm, sp

from mobileapp import look
from mobileapp.widgets.drawing import Drawing, width_of

_BAR_MM, _MARK_MM = 9, 4
_ROOM = 0.22  # of the band's width, kept free beyond what is shown at each end


@dataclass(frozen=True, slots=True)
class Scale:
    """What a band shows, in one unit. None where there is no such end; `guard` is the width of the guard bands.

    `figure` is the mark, from `figure[0]` to `figure[1]` (equal for one number), `spread` its uncertainty either way.
    `usual` is a tick inside the band. The texts stand at the ends and at the mark.
    """

    low: float | None
    high: float | None
    low_text: str
    high_text: str
    figure: tuple[float, float]
    figure_text: str
    spread: float = 0.0
    guard: float = 0.0
    usual: float | None = None
    usual_text: str = ""


class Band(Drawing):
    """The allowed stretch in sky, guard bands hatched across its ends, the figure as a yellow mark above."""

    def __init__(self, scale: Scale, **kwargs: Any) -> None:
        self.scale = scale
        kwargs.setdefault("size_hint_y", None)
        super().__init__(**kwargs)
        self.height = sp(19) * 3.4 + mm(_BAR_MM + _MARK_MM + 1.6)

    def draw(self) -> None:
        """The bar, its ends in words, then the mark."""
        if self.width < mm(10):
            return
        low, high = reach(self.scale)
        edge = mm(2)

        def at(value: float) -> float:
            share = (value - low) / (high - low)
            return float(self.x + edge + min(1.0, max(0.0, share)) * (self.width - 2 * edge))

        foot = self.y + sp(19) * 1.5
        self._bar(at, low, high, foot)
        self._ends(at, foot)
        self._mark(at, foot + mm(_BAR_MM))

    def _bar(self, at: Any, low: float, high: float, foot: float) -> None:
        scale, tall = self.scale, mm(_BAR_MM)
        self.bar(look.STEEL, at(low), foot, at(high) - at(low), tall)
        left = at(low if scale.low is None else scale.low)
        right = at(high if scale.high is None else scale.high)
        self.bar(look.SKY, left, foot, right - left, tall)
        if scale.usual is not None:
            self.bar(look.INK, at(scale.usual) - mm(0.4), foot, mm(0.8), tall)
        for start, end in guarded(scale):
            self._hatch(at(start), at(end), foot, tall)
        for end in (scale.low, scale.high):
            if end is not None:
                self.bar(look.PALE, at(end) - mm(0.4), foot - mm(1.2), mm(0.8), tall + mm(2.4))

    def _hatch(self, left: float, right: float, foot: float, tall: float) -> None:
        """The guard band: nothing is said of what lies here."""
        self.bar(look.GROUND, left, foot, right - left, tall)
        step, x = mm(1.6), left
        while x < right:
            end = min(right, x + tall / 2)
            self.stroke(look.YELLOW, (x, foot, end, foot + (end - x) * 2), mm(0.5))
            x += step
        self.stroke(look.YELLOW, (left, foot, right, foot), mm(0.4))
        self.stroke(look.YELLOW, (left, foot + tall, right, foot + tall), mm(0.4))

    def _ends(self, at: Any, foot: float) -> None:
        scale, below = self.scale, foot - mm(1.8)
        half = self.width / 2 - mm(2)
        if scale.low is not None and scale.high is not None:
            wide = [width_of(text, room=half) for text in (scale.low_text, scale.high_text)]
            left, right = apart((at(scale.low), at(scale.high)), (wide[0], wide[1]), (self.x, self.right), mm(3))
            self.words(scale.low_text, left, below, across=0, up=1, room=half)
            self.words(scale.high_text, right, below, across=0, up=1, room=half)
        elif scale.low is not None:
            self.words(scale.low_text, at(scale.low), below, up=1, room=half)
        elif scale.high is not None:
            self.words(scale.high_text, at(scale.high), below, up=1, room=half)

    def _mark(self, at: Any, top: float) -> None:
        scale = self.scale
        first, last = scale.figure
        tip, tall = top + mm(0.6), mm(_MARK_MM)
        if scale.spread:
            left, right = at(first - scale.spread), at(last + scale.spread)
            self.stroke(look.YELLOW, (left, tip + tall * 0.35, right, tip + tall * 0.35), mm(0.9))
            for x in (left, right):
                self.bar(look.YELLOW, x - mm(0.4), tip - mm(0.2), mm(0.8), tall * 0.8)
        elif last > first:
            self.bar(look.YELLOW, at(first), tip, at(last) - at(first), mm(1.2))
            tip += mm(1.6)
        x = at((first + last) / 2)
        self.wedge(look.YELLOW, [(x, tip - mm(0.4)), (x + mm(2), tip + tall), (x - mm(2), tip + tall)])
        self.words(scale.figure_text, x, tip + tall + mm(0.6), look.YELLOW, look.BODY, up=0, room=self.width)


def guarded(scale: Scale) -> list[tuple[float, float]]:
    """From where to where the guard bands reach; two that overlap are one."""
    bands = [(end - scale.guard, end + scale.guard) for end in (scale.low, scale.high) if end is not None]
    if not scale.guard:
        return []
    return [(bands[0][0], bands[1][1])] if len(bands) == 2 and bands[1][0] <= bands[0][1] else bands


def apart(
    ends: tuple[float, float], wide: tuple[float, float], within: tuple[float, float], gap: float
) -> tuple[float, float]:
    """Where the words at both ends begin: at their ends, or side by side where these are too close together."""
    first, second = ends[0] - 0.35 * wide[0], ends[1] - 0.65 * wide[1]
    first, second = max(first, within[0]), min(second, within[1] - wide[1])
    if first + wide[0] + gap <= second:
        return first, second
    middle = min(max(sum(ends) / 2, within[0] + wide[0] + gap / 2), within[1] - wide[1] - gap / 2)
    return middle - gap / 2 - wide[0], middle + gap / 2


def reach(scale: Scale) -> tuple[float, float]:
    """From where to where the drawing runs: everything in it and some room beyond, never of no width."""
    shown = [scale.figure[0] - scale.spread, scale.figure[1] + scale.spread]
    for end in (scale.low, scale.high):
        shown += [] if end is None else [end - scale.guard, end + scale.guard]
    low, high = min(shown), max(shown)
    room = _ROOM * (high - low) or abs(low) / 10 or 1.0
    return low - room, high + room
