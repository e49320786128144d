"""Tally strokes on paper, in fives: each item out is a stroke, full when it is back and hollow while it is away.

On the screen an item back is struck. In black on black that would not show, and a line through four strokes would read
as a fifth.
"""

from __future__ import annotations

from math import ceil

from checklists.account.parts import Marks
from mobileapp.paper.ink import Bar, Frame, Ink

_FIVE = 5
#: In mm at a scale of 1: from bar to bar, a bar's width and height, between groups, between rows.
_PITCH, _BAR, _HIGH, _APART, _ROW = 1.2, 0.6, 3.2, 1.3, 4.2
#: More strokes than this say nothing that the figure does not say better.
MOST = 60


def strokes(marks: Marks, width: float, scale: float = 1.0, most: int = MOST) -> tuple[float, list[Ink]]:
    """The height they take within `width` mm, and the strokes; those back come first."""
    count = min(marks.out, most)
    group = ((_FIVE - 1) * _PITCH + _BAR + _APART) * scale
    in_row = max(1, int((width + _APART * scale) / group))
    inks: list[Ink] = []
    for number in range(count):
        row, column = divmod(number // _FIVE, in_row)
        left, top = column * group, row * _ROW * scale
        inks += _stroke(left, top, number % _FIVE, number >= marks.out - marks.away, scale)
    rows = ceil(ceil(count / _FIVE) / in_row)
    return rows * _ROW * scale, inks


def _stroke(left: float, top: float, place: int, away: bool, scale: float) -> list[Ink]:
    x = left + place * _PITCH * scale
    if away:
        return [Frame(x, top, _BAR * scale, _HIGH * scale, 0.1)]
    return [Bar(x, top, _BAR * scale, _HIGH * scale)]
