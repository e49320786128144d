"""Every space a missing item could have reached, the widest way to each, and the order in which to look.

An item comes in by an opening that stood uncovered in the window (from its last confirmed sighting to the moment it
was missed) and goes on along inner passages, each one way and with its own clear size. The widest way to a space is
the one whose tightest place is the least tight. All openings into one space count together: it was exposed for the sum
of the time that each of them stood open, and so is what it leads on to. Loose about, an item may still have gone in by
an opening that was uncovered only later: that adds no exposure, and such spaces come last. What was last known to lie
in a space itself needs no opening (`lay_in`): that space comes first, with all it leads on to.
"""

from __future__ import annotations

import heapq
from bisect import bisect_left
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from checklists.sheet import Sheet
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.passing import CANNOT_PASS, MIGHT_PASS, PASSES, UNKNOWN_TIGHTNESS, Body
from checklists.whereabouts.plan import Leg, Plan, flood

__all__ = ["Candidate", "Leg", "RuledOut", "Ways", "candidates", "ruled_out"]

_RANK = {PASSES: 0, MIGHT_PASS: 1, CANNOT_PASS: 2}
_WORDS = (PASSES, MIGHT_PASS)
_SHUT = _RANK[CANNOT_PASS]
#: The grade of a way in that is no hole, for the item lay there; and the mark of a space that is done.
_LAY, _DONE = -1, -2
#: A space in which the item lay itself has some exposure, whatever the clock says.
_A_MOMENT = 0.001

#: Openings by name, each with the seconds it stood uncovered.
Exposures = tuple[tuple[str, float], ...]


class Candidate(NamedTuple):
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


class _Entry(NamedTuple):
    """A space that the item can get into from outside: how long its openings stood open in all, each, and the best."""

    seconds: float
    space: int
    grade: int
    leg: Leg
    told: Exposures


def candidates(sheet: Sheet, item: ItemShape | None, exposed: Mapping[str, float]) -> tuple[Candidate, ...]:
    """The spaces `item` could be in, most likely first. With no shape (None) everything might pass.

    `exposed` says for each opening how many seconds it stood uncovered in the window: 0 for one that was uncovered only
    after it. One that is not named stayed shut. `lay_in(space)` among them says that the item lay in that space itself.
    A spell of no length on the clock still counts: give it a small number.
    """
    return Ways(Plan(sheet), item).candidates(exposed)


def ruled_out(
    sheet: Sheet, item: ItemShape | None, exposed: Mapping[str, float], found: Iterable[Candidate]
) -> tuple[RuledOut, ...]:
    """Every other space, with why the item cannot be there: nothing open led to it, or it cannot pass."""
    return Ways(Plan(sheet), item).ruled_out(exposed, found)


class Ways:
    """A sheet's plan as one item finds it: what it can pass, and how tightly. Built once for each item and plan.

    Every hole has a grade: its rank among all by how surely and how easily the item passes, 0 the easiest. A way is as
    good as the worst grade on it.
    """

    def __init__(self, plan: Plan, item: ItemShape | None) -> None:
        self._plan = plan
        found = self._standings(plan, item)
        self._standing = sorted(set(found))
        at = {standing: grade for grade, standing in enumerate(self._standing)}
        grades = [at[standing] for standing in found]
        surely, self._perhaps = (bisect_left(self._standing, (rank,)) for rank in (_RANK[MIGHT_PASS], _SHUT))
        self._into = {
            name: (space, grades[hole], leg)
            for name, space, hole, leg in plan.into
            if grades[hole] < self._perhaps
        }
        #: For what surely passes, and for what might: below which grade, and the passages out of each space.
        self._onward = [
            (below, [[(grades[hole], to, leg) for hole, to, leg in out if grades[hole] < below] for out in plan.onward])
            for below in dict.fromkeys((surely, self._perhaps))
        ]

    @staticmethod
    def _standings(plan: Plan, item: ItemShape | None) -> list[tuple[int, float]]:
        """How surely the item passes each hole of the plan, and how tightly; the smaller the easier."""
        unknown = _RANK[MIGHT_PASS], UNKNOWN_TIGHTNESS
        if item is None:
            return [unknown] * len(plan.holes)
        stands = Body(item).standing
        tried = [stands(*hole) if hole else None for hole in plan.holes]
        return [(_RANK[each[0]], each[1]) if each else unknown for each in tried]

    def by(self, openings: Iterable[str]) -> frozenset[str]:
        """Every space that the item could reach by any of these openings."""
        _, onward = self._onward[-1]
        lay, openings = self._plan.lay, list(openings)
        into = [self._into[opening][0] for opening in openings if opening in self._into]
        into += [lay[way][0] for way in openings if way in lay]
        return self._plan.named(flood(into, [[to for _, to, _ in out] for out in onward]))

    def candidates(self, exposed: Mapping[str, float]) -> tuple[Candidate, ...]:
        """As the function of that name."""
        found: dict[int, Candidate] = {}
        order: list[int] = []
        for entries in filter(None, self._entries(exposed)):
            for below, onward in self._onward:
                order += self._search(entries, below, onward, found)
        return tuple([found[space] for space in order])

    def _entries(self, exposed: Mapping[str, float]) -> tuple[list[_Entry], list[_Entry], list[_Entry]]:
        """The spaces it lay in; those it can get into in the window, the longest open first; those open only after."""
        inside, later = dict[int, list[tuple[float, str]]](), dict[int, list[tuple[float, str]]]()
        known = self._into
        for opening in self._plan.in_order(exposed):
            if opening in known:
                seconds = exposed[opening]
                (inside if seconds > 0 else later).setdefault(known[opening][0], []).append((seconds, opening))
        lay = [self._plan.lay[way] for way in exposed if way in self._plan.lay]
        lain = [_Entry(_A_MOMENT, space, _LAY, leg, ()) for space, leg in lay]
        return lain, self._made(inside), self._made(later)

    def _made(self, into: Mapping[int, list[tuple[float, str]]]) -> list[_Entry]:
        known, made = self._into, list[_Entry]()
        for space, openings in into.items():
            if len(openings) > 1:
                openings.sort(key=_longest_first)
            grade, leg = -1, None
            for _, opening in openings:
                _, tried, by = known[opening]
                if leg is None or tried < grade:
                    grade, leg = tried, by
            assert leg is not None
            told = tuple([(known[opening][2].name, seconds) for seconds, opening in openings])
            made.append(_Entry(sum([seconds for seconds, _ in openings]), space, grade, leg, told))
        made.sort(key=_longest_first)
        return made

    def _search(
        self, entries: list[_Entry], below: int, onward: list[list[tuple[int, int, Leg]]], found: dict[int, Candidate]
    ) -> list[int]:
        """Add every space that these entries lead to by holes below this grade, each by its widest way; in which order.

        The entry that stood open longest goes first; entries alike in exposure go together. A space that one reaches is
        done for those after it: whatever leads on from there was reached with it.
        """
        ids, standing, push, pop = self._plan.ids, self._standing, heapq.heappush, heapq.heappop
        far = below + 1
        best = [far] * len(ids)  # _DONE once a space is
        ways: list[tuple[tuple[Leg, ...], _Entry]] = [((), entries[0])] * len(ids)
        waiting, order = list[tuple[int, int]](), list[tuple[float, int, int]]()
        for number, entry in enumerate(entries):
            if entry.grade < min(best[entry.space], below):
                best[entry.space] = entry.grade
                ways[entry.space] = (entry.leg,), entry
                push(waiting, (entry.grade, entry.space))
            if number + 1 < len(entries) and entries[number + 1].seconds == entry.seconds:
                continue
            while waiting:
                grade, space = pop(waiting)
                if best[space] == _DONE:
                    continue
                best[space] = _DONE
                path, entered = ways[space]
                if space not in found:
                    order.append((-entered.seconds, grade, space))
                    rank, tight = standing[grade] if grade != _LAY else (_RANK[PASSES], 0.0)
                    told = entered.told if entered.seconds else ()
                    found[space] = Candidate(ids[space], _WORDS[rank], path, tight, entered.seconds, told)
                for hole, to, leg in onward[space]:
                    there = hole if hole > grade else grade
                    if there < best[to]:
                        best[to] = there
                        ways[to] = (*path, leg), entered
                        push(waiting, (there, to))
        order.sort()
        return [space for *_, space in order]

    def ruled_out(self, exposed: Mapping[str, float], found: Iterable[Candidate]) -> tuple[RuledOut, ...]:
        """As the function of that name."""
        plan, within = self._plan, {candidate.space for candidate in found}
        if len(within) == len(plan.ids):
            return ()
        reached = plan.reached(exposed)
        return tuple(
            RuledOut(
                space,
                f"it cannot pass on any way to {name}"
                if space in reached
                else f"no opening that leads to {name} stood uncovered since it was last seen",
            )
            for space, name in plan.names.items()
            if space not in within
        )


def _longest_first(known: tuple[float, str] | _Entry) -> float:
    return -known[0]
