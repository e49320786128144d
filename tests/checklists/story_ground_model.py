"""The ground of random stories: the small workboat job, tried against the rules and against the notebook.

The rules must allow an act if and only if the notebook does; a refused act changes nothing, a granted one moves exactly
what it says. `put` is the world: in memory here, a real journal in a subclass.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import kept_photos
from counting_model import OPENINGS, REACH, SPACES_OF, Movement, Notebook, When
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize
from workboat_model import DECKHAND, FITTER, INES, SHEET, TOMAS, plain

from checklists import builders
from checklists.facts import (
    Acknowledged,
    Entry,
    Fact,
)
from checklists.judge import judge
from checklists.ledger import faults
from checklists.reasons import Reason
from checklists.sheet import Line
from checklists.state import Teardown
from checklists.teardown import apply
from checklists.times import seconds_after

LINES = [
    "crossover.bolt",
    "manifold.bolt",
    "manifold.gasket",
    "nozzle.nut",
    "cap",
    "rag",
    "wrench",
    "glasses",
    "rag-piece",
]
CLOSURES, SPACES = sorted(SPACES_OF), sorted(REACH)
OPEN = ["tray", "bench", "stores", "engine", *[f"engine/{s}" for s in SPACES], *[f"on/{c}" for c in CLOSURES]]
PLACES = [*OPEN, "scrap", *[f"fitted/{c}" for c in CLOSURES]]
NOT_AT_HAND = ["scrap", "missing", "converted", "fitted/manifold"]
PIECE = Line("rag-piece", "rag piece", "rag", 2, "stores")

closures, openings = st.sampled_from(CLOSURES), st.sampled_from(sorted(OPENINGS))
lines, few = st.sampled_from(LINES), st.integers(1, 3)
people = st.sampled_from([INES, TOMAS])
NEW, NEVER_KEPT, USED = "new", "never kept", "used"
photos = st.sampled_from([NEW] * 8 + [NEVER_KEPT, USED])


class Ground(RuleBasedStateMachine):
    """One story. Who acts is not on the job at times: then the rules refuse whatever is tried."""

    def __init__(self) -> None:
        super().__init__()
        self.t = Teardown()
        self.now = "2026-03-02T08:00:00.000+01:00"
        self.steps: list[dict[str, Any]] = []
        self.undoable: list[tuple[Entry, list[Movement]]] = []
        self.undone: set[int] = set()
        self.finds = self.taken = 0

    def put(self, fact: Fact, who: str) -> tuple[Entry | None, tuple[Reason, ...]]:
        if reasons := judge(self.t, fact, self.now, who):
            return None, reasons
        number = len(self.t.history) + 1
        entry = Entry(fact, self.now, who, "phone-a", number, number)
        apply(self.t, entry)
        return entry, ()

    @initialize(alone=st.booleans(), found=st.sampled_from([True] * 4 + [False]))
    def start(self, alone: bool, found: bool) -> None:
        crew = (FITTER,) if alone else (FITTER, DECKHAND)
        self.book = Notebook([person.name for person in crew])
        for fact in (builders.start(SHEET, "harbour workboat Petrel", crew, "It smokes.", ""), Acknowledged("cold")):
            entry, reasons = self.put(fact, INES)
            assert entry, reasons
            self.steps.append(plain(self.t))
        if found:
            self.photo(moment="baseline")

    def photo(self, how: str = NEW, moment: str = "other") -> str:
        """The name of a photo: one just taken and kept, one that was never kept, or one that an act has named."""
        if how == USED and self.book.named:
            return sorted(self.book.named)[0]
        self.taken += 1
        fact = kept_photos.photo(f"photo {self.taken}", "teardown:", moment, self.now)
        if how == NEW:
            entry, reasons = self.put(fact, INES)
            assert entry, reasons
            self.book.photos.add(fact.photo)
            self.book.as_found |= moment == "baseline"
            self.steps.append(plain(self.t))
        return fact.photo

    def attempt(self, fact: Fact, may: bool, then: Callable[[When], object], who: str = INES) -> Entry | None:
        """Try an act; `may` and `then` are the notebook's answer and what it writes down if it happens."""
        may = may and who in self.book.people
        before = plain(self.t)
        entry, reasons = self.put(kept_photos.drawn(fact), who)
        assert (entry is not None) == may, f"{fact}: the notebook says {may}, the rules {[r.words for r in reasons]}"
        if entry is None:
            assert plain(self.t) == before
            assert all(reason.words and reason.do_next for reason in reasons)
            return None
        then(When(len(self.t.history), entry.at, who))
        self.steps.append(plain(self.t))
        self.now = seconds_after(self.now, 20)
        self.same_as_the_notebook()
        return entry

    def same_as_the_notebook(self) -> None:
        t, book = self.t, self.book
        assert faults(t.balances) == []
        ours = {key: count for key, count in t.balances.items() if key[1] != "origin"}
        assert ours == {key: count for key, count in book.at.items() if count}
        assert {line: t.total(line) for line in book.total} == book.total
        assert {closure: state.stage for closure, state in t.closure_states.items()} == book.stage
        assert {opening: state.state for opening, state in t.opening_states.items()} == book.opening
        assert {key: known.seen for key, known in t.discrepancies.items()} == book.differs
        missing = sorted((m.line, m.quantity, m.cause == "short at the start") for m in t.missing)
        assert missing == sorted((m.line, m.quantity, m.short) for m in book.lost)
