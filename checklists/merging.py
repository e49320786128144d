"""Two phones on one teardown: what each had seen when it made an entry, and what they contradict each other in.

Nothing here is needed while one phone counts. Once a teardown holds entries of several, the fold keeps a `Merging`
beside the state: who moved what, and which entries the one that is being applied had not seen.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from checklists import places
from checklists.facts import Entry, Move

#: Two phones that had not seen each other moved the same line from the same place to the same place.
TWICE = "counted on two phones"
#: A movement could not be put through: after the other phone's movements its source held too little.
SHORT = "taken on two phones"
#: A movement that the other phone's entries make impossible, though its source held enough.
ODD = "not possible on one phone"

#: Places on the books only: nobody can count what lies there.
_UNCOUNTABLE = frozenset({places.MISSING, places.ORIGIN, places.CONVERTED})


@dataclass(slots=True)
class Clash:
    """What two phones contradict each other in, until it is counted again at the places that are `due`.

    `entries` are the movements concerned, by (device, seq): only a count by somebody who had seen them all settles it.
    """

    kind: str
    line: str
    source: str
    target: str
    quantity: int
    at: str
    who: str
    others: tuple[str, ...]
    due: frozenset[str]
    entries: dict[tuple[str, int], int] = field(default_factory=dict)

    def add(self, device: str, seq: int, quantity: int) -> None:
        """One more movement belongs to this clash; what may be doubled is all but the phone's that counted most."""
        self.entries[device, seq] = quantity
        if self.kind == TWICE:
            self.quantity = self._doubled()

    def drop(self, device: str, seq: int) -> bool:
        """A movement was taken back; whether nothing is left to doubt."""
        if self.kind != TWICE or self.entries.pop((device, seq), None) is None:
            return False
        self.quantity = self._doubled()
        return not self.quantity

    def _doubled(self) -> int:
        by_device: dict[str, int] = {}
        for (device, _), quantity in self.entries.items():
            by_device[device] = by_device.get(device, 0) + quantity
        return sum(by_device.values()) - max(by_device.values(), default=0)

    def counted(self, place: str) -> bool:
        """A count there agreed; whether the clash is over. One end shows a double, both ends show a movement undone."""
        self.due = frozenset() if self.kind == TWICE and place in self.due else self.due - {place}
        return not self.due

    @property
    def count_at(self) -> str:
        """Where to count first: off the machine rather than on it."""
        return min(self.due, key=lambda place: (places.family(place) == "fitted", place != self.target, place))


def to_count(*ends: str) -> frozenset[str]:
    """Those of these places at which somebody can count."""
    return frozenset(ends) - _UNCOUNTABLE


def had_seen(entry: Entry, device: str, seq: int) -> bool:
    """Whether whoever made `entry` had the other one before them; its own device's earlier entries are always seen."""
    if device == entry.device:
        return seq < entry.seq
    return seq <= dict(entry.seen).get(device, 0)


class Moved(NamedTuple):
    """One movement on record, by the entry that made it, the `n`-th in order."""

    target: str
    quantity: int
    device: str
    seq: int
    n: int
    who: str


class Merging:
    """What the fold keeps while several devices' entries are folded."""

    def __init__(self) -> None:
        #: The number of the first entry before the present one that it had not seen; 0 when it had seen all.
        self.first_unseen = 0
        self._entry: Entry | None = None
        self._n = 0
        self._known: dict[str, int] = {}
        self._numbers: dict[str, list[int]] = {}
        self._moves: dict[tuple[str, str], list[Moved]] = {}
        self._touched: dict[str, dict[str, int]] = {}
        self._line_moved: dict[str, dict[str, int]] = {}
        self._set_down: dict[str, tuple[str, int]] = {}
        self._finds: dict[tuple[str, str], tuple[str, str, int]] = {}

    @property
    def entry(self) -> Entry:
        """The entry being applied."""
        assert self._entry is not None
        return self._entry

    def enter(self, entry: Entry, n: int) -> None:
        """The next entry is to be applied, as the `n`-th."""
        self._entry, self._n, self._known = entry, n, dict(entry.seen)
        unseen = [
            numbers[self._known.get(device, 0)]
            for device, numbers in self._numbers.items()
            if device != entry.device and self._known.get(device, 0) < len(numbers)
        ]
        self.first_unseen = min(unseen, default=0)
        self._numbers.setdefault(entry.device, []).append(n)

    def _unseen(self, device: str, seq: int) -> bool:
        return device != self.entry.device and seq > self._known.get(device, 0)

    # --- movements

    def unseen_moves(self, move: Move) -> list[Moved]:
        """Movements of the same line out of the same place that the present entry had not seen, the newest first."""
        found: list[Moved] = []
        if not self.first_unseen:
            return found
        for moved in reversed(self._moves.get((move.line, move.source), ())):
            if moved.n < self.first_unseen:
                break
            if self._unseen(moved.device, moved.seq):
                found.append(moved)
        return found

    def note_move(self, move: Move) -> None:
        """A movement of the present entry was put through."""
        entry = self.entry
        moved = Moved(move.target, move.quantity, entry.device, entry.seq, self._n, entry.who)
        self._moves.setdefault((move.line, move.source), []).append(moved)
        if not move.target.startswith("fitted/"):
            self._line_moved.setdefault(move.line, {})[entry.device] = entry.seq

    # --- evidence

    def note_touch(self, spaces: Iterable[str]) -> None:
        """The present entry touched these spaces."""
        for space in spaces:
            self._touched.setdefault(space, {})[self.entry.device] = self.entry.seq

    def unseen_touch(self, spaces: Iterable[str]) -> bool:
        """Whether something had been moved in these spaces that the present entry had not seen."""
        return bool(self.first_unseen) and self._any_unseen(self._touched, spaces)

    def unseen_line(self, lines: Iterable[str]) -> bool:
        """Whether something of these lines had been moved that the present entry had not seen."""
        return bool(self.first_unseen) and self._any_unseen(self._line_moved, lines)

    def _any_unseen(self, marks: dict[str, dict[str, int]], names: Iterable[str]) -> bool:
        return any(self._unseen(device, seq) for name in names for device, seq in marks.get(name, {}).items())

    def note_set_down(self, closure: str) -> None:
        """The present entry set this closure down."""
        self._set_down[closure] = self.entry.device, self.entry.seq

    def unseen_set_down(self, closure: str) -> bool:
        """Whether the closure was set down without the present entry knowing."""
        return closure in self._set_down and self._unseen(*self._set_down[closure])

    # --- finds that got the same id on two phones

    def name_find(self, find: str, known: Iterable[str]) -> str:
        """The id under which a find logged by the present entry is kept: its own, or one with the device behind it."""
        if find not in known:
            self._finds[find, ""] = find, self.entry.device, self.entry.seq
            return find
        _, device, seq = self._finds.get((find, ""), (find, "", 0))
        kept = f"{find} ({self.entry.device})"
        self._finds[find, self.entry.device] = kept, device, seq
        return kept

    def find_named(self, find: str) -> str:
        """Which find the present entry means: its own phone's, while it had not seen the other of the same id."""
        kept, device, seq = self._finds.get((find, self.entry.device), (find, "", 0))
        return kept if kept != find and self._unseen(device, seq) else find
