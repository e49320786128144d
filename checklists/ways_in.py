"""Which spaces a closure answers for: those it seals, and those an item could reach from there."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from checklists.sheet import ItemSize, Sheet

if TYPE_CHECKING:
    from checklists.whereabouts.migration import Ways
    from checklists.whereabouts.plan import Plan

#: How a space is named among the ways in where an item lay there itself: no opening had to let it in.
_LAY_IN = "in/"


def lay_in(space: str) -> str:
    """The way in of what was last known to lie in that space, beside the openings by their ids."""
    return f"{_LAY_IN}{space}"


class WaysIn:
    """The sheet's spaces, openings and passages as look-ups. Built once for each form of the sheet."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._plan: Plan | None = None
        self._for_shape: dict[ItemSize | None, Ways] = {}
        self._onward: dict[str, list[str]] = {}
        for passage in sheet.passages:
            self._onward.setdefault(passage.source, []).append(passage.target)
        self.from_space = {space.id: self._reach(space.id) for space in sheet.spaces}
        self.from_opening = {o.id: self.from_space.get(o.space, frozenset()) for o in sheet.openings}
        self.openings_of = {c.id: tuple(o.id for o in sheet.openings if o.closure == c.id) for c in sheet.closures}
        self.sealed_by = {c: self.union(openings) for c, openings in self.openings_of.items()}

    def for_shape(self, shape: ItemSize | None) -> Ways:
        """The ways as an item of that shape finds them, worked out once; None for one whose shape is not known."""
        ways = self._for_shape.get(shape)
        if ways is None:
            from checklists.whereabouts.items import body_of  # needed only once something is missing
            from checklists.whereabouts.migration import Ways
            from checklists.whereabouts.plan import Plan

            self._plan = self._plan or Plan(self._sheet)
            ways = self._for_shape[shape] = Ways(self._plan, body_of(shape) if shape else None)
        return ways

    @classmethod
    def empty(cls) -> WaysIn:
        """The look-ups of a sheet on which nothing is written yet."""
        return cls(Sheet("", ""))

    def _reach(self, start: str) -> frozenset[str]:
        seen, waiting = {start}, [start]
        while waiting:
            fresh = [space for space in self._onward.get(waiting.pop(), ()) if space not in seen]
            seen.update(fresh)
            waiting += fresh
        return frozenset(seen)

    def union(self, openings: Iterable[str]) -> frozenset[str]:
        """Every space that can be reached through any of these openings."""
        return frozenset().union(*(self.from_opening[opening] for opening in openings))
