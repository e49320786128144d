"""A small workboat job that stories are told on: a manifold over two ports, a crossover over it, a nozzle holder.

Two people, and a clock that steps a minute an act."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from decimal import Decimal
from typing import Any

from kept_photos import HAND, photo_first
from searched_twice import searched_twice

from checklists import builders, second_count
from checklists.facts import Acknowledged, Counted, Entry, Fact, Lifted, Looked, Move, Person, Refitted
from checklists.judge import judge
from checklists.ledger import faults
from checklists.reasons import Reason
from checklists.sheet import Caution, Closure, Fastener, Line, Opening, Part, Passage, Shape, Sheet, Space
from checklists.state import Teardown
from checklists.teardown import apply
from checklists.times import seconds_after

INES, TOMAS = "Ines Vardal", "Tomas Reke"
FITTER, DECKHAND = Person(INES, "fitter"), Person(TOMAS, "deckhand")
BOLT, GASKET, CLIP_BOLT, NUT = "manifold.bolt", "manifold.gasket", "crossover.bolt", "nozzle.nut"
HEAD = "0" * 64
PHOTO = "photos/somewhere.jpg"
HOLE = Shape("circle", (Decimal(32),))

SHEET = Sheet(
    name="Manifold off",
    machine="inline diesel",
    cautions=(Caution("cold", "Let it cool."),),
    spaces=(
        Space("port-1", "inlet port 1", "The valve."),
        Space("port-2", "inlet port 2", "The valve."),
        Space("cylinder-1", "cylinder 1", "The piston."),
        Space("cylinder-2", "cylinder 2", "The piston."),
        Space("jacket", "the coolant jacket", "The flow."),
    ),
    passages=(
        Passage("port-1", "cylinder-1", HOLE, "falls"),
        Passage("port-2", "cylinder-2", HOLE, "falls"),
    ),
    openings=(
        Opening("outlet", "the coolant outlet", "jacket", HOLE, "crossover", "Plug."),
        Opening("inlet-1", "inlet 1", "port-1", HOLE, "manifold", "Cap."),
        Opening("inlet-2", "inlet 2", "port-2", HOLE, "manifold", "Cap."),
        Opening("nozzle-hole", "the nozzle hole", "cylinder-1", HOLE, "nozzle", "Plug."),
    ),
    closures=(
        Closure("crossover", "crossover", (Fastener("bolt", "M6 clip bolt", 2),), (), "10 N.m", ("manifold",), False),
        Closure("manifold", "manifold", (Fastener("bolt", "M8 bolt", 10),), (Part("gasket", "gasket", 1),), "24 N.m",
                (), True),
        Closure("nozzle", "nozzle holder", (Fastener("nut", "M8 nut", 2),), (), "", (), False),
    ),
    items=(
        Line("cap", "port cap", "cover", 3, "stores"),
        Line("rag", "rag", "rag", 4, "stores"),
        Line("wrench", "wrench", "tool", 1, "stores"),
        Line("glasses", "reading glasses", "personal item", 1, "stores"),
        Line("pack", "pack of wipes", "consumable", 1, "stores"),
    ),
)  # fmt: skip


class Job:
    """A teardown of the small sheet. `do` asserts that an act may happen, `refused` that it may not."""

    def __init__(self, *people: Person, sheet: Sheet = SHEET, read: bool = True) -> None:
        self.t = Teardown()
        self.now = "2026-03-02T08:00:00.000+01:00"
        self.do(builders.start(sheet, "harbour workboat Petrel", people or (FITTER, DECKHAND), "It smokes.", "Dry."))
        for caution in sheet.cautions if read else ():
            self.do(Acknowledged(caution.id))

    def search_twice(self) -> None:
        """Search wherever something missing could be, first Ines, then Tomas."""
        for fact, who in searched_twice(self.t, INES, TOMAS):
            self.do(fact, who)

    def later(self, minutes: float) -> None:
        """Let the clock go on; back, with a negative figure."""
        self.now = seconds_after(self.now, minutes * 60)

    def keep_photo(self, fact: Fact, who: str = INES) -> Fact:
        """Take the photo that an act names and keep it, if it may be kept; the act, naming it by its hash."""
        *photos, act = photo_first(self.t, fact, self.now)
        for photo in photos:
            if judge(self.t, photo, self.now, who):
                return fact
            self.put(photo, who)
        return act

    def do(self, fact: Fact, who: str = INES) -> Entry:
        """Somebody does it, and it may happen, its photo kept first; a minute passes."""
        entry = self.put(self.keep_photo(fact, who), who)
        self.later(1)
        return entry

    def put(self, fact: Fact, who: str = INES) -> Entry:
        """Record an act that must be allowed, just as it is."""
        reasons = judge(self.t, fact, self.now, who)
        assert not reasons, f"{fact.kind} refused: {[reason.words for reason in reasons]}"
        number = len(self.t.history) + 1
        entry = Entry(fact, self.now, who, "phone-a", number, number)
        apply(self.t, entry)
        assert faults(self.t.balances) == []
        return entry

    def refused(self, fact: Fact, who: str = INES) -> tuple[Reason, ...]:
        """Somebody tries it, its photo kept first, and it may not happen: every reason why. The state is as before."""
        return self.refused_as_it_is(self.keep_photo(fact, who), who)

    def refused_as_it_is(self, fact: Fact, who: str = INES) -> tuple[Reason, ...]:
        """The same, with the photo that the act names, kept or not."""
        before = plain(self.t)
        reasons = judge(self.t, fact, self.now, who)
        assert reasons, f"{fact.kind} was allowed"
        assert plain(self.t) == before
        assert all(reason.code and reason.words and reason.do_next for reason in reasons)
        return reasons

    # --- the worker's usual acts

    def count(self, line: str, quantity: int, source: str, target: str, who: str = INES) -> Entry:
        return self.do(builders.move(line, quantity, source, target), who)

    def lift(self, *closures: str) -> None:
        """Take each closure off: its fasteners to the tray one by one, the lift check, the lift."""
        for closure in closures:
            home = f"fitted/{closure}"
            for line in self.t.lines_of(closure):
                if self.t.lines[line].kind == "fastener":
                    for _ in range(self.t.quantity(line, home)):
                        self.count(line, 1, home, "tray")
            self.do(Lifted(closure, PHOTO))

    def look(self, *openings: str, who: str = INES) -> None:
        for opening in openings:
            self.do(Looked(opening, True, "clean and dry", PHOTO), who)

    def look_into(self, closure: str) -> None:
        self.look(*self.t.ways.openings_of[closure])

    def second_count(self, closure: str = "manifold", who: str = TOMAS, **differing: int) -> Entry:
        """A second count that agrees, but for lines named with how many more (or fewer) are seen."""
        return self.do(self.counted_again(closure, **differing), who)

    def counted_again(self, closure: str = "manifold", **differing: int) -> Fact:
        pairs = second_count.count_list(self.t, closure)
        left = {name.replace("_", "."): more for name, more in differing.items()}
        seen = [
            self.t.quantity(line, place) + (left.pop(line, 0) if self.t.quantity(line, place) else 0)
            for line, place in pairs
        ]
        assert not left, f"not in this count: {left}"
        return builders.second_counted(self.t, closure, seen)

    def clearing(self, closure: str) -> Fact:
        return builders.clear_to_refit(self.t, closure, HEAD, HAND)

    def clear(self, closure: str) -> None:
        """Look in, count again where it is demanded, and sign the clearance."""
        self.look_into(closure)
        if self.t.closures[closure].second_count:
            self.second_count(closure)
        self.do(self.clearing(closure))

    def signing(self, closure: str, torque: str = "24 N.m") -> Fact:
        return builders.sign(self.t, closure, torque, HEAD, HAND)

    def home(self, closure: str) -> None:
        """Count everything of a closure home, one by one, from the tray."""
        for line in self.t.lines_of(closure):
            while self.t.quantity(line, "tray"):
                self.count(line, 1, "tray", f"fitted/{closure}")

    def refit(self, *closures: str) -> None:
        """Clear each closure, set it down, count everything home and sign."""
        for closure in closures:
            self.clear(closure)
            self.do(Refitted(closure))
            self.home(closure)
            self.do(self.signing(closure))

    def stage(self, closure: str) -> str:
        return self.t.closure_states[closure].stage


def moves(*several: tuple[str, int, str, str]) -> Counted:
    """One count with several movements."""
    return Counted(tuple(Move(*one) for one in several))


def codes(reasons: Iterable[Reason]) -> list[str]:
    """The codes of reasons, in their order."""
    return [reason.code for reason in reasons]


def only(reasons: Iterable[Reason], code: str) -> Reason:
    """The one reason with this code."""
    (reason,) = [reason for reason in reasons if reason.code == code]
    return reason


def plain(t: Teardown) -> dict[str, Any]:
    """Everything a teardown's state holds, as text, to compare by."""
    state = {f.name: repr(getattr(t, f.name)) for f in fields(t) if f.name not in ("ways", "exposure", "history")}
    places = repr(sorted(t.balances.items()))
    return state | {"balances": places, "openings": repr(t.opening_states), "length": len(t.history)}
