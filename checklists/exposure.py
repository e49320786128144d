"""When each opening stood uncovered, and so when each space behind it could take a stray item.

Order is the order of entries (`n`, counted from 1), not the clock; the clock only says how long.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from checklists.times import seconds_between
from checklists.ways_in import WaysIn

#: Seconds for a spell that took no time on the clock: it was open all the same.
A_MOMENT = 0.001
SEALED, UNCOVERED, COVERED = "sealed", "uncovered", "covered"


@dataclass(slots=True)
class OpeningState:
    """How one opening stands, since when, and every spell it stood uncovered (start, end; end "" while it lasts)."""

    state: str = SEALED
    since: str = ""
    who: str = ""
    spells: list[tuple[str, str]] = field(default_factory=list)
    #: The numbers of the entries at which each spell began and ended; 0 while it lasts.
    spans: list[tuple[int, int]] = field(default_factory=list)

    def uncovered_seconds(self, now: str) -> float:
        """How long it stood uncovered, in all, up to `now`. A spell over which the clock ran back counts nothing."""
        return sum(max(0.0, seconds_between(start, end or now)) for start, end in self.spells)

    def running_seconds(self, now: str) -> float:
        """How long it has stood uncovered this time; 0 when it is not."""
        return max(0.0, seconds_between(self.since, now)) if self.state == UNCOVERED else 0.0


class Exposure:
    """The state of every opening, and so which spaces stood open to the outside at which time.

    What is kept is kept by opening, so that a passage that is learnt of later counts for the time before as well.
    """

    def __init__(self) -> None:
        self.openings: dict[str, OpeningState] = {}
        self._ways = WaysIn.empty()
        self._protected: dict[str, int] = {}

    def use(self, ways: WaysIn) -> None:
        """Take in the sheet's openings, now or after it has grown. Openings that are known keep their state."""
        for opening in ways.from_opening:
            self.openings.setdefault(opening, OpeningState())
        self._ways = ways

    def set(self, opening: str, state: str, n: int, at: str, who: str) -> None:
        """Put an opening into a state at entry `n`. Putting it into the state it has changes nothing."""
        known = self.openings[opening]
        if known.state == state:
            return
        if state == UNCOVERED:
            known.spells.append((at, ""))
            known.spans.append((n, 0))
        elif known.state == UNCOVERED:
            known.spells[-1] = (known.spells[-1][0], at)
            known.spans[-1] = (known.spans[-1][0], n)
            self._protected[opening] = n
        known.state, known.since, known.who = state, at, who

    def not_sealed(self) -> frozenset[str]:
        """Every space that an opening now unsealed leads to, covered or not."""
        return self._ways.union(o for o, known in self.openings.items() if known.state != SEALED)

    def exposed_since(self, n: int) -> frozenset[str]:
        """Every space that stood open at some time from entry `n` on."""
        return self._ways.union(self.openings_since(n))

    def openings_since(self, n: int) -> list[str]:
        """Every opening that stood uncovered at some time from entry `n` on."""
        return [
            opening
            for opening, known in self.openings.items()
            if known.state == UNCOVERED or self._protected.get(opening, 0) >= max(n, 1)
        ]

    def seconds_between(self, seen: tuple[int, str], missed: tuple[int, str]) -> dict[str, float]:
        """For each opening that stood uncovered from entry `seen` on: how long, up to entry `missed` (number, time).

        One that was uncovered only after that has 0. A spell of no length on the clock, or over which it ran back,
        still counts as one: it is given `A_MOMENT`.
        """
        return {opening: self._seconds(opening, seen, missed) for opening in self.openings_since(seen[0])}

    def _seconds(self, opening: str, seen: tuple[int, str], missed: tuple[int, str]) -> float:
        (n, at), (last_n, last_at) = seen, missed
        known = self.openings[opening]
        within = [
            (at if began < n and at else start, end if ended and ended <= last_n else last_at)
            for (start, end), (began, ended) in zip(known.spells, known.spans, strict=True)
            if began <= last_n and (not ended or ended >= max(n, 1))
        ]
        return max(A_MOMENT, sum(max(0.0, seconds_between(*spell)) for spell in within)) if within else 0.0

    def uncovered(self, among: Iterable[str]) -> list[str]:
        """Those of these openings that stand uncovered now."""
        return [opening for opening in among if self.openings[opening].state == UNCOVERED]
