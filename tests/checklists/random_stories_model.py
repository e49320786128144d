"""Random stories on the small workboat job: every act is tried against the rules and against the notebook.

The rules must allow it if and only if the notebook does; a refused act changes nothing, a granted one moves exactly
what it says. Used by the tests beside it, in memory and through a real journal.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import rfc8785
from counting_model import BENEATH, FASTENERS, OPENINGS, PARTS, REACH, SPACES_OF, Movement, Notebook, When
from hypothesis import event
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from next_acts_model import facts_of
from workboat_model import DECKHAND, FITTER, HEAD, INES, PHOTO, SHEET, TOMAS, plain

from checklists import builders, second_count
from checklists.fact_codec import fact_from_plain, fact_to_plain
from checklists.facts import (
    Acknowledged,
    Counted,
    Entry,
    Fact,
    FindLogged,
    FindRemoved,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Move,
    Refitted,
    SecondCounted,
    Seen,
    WorkDone,
)
from checklists.judge import judge
from checklists.ledger import faults
from checklists.next_act import next_act
from checklists.reasons import Reason
from checklists.sheet import Line
from checklists.state import Teardown
from checklists.teardown import apply, fold
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


class Stories(RuleBasedStateMachine):
    """One random story. `who` is not on the job at times: then the rules refuse whatever is tried."""

    def __init__(self) -> None:
        super().__init__()
        self.t = Teardown()
        self.now = "2026-03-02T08:00:00.000+01:00"
        self.steps: list[dict[str, Any]] = []
        self.undoable: list[tuple[Entry, list[Movement]]] = []
        self.undone: set[int] = set()
        self.finds = 0

    # --- the world: in memory here, a real journal in a subclass

    def put(self, fact: Fact, who: str) -> tuple[Entry | None, tuple[Reason, ...]]:
        if reasons := judge(self.t, fact, self.now, who):
            return None, reasons
        number = len(self.t.history) + 1
        entry = Entry(fact, self.now, who, "phone-a", number, number)
        apply(self.t, entry)
        return entry, ()

    @initialize(alone=st.booleans())
    def start(self, alone: bool) -> None:
        crew = (FITTER,) if alone else (FITTER, DECKHAND)
        self.book = Notebook([person.name for person in crew])
        for fact in (builders.start(SHEET, "harbour workboat Petrel", crew, "It smokes.", ""), Acknowledged("cold")):
            entry, reasons = self.put(fact, INES)
            assert entry, reasons
            self.steps.append(plain(self.t))

    def attempt(self, fact: Fact, may: bool, then: Callable[[When], object], who: str = INES) -> Entry | None:
        """Try an act; `may` and `then` are the notebook's answer and what it writes down if it happens."""
        may = may and who in self.book.people
        before = plain(self.t)
        entry, reasons = self.put(fact, who)
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

    # --- counting

    def moved(self, fact: Fact, movements: list[Movement], who: str = INES) -> None:
        entry = self.attempt(fact, self.book.may_move(movements), lambda when: self.book.move(movements, when), who)
        if entry:
            self.undoable.append((entry, movements))

    def count(self, line: str, quantity: int, source: str, target: str, who: str = INES) -> None:
        if line in self.t.lines:
            self.moved(builders.move(line, quantity, source, target), [(line, quantity, source, target)], who)

    @rule(line=lines, quantity=few, source=st.sampled_from(PLACES), to=st.sampled_from(PLACES), who=people)
    def count_anything_anywhere(self, line: str, quantity: int, source: str, to: str, who: str) -> None:
        self.count(line, quantity, source, to, who)

    @rule(data=st.data(), to=st.sampled_from(PLACES), who=people)
    def count_something(self, data: st.DataObject, to: str, who: str) -> None:
        line, place = self.somewhere(data)
        self.count(line, data.draw(st.integers(1, self.book.holds(line, place) + 1)), place, to, who)

    def somewhere(self, data: st.DataObject) -> tuple[str, str]:
        held = [key for key, n in self.book.at.items() if n and key[1] in PLACES]
        return data.draw(st.sampled_from(sorted(held)))

    @rule(line=lines, first=few, second=few, to=st.sampled_from(PLACES))
    def count_twice_at_once(self, line: str, first: int, second: int, to: str) -> None:
        if line in self.t.lines:
            movements = [(line, first, "tray", to), (line, second, "tray", to)]
            self.moved(Counted(tuple(Move(*one) for one in movements)), movements)

    @rule(line=lines, quantity=few, place=st.sampled_from(["tray", "bench", "stores", "fitted/manifold"]))
    def add(self, line: str, quantity: int, place: str) -> None:
        if line not in self.t.lines:
            return
        closure = place.partition("/")[2]
        may = not closure or (line in FASTENERS[closure] + PARTS[closure] and closure not in self.book.off_once)
        movements = [(line, quantity, "origin", place)]

        def then(when: When) -> None:
            if closure:
                self.book.belong[line] += quantity
            self.book.move(movements, when)

        if entry := self.attempt(builders.add(line, quantity, place, "more"), may, then):
            self.undoable.append((entry, movements))

    @rule(data=st.data(), anywhere=st.sampled_from([*OPEN, "fitted/manifold", "missing"]))
    def tear_a_rag(self, data: st.DataObject, anywhere: str) -> None:
        held = sorted(p for (line, p), n in self.book.at.items() if line == "rag" and n and p not in NOT_AT_HAND)
        place = data.draw(st.sampled_from([*held, anywhere]))
        fact = builders.convert("rag", 1, place, [(PIECE, 2)], "torn")
        movements = [("rag", 1, place, "converted"), ("rag-piece", 2, "origin", place)]
        self.moved(fact, movements if place not in NOT_AT_HAND else [])

    @rule(line=lines, place=st.sampled_from(["tray", "bench", "stores"]))
    def renew(self, line: str, place: str) -> None:
        if line in self.t.lines:
            movements = [(line, 1, place, "scrap"), (line, 1, "origin", "new stock"), (line, 1, "new stock", place)]
            self.moved(builders.renew(line, 1, place, "worn"), movements)

    @rule(data=st.data())
    def undo(self, data: st.DataObject) -> None:
        if not self.undoable:
            return
        entry, made = self.undoable[-1 - data.draw(st.integers(0, min(4, len(self.undoable) - 1)))]
        back = [(line, quantity, target, source) for line, quantity, source, target in reversed(made)]

        def then(when: When) -> None:
            self.undone.add(entry.seq)
            for line, quantity, source, target in back:
                if target == "origin" and source.startswith("fitted/"):
                    self.book.belong[line] -= quantity
            self.book.move(back, when)

        may = entry.seq not in self.undone and self.book.may_move(back)
        self.attempt(builders.undo(entry, "by mistake"), may, then)

    # --- losing and finding

    @rule(data=st.data(), into=st.sampled_from(["", *SPACES]), who=people)
    def drop(self, data: st.DataObject, into: str, who: str) -> None:
        line, place = self.somewhere(data)
        movement = (line, 1, place, f"engine/{into}" if into else "missing")
        fact = builders.drop(self.t, line, 1, "here", source=place, into=into)
        may = self.book.may_move([movement])
        self.attempt(fact, may, lambda when: self.book.lose(movement, when, dropped=True), who)

    @rule(data=st.data(), who=people)
    def miss(self, data: st.DataObject, who: str) -> None:
        held = sorted(key for key, n in self.book.at.items() if n and key[1] not in ("missing", "converted"))
        line, place = data.draw(st.sampled_from(held))
        quantity = data.draw(st.integers(1, self.book.holds(line, place) + 1))
        movement = (line, quantity, place, "missing")
        fact = builders.miss(self.t, line, quantity, place)
        self.attempt(fact, self.book.may_move([movement]), lambda when: self.book.lose(movement, when), who)

    @rule(closure=closures)
    def short_at_the_start(self, closure: str) -> None:
        line = FASTENERS[closure][0]
        movement = (line, 1, f"fitted/{closure}", "missing")
        may = closure not in self.book.off_once and self.book.may_move([movement])
        fact = builders.short_at_start(self.t, line, 1, PHOTO)
        self.attempt(fact, may, lambda when: self.book.lose(movement, when, short=True))

    @rule(line=lines, quantity=few, to=st.sampled_from(["tray", "bench", "stores", "scrap", "engine/port-1"]))
    def find_again(self, line: str, quantity: int, to: str) -> None:
        if line in self.t.lines:
            movement = (line, quantity, "missing", to)
            fact = builders.find_again(self.t, line, quantity, "somewhere", to)
            self.attempt(fact, self.book.may_move([movement]), lambda when: self.book.find(movement, when))

    @rule(data=st.data(), more=st.sampled_from([0, 0, -1, 1]))
    def check(self, data: st.DataObject, more: int) -> None:
        line, place = self.somewhere(data)
        number = self.book.holds(line, place) + more
        fact = builders.check(line, place, number)
        self.attempt(fact, True, lambda when: self.book.saw(line, place, number, when))

    # --- openings, finds, looks

    @rule(data=st.data(), anything=openings, line=st.sampled_from(["cap", "cap", "rag", "rag-piece", "wrench"]))
    def cover(self, data: st.DataObject, anything: str, line: str) -> None:
        bare = [opening for opening, state in sorted(self.book.opening.items()) if state == "uncovered"]
        opening = data.draw(st.sampled_from([*bare, anything]))
        movement = (line, 1, "stores", f"cover/{opening}")
        may = self.book.opening[opening] == "uncovered" and line != "wrench" and self.book.may_move([movement])

        def then(when: When) -> None:
            self.book.move([movement], when)
            self.book.protect(opening, "covered", when)

        self.attempt(builders.cover(self.t, opening, line), may, then)

    @rule(opening=openings)
    def uncover(self, opening: str) -> None:
        place = f"cover/{opening}"
        movements = [(line, n, place, "stores") for (line, p), n in self.book.at.items() if p == place and n]
        may = self.book.opening[opening] == "covered"
        self.attempt(builders.uncover(self.t, opening), may, lambda when: self.book.move(movements, when))

    @rule(opening=openings, clear=st.sampled_from([True, True, True, False]))
    def look(self, opening: str, clear: bool) -> None:
        def then(when: When) -> None:
            self.book.looked[opening] = (when.n, clear)
            if not clear:
                self.book.touch(REACH[OPENINGS[opening][0]], when)

        fact = Looked(opening, clear, "what there is", PHOTO)
        self.attempt(fact, self.book.opening[opening] == "uncovered", then)

    @rule(where=st.sampled_from(["", *SPACES]))
    def log_a_find(self, where: str) -> None:
        self.finds += 1
        name = f"find-{self.finds}"

        def then(when: When) -> None:
            self.book.finds[name] = where
            self.book.touch(REACH.get(where, set()), when)
            self.book.doubt(REACH.get(where, set()))

        self.attempt(FindLogged(name, "old washer", where, PHOTO), True, then)

    @rule(number=st.integers(1, 4))
    def remove_a_find(self, number: int) -> None:
        name = f"find-{number}"
        fact = FindRemoved(name, "magnet", PHOTO, "bag")
        where = self.book.finds.get(name, "")

        def then(when: When) -> None:
            self.book.finds.pop(name)
            self.book.touch(REACH.get(where, set()), when)

        self.attempt(fact, name in self.book.finds, then)

    # --- closures

    @rule(closure=closures)
    def lift(self, closure: str) -> None:
        fact = Lifted(closure, PHOTO)
        self.attempt(fact, self.book.may_lift(closure), lambda when: self.book.lift(closure, when))

    @rule(closure=closures, who=people, more=st.sampled_from([0, 0, 0, 1]))
    def count_again(self, closure: str, who: str, more: int) -> None:
        pairs = second_count.count_list(self.t, closure)
        entries = [Seen(line, place, self.book.holds(line, place)) for line, place in pairs]
        entries[0] = entries[0]._replace(quantity=entries[0].quantity + more)

        def then(when: When) -> None:
            agreed = [self.book.saw(*seen, when) for seen in entries]
            self.book.counted_again[closure] = (when.n, all(agreed))

        fact = SecondCounted(closure, len(self.book.people) == 1, tuple(entries))
        self.attempt(fact, self.book.may_count_again(closure, self.now, who), then, who)

    @rule(closure=closures)
    def clear(self, closure: str) -> None:
        may = self.book.all_is_back(closure)
        event(f"clearance of the {closure} {'granted' if may else 'refused'}")

        def then(when: When) -> None:
            self.book.stage[closure], self.book.cleared[closure] = "cleared", True

        self.attempt(builders.clear_to_refit(self.t, closure, HEAD), may, then)

    @rule(closure=closures)
    def set_down(self, closure: str) -> None:
        may = self.book.stage[closure] == "cleared"
        self.attempt(Refitted(closure), may, lambda when: self.book.set_down(closure, when))

    @rule(closure=closures)
    def sign(self, closure: str) -> None:
        may = self.book.may_sign(closure)
        event(f"signature of the {closure} {'granted' if may else 'refused'}")

        def then(when: When) -> None:
            self.book.stage[closure] = "signed"
            self.book.signed[closure] = when.n

        self.attempt(builders.sign(self.t, closure, "24 N.m", HEAD), may, then)

    # --- people and time

    @rule()
    def the_deckhand_goes_or_comes(self) -> None:
        if TOMAS in self.book.people:
            self.attempt(Left(TOMAS), True, lambda when: self.book.people.remove(TOMAS))
        else:
            self.attempt(Joined(DECKHAND), True, lambda when: self.book.people.append(TOMAS))

    @rule()
    def the_work_is_done(self) -> None:
        self.attempt(WorkDone("seen it"), True, lambda when: None)

    @rule(minutes=st.sampled_from([1, 12, -30]))
    def wait(self, minutes: int) -> None:
        self.now = seconds_after(self.now, 60 * minutes)

    @rule()
    def turn_by_hand(self) -> None:
        self.attempt(HandTurned("free"), self.book.may_turn(), lambda when: setattr(self.book, "turned", when.n))

    # --- whole pieces of work, so that stories get somewhere

    @rule(closure=closures)
    def open_up(self, closure: str) -> None:
        for line in FASTENERS[closure]:
            if held := self.book.holds(line, f"fitted/{closure}"):
                self.count(line, held, f"fitted/{closure}", "tray")
        self.lift(closure)

    @rule()
    def open_up_everything(self) -> None:
        for closure in ("crossover", "manifold", "nozzle"):
            self.open_up(closure)

    @rule(closure=closures, times=st.integers(1, 3))
    def get_on_with_it(self, closure: str, times: int) -> None:
        """The careful worker's next stretch of work on a closure, whatever state it is in."""
        for _ in range(times):
            stage = self.book.stage[closure]
            if stage in ("fitted", "loosened", "recalled"):
                self.open_up(closure)
            elif stage == "lifted":
                self.tidy_up()
                self.make_ready(closure)
            else:
                self.close_up(closure)

    @rule(closure=closures)
    def get_on_until_it_is_signed(self, closure: str) -> None:
        for below in [*BENEATH[closure], closure]:
            self.get_on_with_it(below, 4 if self.book.stage[below] != "signed" else 0)

    @rule()
    def close_up_everything(self) -> None:
        for closure in ("nozzle", "manifold", "crossover"):
            if self.book.stage[closure] not in ("fitted", "signed"):
                self.get_on_with_it(closure, 3)

    @rule()
    def tidy_up(self) -> None:
        """Everything out of the engine and found again; every find settled, every difference counted again."""
        for opening in sorted(OPENINGS):
            if self.book.opening[opening] == "covered":
                self.uncover(opening)
        for (line, place), held in sorted(self.book.at.items()):
            family = place.partition("/")[0]
            home = "tray" if line in self.book.belong else "stores"
            if held and place == "missing":
                self.find_again(line, held, home)
            elif held and (family in ("engine", "on") or (family in ("tray", "bench") and place != home)):
                self.count(line, held, place, home)
        for name in sorted(self.book.finds):
            self.remove_a_find(int(name.partition("-")[2]))
        for line, place in sorted(self.book.differs):
            number = self.book.holds(line, place)
            fact = builders.check(line, place, number)
            self.attempt(fact, True, lambda when, seen=(line, place, number): self.book.saw(*seen, when))

    @rule(closure=closures)
    def make_ready(self, closure: str) -> None:
        """Look into every opening, then count again, by whoever may."""
        for opening, (_, over) in OPENINGS.items():
            if over == closure:
                self.look(opening, True)
        if len(self.book.people) == 1:
            self.now = seconds_after(self.now, 600)
        for who in (TOMAS, INES):
            if self.book.may_count_again(closure, self.now, who) and who in self.book.people:
                self.count_again(closure, who, 0)
                break
        self.clear(closure)

    @rule(closure=closures)
    def close_up(self, closure: str) -> None:
        self.set_down(closure)
        for line in FASTENERS[closure] + PARTS[closure]:
            due = self.book.belong[line] - self.book.holds(line, f"fitted/{closure}")
            if due > 0:
                self.count(line, due, "tray", f"fitted/{closure}")
        self.sign(closure)

    # --- always

    @invariant()
    def the_next_act_is_never_refused(self) -> None:
        if self.t.history and not self.t.ended:
            act = next_act(self.t, self.now)
            for fact in facts_of(self.t, act)[:1]:
                reasons = judge(self.t, fact, self.now, act.who or self.book.people[0])
                assert not reasons, f"{act.words}: {[r.words for r in reasons]}"

    def teardown(self) -> None:
        if not self.steps:
            return
        may = self.book.may_close()
        event(f"closing {'granted' if may else 'refused'}")
        before = len(self.t.history)
        self.attempt(builders.close(self.t, HEAD), may, lambda when: None)
        self.any_prefix_is_a_valid_state()
        for entry in self.t.history[:before]:
            text = rfc8785.dumps(fact_to_plain(entry.fact))
            assert fact_from_plain(entry.fact.kind, json.loads(text)) == entry.fact

    def any_prefix_is_a_valid_state(self) -> None:
        """Cut the history anywhere: it folds to the very state that stood there, and nothing is below zero."""
        length = len(self.t.history)
        for cut in sorted({1, length // 3, length // 2, length - 1, length} - {0}):
            state = fold(self.t.history[:cut])
            assert faults(state.balances) == []
            assert plain(state) == self.steps[cut - 1]
