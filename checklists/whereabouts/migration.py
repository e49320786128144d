"""Every space a missing item could have reached, the widest way to each, and the order in which to look.

An item comes in by an opening that stood uncovered in the window (from its last confirmed sighting to its
discovery) and goes on along inner passages, each one way and with its own clear size. The widest way to a space
is the one whose tightest place is the least tight.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from checklists.sheet import Opening, Passage, Shape, Sheet
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.passing import CANNOT_PASS, MIGHT_PASS, PASSES, tightness, verdict

_RANK = {PASSES: 0, MIGHT_PASS: 1, CANNOT_PASS: 2}
_WORDS = {rank: word for word, rank in _RANK.items()}
_NEVER = (9, 0.0)
#: What is not measured is taken to be neither wide nor tight.
_UNKNOWN_TIGHTNESS = 1.0


@dataclass(frozen=True, slots=True)
class Leg:
    """One hole on the way: an opening from outside, or a passage from one space to the next."""

    name: str
    to: str
    clear: Shape | None
    way: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """A space the item could be in: by which way, how surely it passes, and how long it could have entered.

    `tightness` is that of the tightest place on the way (at 1 it just fits). `exposed` is in seconds, of the
    opening it came by.
    """

    space: str
    verdict: str
    path: tuple[Leg, ...]
    tightness: float
    exposed: float


@dataclass(frozen=True, slots=True)
class RuledOut:
    """A space the item cannot be in, and why."""

    space: str
    why: str


Standing = tuple[int, float]
#: A leg on the way to a space, and the space it comes from ("" for outside).
Step = tuple[Leg, str]


def candidates(sheet: Sheet, item: ItemShape | None, exposed: Mapping[str, float]) -> tuple[Candidate, ...]:
    """The spaces `item` could be in, most likely first. With no shape (None) everything might pass.

    `exposed` says for each opening how many seconds it stood uncovered in the window; one that did not is left out. A
    spell of no length on the clock still counts: give it a small number.
    """
    ways = _Ways(sheet, item)
    found: dict[str, Candidate] = {}
    for rank in (_RANK[PASSES], _RANK[MIGHT_PASS]):
        for candidate in _at_best(ways, sheet, exposed, rank):
            found.setdefault(candidate.space, candidate)
    return tuple(sorted(found.values(), key=_order))


def _at_best(ways: _Ways, sheet: Sheet, exposed: Mapping[str, float], rank: int) -> Iterator[Candidate]:
    """Each space by what passes no worse than `rank`, from the opening that stood open longest.

    Openings alike in exposure go together. A space that one reaches is done for those after it: whatever leads on from
    there was reached with it.
    """
    done: set[str] = set()
    open_long: dict[float, list[Opening]] = {}
    for opening in sheet.openings:
        if exposed.get(opening.id, 0.0) > 0:
            open_long.setdefault(exposed[opening.id], []).append(opening)
    for seconds in sorted(open_long, reverse=True):
        yield from ways.onward(open_long[seconds], seconds, rank, done)


def _order(candidate: Candidate) -> tuple[int, float, float, str]:
    """What surely passes first, then the longest exposed, then the widest way."""
    return (_RANK[candidate.verdict], -candidate.exposed, candidate.tightness, candidate.space)


class _Ways:
    """The inner passages as a graph, with what the item finds at each."""

    def __init__(self, sheet: Sheet, item: ItemShape | None) -> None:
        self._item = item
        self._standing: dict[Shape | None, Standing] = {}
        self._out: dict[str, list[tuple[Passage, Standing]]] = {}
        for passage in sheet.passages:
            self._out.setdefault(passage.source, []).append((passage, self._stands(passage.clear)))
        self._names = {space.id: space.name for space in sheet.spaces}

    def onward(self, openings: Iterable[Opening], seconds: float, rank: int, done: set[str]) -> Iterator[Candidate]:
        """Every space not yet done that these openings lead to, by its widest way, no leg worse than `rank`."""
        legs: dict[str, Step] = {}
        best: dict[str, Standing] = {}
        for opening in openings:
            start = self._stands(opening.clear)
            if start[0] <= rank and opening.space not in done and start < best.get(opening.space, _NEVER):
                best[opening.space] = start
                legs[opening.space] = Leg(opening.name, opening.space, opening.clear, "falls"), ""
        waiting = [(*standing, space) for space, standing in best.items()]
        heapq.heapify(waiting)
        while waiting:
            *_, space = heapq.heappop(waiting)
            if space not in done:
                done.add(space)
                yield self._candidate(space, best[space], legs, seconds)
                for passage in self._go_on(space, rank, done, best, legs):
                    heapq.heappush(waiting, (*best[passage.target], passage.target))

    def _go_on(
        self, space: str, rank: int, done: set[str], best: dict[str, Standing], legs: dict[str, Step]
    ) -> Iterator[Passage]:
        """The passages out of a space that are a wider way to where they lead than any known."""
        for passage, standing in self._out.get(space, ()):
            if standing[0] > rank or passage.target in done:
                continue
            there = max(best[space], standing)
            if there < best.get(passage.target, _NEVER):
                best[passage.target] = there
                name = f"{self._names[space]} to {self._names[passage.target]}"
                legs[passage.target] = Leg(name, passage.target, passage.clear, passage.way), space
                yield passage

    def _stands(self, clear: Shape | None) -> Standing:
        """How surely the item passes a hole, and how tightly; the smaller the easier."""
        known = self._standing.get(clear)
        if known is None:
            known = self._standing[clear] = self._try(clear)
        return known

    def _try(self, clear: Shape | None) -> Standing:
        if self._item is None or clear is None:
            return _RANK[MIGHT_PASS], _UNKNOWN_TIGHTNESS
        return _RANK[verdict(self._item, clear)], tightness(self._item, clear)

    def _candidate(self, space: str, standing: Standing, legs: Mapping[str, Step], seconds: float) -> Candidate:
        path, at = [], space
        while at:
            leg, at = legs[at]
            path.append(leg)
        return Candidate(space, _WORDS[standing[0]], tuple(reversed(path)), standing[1], seconds)


def ruled_out(
    sheet: Sheet, item: ItemShape | None, exposed: Mapping[str, float], found: Iterable[Candidate]
) -> tuple[RuledOut, ...]:
    """Every other space, with why the item cannot be there: nothing open led to it, or it cannot pass."""
    within = {candidate.space for candidate in found}
    reached = {c.space for c in candidates(sheet, None, exposed)} if item is not None else within
    return tuple(
        RuledOut(
            space.id,
            f"it cannot pass on any way to {space.name}"
            if space.id in reached
            else f"no opening that leads to {space.name} stood uncovered since it was last seen",
        )
        for space in sheet.spaces
        if space.id not in within
    )
