"""Every space a missing item could have reached, the widest way to each, and the order in which to look.

An item comes in by an opening that stood uncovered in the window (from its last confirmed sighting to the moment it
was missed) and goes on along inner passages, each one way and with its own clear size. The widest way to a space is
the one whose tightest place is the least tight. All openings into one space count together: it was exposed for the sum
of the time that each of them stood open, and so is what it leads on to. Loose about, an item may still have gone in by
an opening that was uncovered only later: that adds no exposure, and such spaces come last.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from checklists.sheet import Opening, Passage, Shape, Sheet
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.passing import CANNOT_PASS, MIGHT_PASS, PASSES, UNKNOWN_TIGHTNESS, standing

_RANK = {PASSES: 0, MIGHT_PASS: 1, CANNOT_PASS: 2}
_WORDS = {rank: word for word, rank in _RANK.items()}
_SHUT = _RANK[CANNOT_PASS]
_NEVER = (9, 0.0)


#: Openings by name, each with the seconds it stood uncovered.
Exposures = tuple[tuple[str, float], ...]


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

    `tightness` is that of the tightest place on the way (at 1 it just fits). `openings` are all those into the
    space where its path begins that it could have come by in the window, with the seconds each stood uncovered, the
    longest first; `exposed` is their sum. It is 0 where that space was uncovered only after it was missed.
    """

    space: str
    verdict: str
    path: tuple[Leg, ...]
    tightness: float
    exposed: float
    openings: Exposures = ()


@dataclass(frozen=True, slots=True)
class RuledOut:
    """A space the item cannot be in, and why."""

    space: str
    why: str


class Entry(NamedTuple):
    """A space that the item can get into from outside, by which openings, and for how long they stood open in all."""

    space: str
    openings: tuple[Opening, ...]
    told: Exposures
    seconds: float


Standing = tuple[int, float]
#: A leg on the way to a space, and the space it comes from ("" for outside).
Step = tuple[Leg, str]


def candidates(sheet: Sheet, item: ItemShape | None, exposed: Mapping[str, float]) -> tuple[Candidate, ...]:
    """The spaces `item` could be in, most likely first. With no shape (None) everything might pass.

    `exposed` says for each opening how many seconds it stood uncovered in the window: 0 for one that was uncovered only
    after it. One that is not named stayed shut. A spell of no length on the clock still counts: give it a small number.
    """
    ways = _Ways(sheet, item)
    found: dict[str, Candidate] = {}
    for then in (True, False):
        openings = [o for o in sheet.openings if o.id in exposed and (exposed[o.id] > 0) == then]
        entries = ways.entries(openings, exposed)
        for rank in (_RANK[PASSES], _RANK[MIGHT_PASS]):
            for candidate in _at_best(ways, entries, rank):
                found.setdefault(candidate.space, candidate)
    return tuple(sorted(found.values(), key=_order))


def _at_best(ways: _Ways, entries: Iterable[Entry], rank: int) -> Iterator[Candidate]:
    """Each space by what passes no worse than `rank`, from the entry that stood open longest.

    Entries alike in exposure go together. A space that one reaches is done for those after it: whatever leads on from
    there was reached with it.
    """
    done: set[str] = set()
    open_long: dict[float, list[Entry]] = {}
    for entry in entries:
        open_long.setdefault(entry.seconds, []).append(entry)
    for seconds in sorted(open_long, reverse=True):
        yield from ways.onward(open_long[seconds], rank, done)


def _order(candidate: Candidate) -> tuple[bool, int, float, float, str]:
    """What was exposed in the window, then what surely passes, then the longest exposed, then the widest way."""
    return (
        not candidate.exposed,
        _RANK[candidate.verdict],
        -candidate.exposed,
        candidate.tightness,
        candidate.space,
    )


class _Ways:
    """The inner passages as a graph, with what the item finds at each."""

    def __init__(self, sheet: Sheet, item: ItemShape | None) -> None:
        self._item = item
        self._standing: dict[Shape | None, Standing] = {}
        self._out: dict[str, list[tuple[Passage, Standing]]] = {}
        for passage in sheet.passages:
            self._out.setdefault(passage.source, []).append((passage, self._stands(passage.clear)))
        self._names = {space.id: space.name for space in sheet.spaces}

    def entries(self, openings: Iterable[Opening], exposed: Mapping[str, float]) -> list[Entry]:
        """The spaces that the item can get into by these openings, each with all of them, the longest open first."""
        into: dict[str, list[Opening]] = {}
        for opening in openings:
            if self._stands(opening.clear)[0] < _SHUT:
                into.setdefault(opening.space, []).append(opening)
        made = []
        for space, known in into.items():
            known.sort(key=lambda opening: -exposed[opening.id])
            told = tuple((opening.name, exposed[opening.id]) for opening in known)
            made.append(Entry(space, tuple(known), told, sum(seconds for _, seconds in told)))
        return made

    def onward(self, entries: Sequence[Entry], rank: int, done: set[str]) -> Iterator[Candidate]:
        """Every space not yet done that these entries lead to, by its widest way, no leg worse than `rank`."""
        legs: dict[str, Step] = {}
        best: dict[str, Standing] = {}
        by_space = {entry.space: entry for entry in entries}
        for opening in [opening for entry in entries for opening in entry.openings]:
            start = self._stands(opening.clear)
            if start[0] <= rank and opening.space not in done and start < best.get(opening.space, _NEVER):
                best[opening.space] = start
                legs[opening.space] = Leg(opening.name, opening.space, opening.clear, "falls"), ""
        waiting = [(*stands, space) for space, stands in best.items()]
        heapq.heapify(waiting)
        while waiting:
            *_, space = heapq.heappop(waiting)
            if space not in done:
                done.add(space)
                yield self._candidate(space, best[space], legs, by_space)
                for passage in self._go_on(space, rank, done, best, legs):
                    heapq.heappush(waiting, (*best[passage.target], passage.target))

    def _go_on(
        self, space: str, rank: int, done: set[str], best: dict[str, Standing], legs: dict[str, Step]
    ) -> Iterator[Passage]:
        """The passages out of a space that are a wider way to where they lead than any known."""
        for passage, stands in self._out.get(space, ()):
            if stands[0] > rank or passage.target in done:
                continue
            there = max(best[space], stands)
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
            return _RANK[MIGHT_PASS], UNKNOWN_TIGHTNESS
        word, tight = standing(self._item, clear)
        return _RANK[word], tight

    def _candidate(
        self, space: str, stands: Standing, legs: Mapping[str, Step], entries: Mapping[str, Entry]
    ) -> Candidate:
        path, at = [], space
        while at:
            leg, at = legs[at]
            path.append(leg)
        entry = entries[path[-1].to]
        openings = entry.told if entry.seconds else ()
        return Candidate(space, _WORDS[stands[0]], tuple(reversed(path)), stands[1], entry.seconds, openings)


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
