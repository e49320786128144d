"""Tally strokes on paper: each item out is a stroke, and struck when it is back; what is away is hollow."""

from __future__ import annotations

from math import ceil

from checklists.account.parts import Marks
from mobileapp.paper.ink import Bar, Frame, Ink, Rule

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
    return [Bar(x, top, _BAR * scale, _HIGH * scale), _strike(left, top, place, scale)]


def _strike(left: float, top: float, place: int, scale: float) -> Rule:
    """This bar's fifth of the slanting line that crosses all five."""
    start, span = left - 0.35 * scale, ((_FIVE - 1) * _PITCH + _BAR + 0.7) * scale

    def at(share: float) -> tuple[float, float]:
        return start + span * share, top + (0.78 - 0.56 * share) * _HIGH * scale

    return Rule(*at(place / _FIVE), *at((place + 1) / _FIVE), 0.35 * scale)
