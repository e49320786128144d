"""Where tally strokes stand: groups of five in rows, as large as the box allows. Plain numbers, no Kivy."""

from __future__ import annotations

from typing import NamedTuple

FIVE = 5
# In pitches: from one bar's left edge to the next one's.
_BAR, _HIGH, _BETWEEN_GROUPS, _BETWEEN_ROWS = 0.5, 3.6, 1.1, 0.9
_GROUP = FIVE - 1 + _BAR
_STRIKE_LOW, _STRIKE_HIGH, _STRIKE_OUT = 0.36, 0.64, 0.2


class Stroke(NamedTuple):
    """One item's bar and the stroke that strikes it, in pixels."""

    x: float
    y: float
    width: float
    height: float
    strike: tuple[float, float, float, float]


def pitch_that_fits(count: int, width: float, height: float, largest: float) -> float:
    """The largest pitch, up to `largest`, at which `count` strokes fit the box."""
    if count < 1 or width <= 0 or height <= 0:
        return 0.0
    pitch = largest
    while pitch > 0.5 and _rows(count, width, pitch) * _row_height(pitch) - _BETWEEN_ROWS * pitch > height:
        pitch *= 0.96
    return pitch


def _row_height(pitch: float) -> float:
    return (_HIGH + _BETWEEN_ROWS) * pitch


def _groups_in_row(width: float, pitch: float) -> int:
    return max(0, int((width / pitch + _BETWEEN_GROUPS) / (_GROUP + _BETWEEN_GROUPS)))


def _rows(count: int, width: float, pitch: float) -> float:
    fitting = _groups_in_row(width, pitch)
    groups = -(-count // FIVE)
    return -(-groups // fitting) if fitting else float("inf")


def strokes(count: int, x: float, y: float, width: float, height: float, largest: float) -> list[Stroke]:
    """`count` strokes, from the top left of the box, row by row."""
    pitch = pitch_that_fits(count, width, height, largest)
    if not pitch:
        return []
    in_row = max(1, _groups_in_row(width, pitch))
    return [_stroke(number, x, y + height, pitch, in_row) for number in range(count)]


def _stroke(number: int, x: float, top: float, pitch: float, in_row: int) -> Stroke:
    group, place = divmod(number, FIVE)
    row, column = divmod(group, in_row)
    left = x + column * (_GROUP + _BETWEEN_GROUPS) * pitch
    low = top - row * _row_height(pitch) - _HIGH * pitch
    bar_x = left + place * pitch
    return Stroke(bar_x, low, _BAR * pitch, _HIGH * pitch, _strike(bar_x, low, pitch))


def _strike(bar_x: float, low: float, pitch: float) -> tuple[float, float, float, float]:
    """A short slanting stroke through this bar alone: one line through four bars would be read as a fifth item."""
    return (
        bar_x - _STRIKE_OUT * pitch,
        low + _STRIKE_LOW * _HIGH * pitch,
        bar_x + (_BAR + _STRIKE_OUT) * pitch,
        low + _STRIKE_HIGH * _HIGH * pitch,
    )
