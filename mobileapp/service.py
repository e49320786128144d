"""One teardown at work: an act is judged by the rules, made durable by the journal, and only then shown.

The screens, the command line and the story player all go through here. There is no other way in.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from checklists.facts import Entry, Fact, Started
from checklists.reasons import Reason
from checklists.teardown import apply, fold
from mobileapp.journal.derived import card, closure_rows
from mobileapp.journal.errors import JournalError
from mobileapp.journal.rows import Card, ClosureRow
from mobileapp.journal.store import Journal
from mobileapp.shapes import with_item_shapes

Clock = Callable[[], str]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of an act: its entry once it is durable, or every reason why it was refused.

    `remark` is what the person should know all the same.
    """

    entry: Entry | None
    reasons: tuple[Reason, ...] = ()
    remark: str = ""

    @property
    def done(self) -> bool:
        """Whether it happened."""
        return self.entry is not None


class _OthersCame(Exception):
    """The file holds entries that the state was not folded from: a pack was taken in meanwhile."""


class TeardownService:
    """A teardown open on this device. `who` is the person holding it; change it when the phone changes hands."""

    def __init__(self, journal: Journal, clock: Clock, teardown_id: str, who: str = "") -> None:
        self.journal = journal
        self.clock = clock
        self.id = teardown_id
        self._read_again()
        self.who = who or (self.state.people[0].name if self.state.people else "")

    def _read_again(self) -> None:
        entries = self.journal.entries(self.id)
        self.state = fold(entries)
        #: Of each device the number of its last entry that the state knows.
        self._last: dict[str, int] = {}
        for entry in entries:
            self._last[entry.device] = max(entry.seq, self._last.get(entry.device, 0))
        self._written = {row.closure: row for row in self.journal.closure_rows(self.id)}

    def record(self, fact: Fact) -> Outcome:
        """Do it if the rules allow it. Raises a JournalError when it cannot be made durable; then nothing happened."""
        while True:
            try:
                return self._record(fact)
            except _OthersCame:
                continue  # everything was read again: it is judged by what is there now

    def _record(self, fact: Fact) -> Outcome:
        from checklists.judge import judge  # not needed to draw the first board, so not imported before it

        at = self.clock()
        fact = self._bound(with_item_shapes(fact))
        reasons = (*judge(self.state, fact, at, self.who), *self._bound_elsewhere(fact))
        if reasons:
            return Outcome(None, reasons)
        try:
            entry = self.journal.append(self.id, fact, at, self.who, derive=self._derive)
        except BaseException as fault:
            # The state may have run ahead of the file: the file is what counts.
            known = self._last
            self._read_again()
            if isinstance(fault, JournalError) and self._last != known:
                raise _OthersCame from fault
            raise
        self._last[entry.device] = entry.seq
        return Outcome(entry)

    def _bound(self, fact: Fact) -> Fact:
        """A signature that names no head yet is bound to the head as it is now."""
        signed: Any = fact
        return replace(signed, head=self.head) if getattr(fact, "head", None) == "" else fact

    def _bound_elsewhere(self, fact: Fact) -> tuple[Reason, ...]:
        named = getattr(fact, "head", None)  # a count names none, and so waits for no look into the journal
        if named is None or named == self.head:
            return ()
        words = "The signature is bound to another place in the record than where it would stand."
        return (Reason("bound elsewhere", words, "Read what is there now, and sign again."),)

    def undo(self, why: str = "counted by mistake") -> Outcome:
        """Take back the last count by a reversing movement. Nothing to take back is no refusal: it does nothing."""
        from checklists import builders

        entry = builders.last_undoable(self.state)
        return self.record(builders.undo(entry, why)) if entry else Outcome(None)

    @property
    def head(self) -> str:
        """The journal's head, to which a signature is bound."""
        return self.journal.head(self.id)

    def _derive(self, entry: Entry) -> tuple[Card, list[ClosureRow]]:
        others = {device: seq for device, seq in self._last.items() if device != entry.device}
        if dict(entry.seen) != others or entry.seq != self._last.get(entry.device, 0) + 1:
            raise _OthersCame
        apply(self.state, entry)
        changed = [row for row in closure_rows(self.state) if self._written.get(row.closure) != row]
        self._written.update({row.closure: row for row in changed})
        return card(self.id, self.state), changed


def start_teardown(
    journal: Journal, clock: Clock, make_id: Callable[[], str], fact: Started, who: str
) -> TeardownService | Outcome:
    """Start a teardown and stand ready on it; an Outcome with the reasons where it may not start."""
    service = TeardownService(journal, clock, make_id(), who)
    outcome = service.record(fact)
    return service if outcome.done else outcome
