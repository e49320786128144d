"""Two phones work on one teardown at random and meet at random: both come to the same state, and nothing is silent."""

from __future__ import annotations

import random
from itertools import product

import pytest
from careful_worker import CarefulWorker
from two_phones import Phone, exchange, state_of, two_phones
from workboat_model import FITTER, HEAD, PHOTO

from checklists import builders, gate, places, second_count
from checklists.facts import (
    Entry,
    Fact,
    FindLogged,
    FindRemoved,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Person,
    Refitted,
    Reversed,
    SecondCounted,
    TookOver,
    WorkDone,
    moves_of,
)
from checklists.ledger import faults
from checklists.merging import had_seen
from checklists.next_act import next_act
from checklists.state import CLEARED, CLOSED, SET_DOWN, SIGNED, Teardown
from checklists.teardown import fold


class Follower(CarefulWorker):
    """Knows what facts the next act asks for, on a teardown that somebody else records."""

    def __init__(self, teardown: Teardown) -> None:
        self.teardown = teardown


def led(phone: Phone) -> list[Fact]:
    """What the next act asks for."""
    act = next_act(phone.t, phone.now)
    if act.do in ("settle",):
        return [builders.check(act.line, act.place, phone.t.quantity(act.line, act.place))]
    if act.do == "search":
        return [builders.find_again(phone.t, act.line, act.quantity, "under the bench")]
    if act.do == "remove find":
        return [FindRemoved(act.find, "by hand", PHOTO, "in a bag")]
    if act.do == "wait":
        phone.now = max(act.until, phone.now)
        return []
    if act.do in ("ended", "add", "grow"):
        return []
    return Follower(phone.t).facts(act)


def anything(phone: Phone, dice: random.Random) -> list[Fact]:
    """One act at random, sensible or not; the rules will say."""
    t = phone.t
    line = dice.choice(list(t.lines))
    closure, opening = dice.choice(list(t.closures)), dice.choice(list(t.openings))
    held = sorted(t.places_of(line)) or [places.STORES]
    ends = [places.TRAY, places.BENCH, places.STORES, places.ENGINE, places.SCRAP, t.lines[line].home]
    ends += [places.inside(space) for space in t.spaces] + [places.lying_on(closure)]
    source, target = dice.choice(held), dice.choice(ends)
    number = dice.randint(1, 2)
    count_list = second_count.count_list(t, closure)
    undoable = builders.last_undoable(t)
    acts = [
        builders.move(line, number, source, target),
        builders.move(line, number, source, target),
        builders.check(line, source if source != places.MISSING else places.TRAY, t.quantity(line, source)),
        builders.check(line, target, dice.randint(0, 2)),
        builders.drop(t, line, 1, "by the ports", source),
        builders.miss(t, line, 1, source),
        builders.find_again(t, line, 1, "on the floor"),
        builders.add(line, 1, places.STORES, "one more"),
        builders.renew(line, 1, source, "worn"),
        builders.cover(t, opening, dice.choice(["cap", "rag"])),
        builders.uncover(t, opening),
        Looked(opening, dice.random() < 0.8, "what is there", PHOTO),
        Lifted(closure, PHOTO),
        Refitted(closure),
        builders.second_counted(t, closure, [t.quantity(*pair) for pair in count_list]),
        builders.clear_to_refit(t, closure, HEAD),
        builders.sign(t, closure, "24 N.m", HEAD),
        FindLogged(f"find-{len(t.finds)}", "a washer", dice.choice(["", *t.spaces]), PHOTO),
        Joined(Person(f"helper {len(t.people)}", "helper")),
        WorkDone("done"),
        HandTurned("free"),
        builders.close(t, HEAD),
    ]
    acts += [FindRemoved(find, "by hand", PHOTO, "in a bag") for find in t.finds]
    acts += [builders.undo(undoable, "a slip")] if undoable else []
    acts += [Left(t.people[-1].name)] if len(t.people) > 2 else []
    return [dice.choice(acts)]


def work(phone: Phone, dice: random.Random, wildness: float) -> None:
    facts = anything(phone, dice) if dice.random() < wildness else led(phone)
    for fact in facts[: dice.randint(1, 12)]:
        for who in dice.sample([person.name for person in phone.t.people], len(phone.t.people)):
            if not phone.refused(fact, who):
                phone.do(fact, who)
                assert faults(phone.t.balances) == []
                break


def play(seed: int, steps: int) -> tuple[Phone, Phone]:
    """Two phones at work by the dice, then a full exchange."""
    dice = random.Random(seed)
    phones = two_phones(*([FITTER] if dice.random() < 0.3 else []))
    wildness, meetings = dice.choice([0.05, 0.2, 0.6]), dice.choice([0.02, 0.1, 0.3])
    for _ in range(steps):
        one, other = dice.sample(phones, 2)
        if dice.random() < meetings:
            take(one, other)
        else:
            work(one, dice, wildness)
    exchange(*phones)
    return phones


def take(one: Phone, other: Phone) -> None:
    """One takes in what the other knows. What one had recorded by itself must fold to what it had applied."""
    assert state_of(fold(one.entries)) == state_of(one.t)
    one.take(other)
    assert state_of(fold(one.entries)) == state_of(one.t)


# --- what must hold, said without the code that is tested


def unseen_pairs(entries: list[Entry]) -> list[tuple[Entry, Entry]]:
    """Pairs of entries that move something, of different phones neither of which had seen the other."""
    moving = [entry for entry in entries if moves_of(entry.fact)]
    ours = [entry for entry in moving if entry.device == "phone-a"]
    theirs = [entry for entry in moving if entry.device == "phone-b"]
    return [
        (a, b)
        for a, b in product(ours, theirs)
        if not had_seen(a, b.device, b.seq) and not had_seen(b, a.device, a.seq)
    ]


def not_put_through(entries: list[Entry]) -> set[tuple[str, int, int]]:
    """Movements (by device, seq and their number in the entry) whose source held too little, by a plain replay."""
    held: dict[tuple[str, str], int] = {}
    short = set()
    for entry in entries:
        for number, (line, quantity, source, target) in enumerate(moves_of(entry.fact)):
            if source != "origin" and held.get((line, source), 0) < quantity:
                short.add((entry.device, entry.seq, number))
                continue
            held[line, source] = held.get((line, source), 0) - quantity
            held[line, target] = held.get((line, target), 0) + quantity
    return short


def counted_since(entries: list[Entry], pair: tuple[Entry, ...], line: str) -> bool:
    """Whether somebody who had seen these counted that line since, or took one of them back."""
    for entry in entries:
        fact = entry.fact
        if isinstance(fact, Reversed) and any((fact.device, fact.seq) == (e.device, e.seq) for e in pair):
            return True
        if all(had_seen(entry, e.device, e.seq) for e in pair):
            rows = fact.entries if isinstance(fact, SecondCounted | TookOver) else [getattr(fact, "seen", None)]
            if any(getattr(row, "line", "") == line for row in rows):
                return True
    return False


def every_double_shows(entries: list[Entry], t: Teardown) -> int:
    shown = {(clash.line, clash.source, clash.target) for clash in t.clashes.values()}
    short = not_put_through(entries)
    doubles = 0
    for a, b in unseen_pairs(entries):
        for (m, mine), (n, theirs) in product(enumerate(moves_of(a.fact)), enumerate(moves_of(b.fact))):
            same = (mine.line, mine.source, mine.target) == (theirs.line, theirs.source, theirs.target)
            both = short.isdisjoint({(a.device, a.seq, m), (b.device, b.seq, n)})
            if same and both and not counted_since(entries, (a, b), mine.line):
                assert (mine.line, mine.source, mine.target) in shown
                assert gate.why_not_close(t)
                doubles += 1
    return doubles


def every_movement_undone_shows(entries: list[Entry], t: Teardown) -> None:
    shown = {(clash.line, clash.source, clash.target) for clash in t.clashes.values()}
    short = not_put_through(entries)
    for entry in entries:
        for number, move in enumerate(moves_of(entry.fact)):
            if (entry.device, entry.seq, number) in short and not counted_since(entries, (entry,), move.line):
                assert (move.line, move.source, move.target) in shown


def nothing_stands_that_should_not(t: Teardown) -> None:
    if t.ended == CLOSED:
        assert gate.why_not_close(t) == ()
    # A closure that is to be lifted again is as good as open: what lies beneath stands against clearing it anew.
    again = [c for c, state in t.closure_states.items() if state.stage == SET_DOWN and state.cleared is None]
    open_spaces = t.exposure.not_sealed().union(*map(t.spaces_of, again))
    for closure, state in t.closure_states.items():
        spaces = t.spaces_of(closure)
        inside = {p for (_, p) in t.balances if p.startswith("engine/") and places.named(p) in spaces}
        if state.stage == CLEARED:
            assert not inside
            assert not t.clashes
            assert not t.discrepancies
        if state.stage == SIGNED:
            assert not [p for p in inside if places.named(p) not in open_spaces]
            for line in t.lines_of(closure):
                assert t.quantity(line, places.fitted(closure)) >= t.required[line]
        if state.stage in (SIGNED, CLEARED):
            could_hold = [t.could_hold(item) for item in t.missing]
            assert all(held is not None and held.isdisjoint(spaces) for held in could_hold)


def check(seed: int, steps: int) -> int:
    one, other = play(seed, steps)
    assert faults(one.t.balances) == []
    assert one.entries == other.entries
    nothing_stands_that_should_not(one.t)
    every_movement_undone_shows(one.entries, one.t)
    return every_double_shows(one.entries, one.t)


@pytest.mark.parametrize("block", range(4))
def test_two_phones_at_random(block):
    shown = sum(check(seed, 120) for seed in range(block * 25, block * 25 + 25))
    assert shown  # the dice do make doubles


@pytest.mark.slow
@pytest.mark.parametrize("block", range(10))
def test_two_phones_at_random_for_long(block):
    for seed in range(1000 + block * 100, 1000 + block * 100 + 100):
        check(seed, 200)
