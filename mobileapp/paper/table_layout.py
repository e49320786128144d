"""Tables: columns by shares, cells broken into lines, heads said again on every page, long cells cut between pages."""

from __future__ import annotations

from itertools import zip_longest

from checklists.account.parts import Cell, Marks, Table
from mobileapp.paper.ink import Ink, Rule, Slab, Text, moved
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import ASCENT, CAPTION, CELL, POINT, line_height
from mobileapp.paper.tally_strokes import strokes

#: A cell with more lines than this goes on in a further row.
MOST_LINES = 30
_PAD, _BETWEEN = 1.0, 2.5


def table_slabs(letters: Letters, table: Table, width: float) -> list[Slab]:
    """A slab for the heads and one or more for every row."""
    columns = _columns(table.shares, width)
    head = _head(letters, table.heads, columns, width)
    slabs = [head]
    for row in table.rows:
        slabs += _row(letters, row, columns, width, head)
    slabs[-1].height += 2.5
    return slabs


def _columns(shares: tuple[int, ...], width: float) -> list[tuple[float, float]]:
    """Each column's left edge and the width of its text."""
    whole, left, columns = sum(shares), 0.0, []
    for share in shares:
        wide = width * share / whole
        columns.append((left, wide - _BETWEEN))
        left += wide
    return columns


def _head(letters: Letters, heads: tuple[str, ...], columns: list[tuple[float, float]], width: float) -> Slab:
    cells = [letters.lines(head, CAPTION, wide, True) for head, (_, wide) in zip(heads, columns, strict=True)]
    most = max(map(len, cells))
    inks = [ink for lines, (x, _) in zip(cells, columns, strict=True) for ink in _text(lines, x, CAPTION, True)]
    height = most * line_height(CAPTION) + 2 * _PAD
    return Slab(height, [*inks, Rule(0, height, width, height, 0.4)], keep=True)


def _text(lines: list[str], x: float, size: float, bold: bool = False) -> list[Ink]:
    step = line_height(size)
    return [Text(x, _PAD + number * step + size * POINT * ASCENT, line, size, bold)
            for number, line in enumerate(lines) if line]  # fmt: skip


def _row(
    letters: Letters, row: tuple[Cell, ...], columns: list[tuple[float, float]], width: float, head: Slab
) -> list[Slab]:
    if any(isinstance(cell, Marks) for cell in row):
        return [_short_row(letters, row, columns, width, head)]
    cells = [letters.lines(str(cell), CELL, wide) for cell, (_, wide) in zip(row, columns, strict=True)]
    pieces = zip_longest(*([lines[at : at + MOST_LINES] for at in range(0, len(lines), MOST_LINES)] for lines in cells),
                         fillvalue=[])  # fmt: skip
    slabs = []
    for piece in pieces:
        inks = [ink for lines, (x, _) in zip(piece, columns, strict=True) for ink in _text(lines, x, CELL)]
        slabs.append(_ruled(inks, max(map(len, piece)) * line_height(CELL), width, head))
    return slabs


def _short_row(
    letters: Letters, row: tuple[Cell, ...], columns: list[tuple[float, float]], width: float, head: Slab
) -> Slab:
    """A row with tally strokes in it; such rows are never long enough to be cut."""
    inks: list[Ink] = []
    most = 0.0
    for cell, (x, wide) in zip(row, columns, strict=True):
        if isinstance(cell, Marks):
            height, drawn = strokes(cell, wide)
            inks += [moved(ink, x, _PAD) for ink in drawn]
        else:
            lines = letters.lines(cell, CELL, wide)[:MOST_LINES]
            height = len(lines) * line_height(CELL)
            inks += _text(lines, x, CELL)
        most = max(most, height)
    return _ruled(inks, most, width, head)


def _ruled(inks: list[Ink], height: float, width: float, head: Slab) -> Slab:
    whole = height + 2 * _PAD
    return Slab(whole, [*inks, Rule(0, whole, width, whole, 0.12, 0.35)], head=head)
