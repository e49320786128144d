"""Photos two by two, each with its number, its caption and the first figures of its hash below it."""

from __future__ import annotations

from collections.abc import Callable

from checklists.account.parts import Picture, Pictures
from mobileapp.paper.ink import Frame, Ink, Photo, Rule, Slab, Text
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import ASCENT, BODY, CAPTION, CELL, GAP, POINT, line_height
from mobileapp.paper.pictures import NotShown, Prepared

#: What is shown for a photo: its size in pixels, or why it is not shown.
Shown = Callable[[str], Prepared | NotShown]

_HIGHEST = 72.0
_EMPTY = 26.0


def photo_slabs(letters: Letters, block: Pictures, width: float, shown: Shown) -> list[Slab]:
    """A slab for every two photos."""
    wide = (width - GAP) / 2
    slabs = []
    for at in range(0, len(block.pictures), 2):
        cells = [_cell(letters, picture, wide, number * (wide + GAP), shown)
                 for number, picture in enumerate(block.pictures[at : at + 2])]  # fmt: skip
        slabs.append(Slab(max(height for height, _ in cells) + 4, [ink for _, inks in cells for ink in inks]))
    return slabs


def _cell(letters: Letters, picture: Picture, wide: float, x: float, shown: Shown) -> tuple[float, list[Ink]]:
    pictured = shown(picture.sha) if picture.kept else NotShown("No photo.")
    if isinstance(pictured, Prepared):
        scale = min(wide / pictured.width, _HIGHEST / pictured.height)
        width, high = pictured.width * scale, pictured.height * scale
        inks: list[Ink] = [Photo(x, 2, width, high, picture.sha), Frame(x, 2, width, high, 0.15)]
    else:
        high = _EMPTY
        inks = _empty(letters, pictured.words, wide, x)
    top = 2 + high + 1.2
    remark = pictured.remark if isinstance(pictured, Prepared) else ""
    for text, size, bold in _caption(picture, remark):
        lines = letters.lines(text, size, wide, bold)
        inks += [Text(x, top + number * line_height(size) + size * POINT * ASCENT, line, size, bold)
                 for number, line in enumerate(lines)]  # fmt: skip
        top += len(lines) * line_height(size)
    return top, inks


def _caption(picture: Picture, remark: str) -> list[tuple[str, float, bool]]:
    title = f"Photo {picture.number}. {picture.title}"
    odd = [f"Its file holds {remark}. It is shown as it came."] if remark else []
    return [(title, CELL, True), *((line, CAPTION, False) for line in [*picture.lines, *odd])]


def _empty(letters: Letters, words: str, wide: float, x: float) -> list[Ink]:
    """In place of a photo: a crossed box and why."""
    inks: list[Ink] = [Frame(x, 2, wide, _EMPTY, 0.3, 2.0), Rule(x, 2, x + 8, 10, 0.3), Rule(x + 8, 2, x, 10, 0.3)]
    lines = letters.lines(words, BODY, wide - 16, True)
    return inks + [Text(x + 12, 6 + number * line_height(BODY) + BODY * POINT, line, BODY, True)
                   for number, line in enumerate(lines)]  # fmt: skip
