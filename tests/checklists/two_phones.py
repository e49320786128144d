"""Two phones on the small workboat job, in memory: each records by what it knows, and they exchange when told to."""

from __future__ import annotations

from dataclasses import fields, replace
from hashlib import sha256
from typing import Any

from kept_photos import but_for_photos, photo_first
from workboat_model import DECKHAND, FITTER, INES, SHEET, TOMAS

from checklists import builders
from checklists.facts import Acknowledged, Entry, Fact, Person, Photographed
from checklists.judge import judge
from checklists.photo_places import place_of_photo
from checklists.reasons import Reason
from checklists.sheet import Sheet
from checklists.state import Teardown
from checklists.teardown import apply, fold
from checklists.times import seconds_after

START = "2026-03-02T08:00:00.000+01:00"


class Phone:
    """One phone's journal of the job, with the state it has folded."""

    def __init__(self, device: str, who: str) -> None:
        self.device, self.who = device, who
        self.entries: list[Entry] = []
        self.t = Teardown()
        self.now = START

    def refused(self, fact: Fact, who: str = "") -> tuple[Reason, ...]:
        """Why somebody may not do it, by what this phone knows; a photo that it names could be kept."""
        *photo, act = photo_first(self.t, fact, self.now)
        against = judge(self.t, act, self.now, who or self.who)
        return but_for_photos(against) if photo else against

    def do(self, fact: Fact, who: str = "") -> Entry:
        """Somebody does it on this phone, its photo kept first, and it may happen; a minute passes."""
        *photo, act = photo_first(self.t, self._photographed_here(fact), self.now)
        for taken in photo:
            self._put(taken, who)
        entry = self._put(act, who)
        self.now = seconds_after(self.now, 60)
        return entry

    def _photographed_here(self, fact: Fact) -> Fact:
        """Two phones never take the same photo, though the stories call theirs by the same words."""
        if isinstance(fact, Photographed):
            return replace(fact, photo=sha256(f"{fact.photo} on {self.device}".encode()).hexdigest())
        if place_of_photo(fact) is None or fact.photo in self.t.photos:
            return fact
        return replace(fact, photo=f"{fact.photo} on {self.device}")

    def _put(self, fact: Fact, who: str) -> Entry:
        reasons = judge(self.t, fact, self.now, who or self.who)
        assert not reasons, f"{fact.kind} refused on {self.device}: {[reason.words for reason in reasons]}"
        heads = self.heads()
        seen = tuple(sorted((device, seq) for device, seq in heads.items() if device != self.device))
        tick = max((entry.tick for entry in self.entries), default=0) + 1
        entry = Entry(fact, self.now, who or self.who, self.device, heads.get(self.device, 0) + 1, tick, seen)
        self.entries.append(entry)
        apply(self.t, entry)
        return entry

    def heads(self) -> dict[str, int]:
        """How far each device's chain is known here."""
        heads: dict[str, int] = {}
        for entry in self.entries:
            heads[entry.device] = max(heads.get(entry.device, 0), entry.seq)
        return heads

    def take(self, other: Phone) -> None:
        """Take in whatever the other phone knows."""
        known = {(entry.device, entry.seq) for entry in self.entries}
        self.entries += [entry for entry in other.entries if (entry.device, entry.seq) not in known]
        self.entries.sort(key=lambda entry: (entry.tick, entry.device))
        self.now = max(self.now, other.now)
        self.t = fold(self.entries)

    def count(self, line: str, quantity: int, source: str, target: str) -> Entry:
        """Count items from one place to another."""
        return self.do(builders.move(line, quantity, source, target))


def two_phones(*people: Person, sheet: Sheet = SHEET) -> tuple[Phone, Phone]:
    """The job started and its caution read on the fitter's phone, and the deckhand's phone that has taken that in."""
    fitters, deckhands = Phone("phone-a", INES), Phone("phone-b", TOMAS)
    everybody = people or (FITTER, DECKHAND)
    fitters.do(builders.start(sheet, "harbour workboat Petrel", everybody, "It smokes.", "Dry."))
    for caution in sheet.cautions:
        fitters.do(Acknowledged(caution.id))
    deckhands.take(fitters)
    return fitters, deckhands


def exchange(one: Phone, other: Phone) -> Teardown:
    """Each takes in what the other knows; the state both then have."""
    one.take(other)
    other.take(one)
    assert state_of(one.t) == state_of(other.t)
    assert one.heads() == other.heads()
    return one.t


def state_of(t: Teardown) -> dict[str, Any]:
    """Everything a teardown's state holds, to compare by; without what only the fold needs."""
    names = [f.name for f in fields(t) if f.name not in ("ways", "exposure", "merging", "balances")]
    state = {name: repr(getattr(t, name)) for name in names}
    return state | {"balances": repr(sorted(t.balances.items())), "openings": repr(t.opening_states)}
