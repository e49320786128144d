"""The sizes of a simple body as people type them: "8 x 30 mm", "1/4 in", or one by one on a command line."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import ROUND_FLOOR, Decimal

from checklists.sheet_fault import shown
from checklists.workshop.units import MM, Figure, NotUnderstood, Unit, read_figure, unit_named

#: A size is cut off here, never rounded up: an item taken for larger than it is could be ruled out falsely.
_STEP = Decimal("0.0001")
_MOST = 100_000


def sizes_typed(words: Sequence[str]) -> tuple[Decimal, ...] | str:
    """The sizes in mm; else why they cannot be read. A unit at the end is that of all before it that have none."""
    sizes = _apart(words)
    if not sizes:
        return "No size is said."
    last = read_figure(sizes[-1], "length")
    unit = last.unit if isinstance(last, Figure) else MM
    read: list[Decimal] = []
    for size in sizes:
        mm = _millimetres(size, unit)
        if isinstance(mm, str):
            return mm
        read.append(mm)
    return tuple(read)


def _apart(words: Sequence[str]) -> list[str]:
    """The sizes one by one; a unit that stands for itself belongs to the one before it."""
    sizes: list[str] = []
    for size in [each.strip() for word in words for each in re.split("[x×✕✖⨯*]", word)]:
        if size and sizes and unit_named(size) and not size[0].isdigit():
            sizes[-1] += f" {size}"
        elif size:
            sizes.append(size)
    return sizes


def _millimetres(text: str, unit: Unit) -> Decimal | str:
    figure = read_figure(text, "length", default=unit)
    if isinstance(figure, NotUnderstood):
        return figure.words
    if figure.number > 0 and "/" in figure.text and figure.unit == MM:
        return f"{shown(text)} can hardly be in mm; write it like {text.removesuffix('mm').strip()} in."
    if figure.si > _MOST:
        return f"{shown(text)} is not a size of this world."
    mm = Decimal(figure.si.numerator) / Decimal(figure.si.denominator)
    cut = Decimal(f"{mm.quantize(_STEP, ROUND_FLOOR).normalize():f}")
    return cut if cut > 0 else "A size is more than 0 mm."
