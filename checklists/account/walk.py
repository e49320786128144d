"""What the fold does not keep: everything that was taken back, overtaken or settled on the way, by walking the entries.

The entries are folded once, step by step, and what each step changed is written down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from checklists import places
from checklists.closing import why_not_close
from checklists.facts import (
    Checked,
    Entry,
    Fact,
    HandedOver,
    Joined,
    Move,
    Person,
    Renewed,
    Reversed,
    SecondCounted,
    Seen,
    Started,
    TookOver,
    Withdrawn,
    WrittenTooHigh,
    moves_of,
)
from checklists.ledger import possible
from checklists.merging import Merging
from checklists.state import (
    CLEARED,
    FITTED,
    LIFTED,
    LOOSENED,
    RECALLED,
    SET_DOWN,
    SIGNED,
    ClosureState,
    Mark,
    Tally,
    Teardown,
    tally,
)
from checklists.teardown import apply
from checklists.withdrawing import still_doubled

T = TypeVar("T")

WITHDRAWN, FELL, HOME_AGAIN = "clearance withdrawn", "does not stand", "all home again"
#: What `Change.what` says where the stage itself says it.
_BY_STAGE = {
    FITTED: HOME_AGAIN,
    LOOSENED: "loosened",
    LIFTED: "lifted",
    CLEARED: "cleared to refit",
    SET_DOWN: "set down",
    SIGNED: "signed",
    RECALLED: "sign-off recalled",
}


class Step(NamedTuple):
    """The `n`-th entry."""

    n: int
    entry: Entry

    @property
    def mark(self) -> Mark:
        """When it was and by whom."""
        return Mark(self.n, self.entry.at, self.entry.who)


class Change(NamedTuple):
    """A closure changed how it stands; `why` is said where it did so by itself."""

    mark: Mark
    closure: str
    what: str
    why: str


class Figure(NamedTuple):
    """One figure of a count, with what the tally had at that moment."""

    seen: Seen
    had: int

    @property
    def agrees(self) -> bool:
        """Whether they are the same."""
        return self.seen.quantity == self.had


@dataclass(slots=True)
class Quarrel:
    """A count that differed, or what two phones contradicted each other in: since when, and which entry settled it."""

    words: str
    mark: Mark
    ended: Step | None = None


@dataclass(slots=True)
class Flow:
    """How many of a line went out, came back and were renewed, without what was taken back."""

    out: int = 0
    back: int = 0
    renewed: int = 0


class Stood(NamedTuple):
    """How the job stood when it was handed over: who gives, the tally, and what stood open, in words."""

    gives: str
    tally: Tally
    uncovered: tuple[str, ...]
    reasons: tuple[str, ...]


class _Standing(NamedTuple):
    stage: str
    cleared: Mark | None
    signed: Mark | None
    remark: str


def _stood(t: Teardown, who: str) -> Stood:
    """Worked out from the state of that moment, which nobody can write otherwise afterwards."""
    gives = t.offered[1].who if t.offered else who
    bare = tuple(t.openings[opening].name for opening in t.exposure.uncovered(t.openings))
    return Stood(gives, tally(t), bare, tuple(reason.words for reason in why_not_close(t)))


def _standing(state: ClosureState) -> _Standing:
    return _Standing(state.stage, state.cleared, state.signed, state.remark)


_NEW = _standing(ClosureState())


class Walk:
    """A walk through the entries of a teardown; `teardown` is the state at its end."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self.teardown = Teardown()
        self.changes: list[Change] = []
        self.figures: dict[int, tuple[Figure, ...]] = {}
        #: How the job stood at each handover offered and taken, by the number of the entry.
        self.stood: dict[int, Stood] = {}
        self.quarrels: list[Quarrel] = []
        self.flows: dict[str, Flow] = {}
        self._steps: dict[type, list[Step]] = {}
        self._by_id: dict[tuple[str, int], Step] = {}
        self._standing: dict[str, _Standing] = {}
        self._open: dict[tuple[str, ...], Quarrel] = {}
        entries = list(entries)
        if len({entry.device for entry in entries}) > 1:
            self.teardown.merging = Merging()
        for n, entry in enumerate(entries, 1):
            self._walk(Step(n, entry))

    def of(self, kind: type[T]) -> list[tuple[Mark, T]]:
        """Every fact of one kind with its mark, in order."""
        return [(step.mark, step.entry.fact) for step in self._steps.get(kind, ())]  # type: ignore[misc]

    def step(self, device: str, seq: int) -> Step | None:
        """The entry with that number on that device."""
        return self._by_id.get((device, seq))

    def flow(self, line: str) -> Flow:
        """What went out and came back of a line."""
        return self.flows.get(line) or Flow()

    @property
    def everybody(self) -> list[Person]:
        """Everybody who was ever on the job, in the order they came."""
        started = [person for _, fact in self.of(Started) for person in fact.people]
        return started + [fact.person for _, fact in self.of(Joined)]

    # --- one step

    def _walk(self, step: Step) -> None:
        t, fact = self.teardown, step.entry.fact
        self._steps.setdefault(type(fact), []).append(step)
        self._by_id[step.entry.device, step.entry.seq] = step
        if isinstance(fact, HandedOver | TookOver):
            self.stood[step.n] = _stood(t, step.entry.who)
        if isinstance(fact, SecondCounted | TookOver):
            self.figures[step.n] = tuple(Figure(seen, t.quantity(seen.line, seen.place)) for seen in fact.entries)
        elif isinstance(fact, Checked):
            self.figures[step.n] = (Figure(fact.seen, t.quantity(fact.seen.line, fact.seen.place)),)
        moves = moves_of(fact)
        if moves and t.merging is not None:
            moves = possible(t.balances, still_doubled(t, moves) if isinstance(fact, Withdrawn) else moves)
        apply(t, step.entry)
        if moves and not isinstance(fact, Started):
            self._flows(fact, moves)
        self._changes(step)
        if t.discrepancies or t.clashes or self._open:
            self._quarrels(step)

    def _flows(self, fact: Fact, moves: tuple[Move, ...]) -> None:
        lines = self.teardown.lines
        back = isinstance(fact, Reversed | Withdrawn | WrittenTooHigh)
        for line, quantity, source, target in moves:
            flow = self.flows.setdefault(line, Flow())
            went, came = ends_of(lines[line].home, source, target, back)
            sign = -quantity if back else quantity
            flow.out += sign * went
            flow.back += sign * came
        whole = self._taken_back(fact)
        if isinstance(whole, Renewed):
            self.flows[whole.moves[0].line].renewed += whole.moves[0].quantity * (-1 if back else 1)

    def _taken_back(self, fact: Fact) -> Fact:
        """The fact that this one takes back; itself where it takes back none."""
        if isinstance(fact, Reversed) and (step := self.step(fact.device, fact.seq)):
            return step.entry.fact
        return fact

    def _changes(self, step: Step) -> None:
        for closure, state in self.teardown.closure_states.items():
            before = self._standing.get(closure, _NEW)
            if (
                state.stage == before.stage
                and state.remark == before.remark
                and state.cleared is before.cleared
                and state.signed is before.signed
            ):
                continue
            after = self._standing[closure] = _standing(state)
            if what := _what_changed(before, after):
                why = state.remark if state.remark != before.remark or what == WITHDRAWN else ""
                self.changes.append(Change(step.mark, closure, what, why))

    def _quarrels(self, step: Step) -> None:
        t = self.teardown
        now: dict[tuple[str, ...], str] = {}
        for (line, place), known in t.discrepancies.items():
            now["count", line, place, str(known.mark.n)] = (
                f"{t.lines[line].name}: {known.seen} counted {t.say_place(place)}, where the tally had {known.had}"
            )
        for clash in t.clashes.values():
            now["phones", clash.kind, clash.line, clash.source, clash.target] = (
                f"{t.lines[clash.line].name}: {t.say_place(clash.source)} to {t.say_place(clash.target)}, "
                f"counted by {clash.who} and by {' and '.join(clash.others) or 'another'} on phones that had not met"
            )
        for gone in [key for key in self._open if key not in now]:
            self._open.pop(gone).ended = step
        for key, words in now.items():
            if key not in self._open:
                self._open[key] = Quarrel(words, step.mark)
                self.quarrels.append(self._open[key])


def ends_of(home: str, source: str, target: str, back: bool) -> tuple[bool, bool]:
    """Whether a movement takes items out from home, and whether it brings them back there.

    What comes onto the tally away from home counts as out. A movement that takes another `back` is read the other way.
    """
    if back:
        source, target = target, source
    went = (source == home and target != places.ORIGIN) or (source == places.ORIGIN and not _at_rest(target, home))
    return went, target == home and source != places.ORIGIN


def _at_rest(place: str, home: str) -> bool:
    return place == home or places.family(place) in places.RESTING_FAMILIES


def _what_changed(before: _Standing, after: _Standing) -> str:
    if before.stage != after.stage:
        if before.stage == CLEARED and after.stage == LIFTED:
            return WITHDRAWN
        if before.stage == LOOSENED and after.stage == SET_DOWN:
            return HOME_AGAIN
        return _BY_STAGE[after.stage]
    if before.cleared and not after.cleared:
        return WITHDRAWN
    return FELL if after.remark and after.remark != before.remark else ""
