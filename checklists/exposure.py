"""When each opening stood uncovered, and so when each space behind it could take a stray item.

Order is the order of entries (`n`, counted from 1), not the clock; the clock only says how long.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass, field

from checklists.times import microseconds_between, seconds_between
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
    #: What the first so many ended spells come to, in microseconds.
    sums: list[int] = field(default_factory=lambda: [0])

    def uncovered_seconds(self, now: str) -> float:
        """How long it stood uncovered, in all, up to `now`. A spell over which the clock ran back counts nothing."""
        running = max(0, microseconds_between(self.spells[-1][0], now)) if self.state == UNCOVERED else 0
        return (self.sums[-1] + running) / 1_000_000

    def seconds_within(self, seen: tuple[int, str], last: tuple[int, str]) -> float:
        """How long it stood uncovered from entry `seen` to entry `last` (number, time); 0 if not at all.

        A spell of no length on the clock, or over which it ran back, still counts as one: it is given `A_MOMENT`.
        """
        spans, (n, at), (last_n, last_at) = self.spans, seen, last
        first, end = bisect_left(spans, (n,)), bisect_left(spans, (last_n + 1,))
        if first and not 0 < spans[first - 1][1] < max(n, 1):
            first -= 1  # it stood uncovered already as the item was seen
        if first >= end:
            return 0.0
        whole_from, whole_to, spent = first, end, 0
        if not 0 < spans[end - 1][1] <= last_n:
            whole_to -= 1
            start = self.spells[whole_to][0] if spans[whole_to][0] >= n or not at else at
            spent = max(0, microseconds_between(start, last_at))
        if whole_from < whole_to and spans[whole_from][0] < n and at:
            spent += max(0, microseconds_between(at, self.spells[whole_from][1]))
            whole_from += 1
        if whole_from < whole_to:
            spent += self.sums[whole_to] - self.sums[whole_from]
        return max(A_MOMENT, spent / 1_000_000)

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
            known.sums.append(known.sums[-1] + max(0, microseconds_between(*known.spells[-1])))
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

        One that was uncovered only after that has 0.
        """
        since = self.openings_since(seen[0])
        return {opening: self.openings[opening].seconds_within(seen, missed) for opening in since}

    def uncovered(self, among: Iterable[str]) -> list[str]:
        """Those of these openings that stand uncovered now."""
        return [opening for opening in among if self.openings[opening].state == UNCOVERED]
