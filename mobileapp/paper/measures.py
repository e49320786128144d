"""Sizes on paper: millimetres for places, points for letters. Small text is 7.5 points, the least that reads well."""

from __future__ import annotations

from typing import NamedTuple

#: One point in millimetres.
POINT = 25.4 / 72
#: From one line of text to the next, in parts of the letters' size; and from a line's top to its baseline.
LEADING, ASCENT = 1.34, 1.0

STATE, MACHINE, TITLE, HEADING, BODY, CELL, CAPTION, FOOT = 62.0, 17.0, 14.0, 10.5, 9.5, 8.5, 7.5, 6.5
LOUD = 13.0
MARGIN = 16.0
HEAD_ROOM, FOOT_ROOM = 9.0, 11.0
GAP = 6.0


class PaperSize(NamedTuple):
    """A sheet of paper, upright."""

    name: str
    width: float
    height: float

    @property
    def inner(self) -> float:
        """The width of what is printed."""
        return self.width - 2 * MARGIN

    @property
    def top(self) -> float:
        """Where the text begins."""
        return MARGIN + HEAD_ROOM

    @property
    def bottom(self) -> float:
        """Where the text must end."""
        return self.height - MARGIN - FOOT_ROOM + 4


SIZES = {size.name: size for size in (PaperSize("A4", 210.0, 297.0), PaperSize("Letter", 215.9, 279.4))}


def line_height(points: float) -> float:
    """From one line of text to the next, in mm."""
    return points * POINT * LEADING
