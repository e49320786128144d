"""Slabs onto pages: none is cut, a heading never stands last, and a table's heads are said again on every page."""

from __future__ import annotations

from collections.abc import Iterable

from mobileapp.paper.ink import Ink, Slab, moved
from mobileapp.paper.measures import MARGIN, PaperSize

Page = list[Ink]


def onto_pages(slabs: Iterable[Slab], paper: PaperSize) -> list[Page]:
    """The pages that these slabs fill, in order."""
    pages: list[Page] = [[]]
    y = MARGIN  # no running head on the first page
    for group in _groups(slabs):
        height = sum(slab.height for slab in group)
        if pages[-1] and y + height > paper.bottom:
            pages.append([])
            y = paper.top
            if head := group[0].head:
                y = _place(pages[-1], head, y)
        for slab in group:
            y = _place(pages[-1], slab, y)
    return pages


def _groups(slabs: Iterable[Slab]) -> Iterable[list[Slab]]:
    """Slabs that stay on one page: each that must not stand last goes with the one after it."""
    group: list[Slab] = []
    for slab in slabs:
        group.append(slab)
        if not slab.keep:
            yield group
            group = []
    if group:
        yield group


def _place(page: Page, slab: Slab, y: float) -> float:
    page += [moved(ink, MARGIN, y) for ink in slab.inks]
    return y + slab.height
