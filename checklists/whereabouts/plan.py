"""A sheet's spaces, openings and passages by number, ready for any item that is missing. Built once for a sheet."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import NamedTuple

from checklists.sheet import Shape, Sheet
from checklists.ways_in import lay_in
from checklists.whereabouts.passing import ways_of


class Leg(NamedTuple):
    """One hole on the way: an opening from outside, or a passage from one space to the next."""

    name: str
    to: str
    clear: Shape | None
    way: str


class Plan:
    """The spaces numbered in the order of their ids; the holes that differ; what leads into each space and out of it.

    `holes` are (kind, long way, short way) in mm, None where the size is not known. `into` has for each opening its
    id, space, hole and leg, and `lay` its space and leg for what lay in a space itself; `onward` for each space the
    passages out of it, by hole, target and leg, in the sheet's order.
    """

    def __init__(self, sheet: Sheet) -> None:
        self.names = {space.id: space.name for space in sheet.spaces}
        self.ids = sorted(self.names)
        self.holes: list[tuple[str, float, float] | None] = []
        numbers = {space: number for number, space in enumerate(self.ids)}
        holes: dict[Shape | None, int] = {}

        def hole(clear: Shape | None) -> int:
            if clear not in holes:
                holes[clear] = len(self.holes)
                self.holes.append((clear.kind, *ways_of(clear)) if clear and clear.mm else None)
            return holes[clear]

        self.into = [
            (o.id, numbers[o.space], hole(o.clear), Leg(o.name, o.space, o.clear, "falls"))
            for o in sheet.openings
            if o.space in numbers
        ]
        self._order = {name: place for place, (name, *_) in enumerate(self.into)}
        #: By what an item that lay in a space itself is said to have come there: the space, and the only leg.
        self.lay = {
            lay_in(space): (numbers[space], Leg(f"{name}, where it was last", space, None, ""))
            for space, name in self.names.items()
        }
        self.onward: list[list[tuple[int, int, Leg]]] = [[] for _ in self.ids]
        for passage in sheet.passages:
            name = f"{self.names[passage.source]} to {self.names[passage.target]}"
            leg = Leg(name, passage.target, passage.clear, passage.way)
            self.onward[numbers[passage.source]].append((hole(passage.clear), numbers[passage.target], leg))

    def in_order(self, openings: Iterable[str]) -> list[str]:
        """These openings in the sheet's order; one that it does not have is left out."""
        order = self._order
        return sorted([opening for opening in openings if opening in order], key=order.__getitem__)

    def named(self, spaces: Iterable[int]) -> frozenset[str]:
        """The ids of these spaces."""
        return frozenset([self.ids[space] for space in spaces])

    def reached(self, openings: Collection[str]) -> frozenset[str]:
        """Every space that these openings lead to, whatever passes."""
        into = [self.into[self._order[opening]][1] for opening in openings if opening in self._order]
        into += [self.lay[way][0] for way in openings if way in self.lay]
        return self.named(flood(into, [[to for _, to, _ in out] for out in self.onward]))


def flood(start: Iterable[int], onward: list[list[int]]) -> set[int]:
    """Every space that these lead to, themselves included."""
    seen = set(start)
    waiting = list(seen)
    while waiting:
        for space in onward[waiting.pop()]:
            if space not in seen:
                seen.add(space)
                waiting.append(space)
    return seen
