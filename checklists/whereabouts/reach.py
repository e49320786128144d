"""Which spaces an item of one shape could get to by which openings, worked out once for a sheet."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.sheet import ItemSize, Shape, Sheet
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.passing import CANNOT_PASS, standing


def body_of(size: ItemSize) -> ItemShape:
    """The body that a sheet's shape stands for."""
    return ItemShape(size.kind, tuple(map(float, size.mm)))


class Reach:
    """What an item of one shape can pass on a sheet, worked out once."""

    def __init__(self, sheet: Sheet, size: ItemSize) -> None:
        body = body_of(size)

        def passes(clear: Shape | None) -> bool:
            return clear is None or standing(body, clear)[0] != CANNOT_PASS

        self._onward: dict[str, list[str]] = {}
        for passage in sheet.passages:
            if passes(passage.clear):
                self._onward.setdefault(passage.source, []).append(passage.target)
        self._into = {o.id: o.space for o in sheet.openings if passes(o.clear)}

    def by(self, openings: Iterable[str]) -> frozenset[str]:
        """Every space that the item could reach by any of these openings."""
        seen = {self._into[opening] for opening in openings if opening in self._into}
        waiting = list(seen)
        while waiting:
            fresh = {space for space in self._onward.get(waiting.pop(), ()) if space not in seen}
            seen |= fresh
            waiting += fresh
        return frozenset(seen)
