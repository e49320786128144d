"""Which spaces an item of one shape could get to by each opening, worked out once for a sheet."""

from __future__ import annotations

from collections.abc import Mapping

from checklists.sheet import ItemSize, Passage, Shape, Sheet
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.passing import CANNOT_PASS, verdict


def body_of(size: ItemSize) -> ItemShape:
    """The body that a sheet's shape stands for."""
    return ItemShape(size.kind, tuple(map(float, size.mm)))


def reach_of(sheet: Sheet, size: ItemSize) -> Mapping[str, frozenset[str]]:
    """For each opening the spaces that the item could reach by it: none where it cannot pass that."""
    body = body_of(size)
    fits: dict[Shape | None, bool] = {}

    def passes(clear: Shape | None) -> bool:
        if clear not in fits:
            fits[clear] = verdict(body, clear) != CANNOT_PASS
        return fits[clear]

    onward: dict[str, list[Passage]] = {}
    for passage in sheet.passages:
        if passes(passage.clear):
            onward.setdefault(passage.source, []).append(passage)
    nothing: frozenset[str] = frozenset()
    within = {space: _from(space, onward) for space in {o.space for o in sheet.openings if passes(o.clear)}}
    return {o.id: within[o.space] if passes(o.clear) else nothing for o in sheet.openings}


def _from(start: str, onward: Mapping[str, list[Passage]]) -> frozenset[str]:
    seen, waiting = {start}, [start]
    while waiting:
        fresh = [p.target for p in onward.get(waiting.pop(), ()) if p.target not in seen]
        seen.update(fresh)
        waiting += fresh
    return frozenset(seen)
