"""What counts, looks, finds, photos and handovers do to the state."""

from __future__ import annotations

from checklists.facts import (
    Checked,
    FindLogged,
    FindMatched,
    FindRemoved,
    HandedOver,
    Looked,
    Photographed,
    SecondCounted,
    Secured,
    TookOver,
)
from checklists.fold_losses import found_again
from checklists.fold_merge import keep_look, keep_second_count
from checklists.fold_moves import doubt, note_seen, touch
from checklists.state import SIGNED, FindState, Mark, SecondCount, Teardown


def checked(t: Teardown, fact: Checked, mark: Mark) -> None:
    note_seen(t, fact.seen, mark)


def find_logged(t: Teardown, fact: FindLogged, mark: Mark) -> None:
    find = t.merging.name_find(fact.find, t.finds) if t.merging else fact.find
    t.finds[find] = FindState(fact, mark)
    spaces = t.ways.from_space.get(fact.where, frozenset())
    touch(t, spaces, mark, fact.where)
    signed = [closure for closure, state in t.closure_states.items() if state.stage == SIGNED]
    doubt(t, spaces, mark, f"{fact.what} was found there")
    for closure in signed:
        if fact.where in t.spaces_of(closure):
            # Whoever looked in before it went back did not see it: it comes off, and is looked into again.
            t.closure_states[closure].cleared = None


def _find(t: Teardown, find: str) -> str:
    return t.merging.find_named(find) if t.merging else find


def find_removed(t: Teardown, fact: FindRemoved, mark: Mark) -> None:
    known = t.finds[_find(t, fact.find)]
    known.removed = fact
    where = known.logged.where
    touch(t, t.ways.from_space.get(where, frozenset()), mark, where)


def looked(t: Teardown, fact: Looked, mark: Mark) -> None:
    if counts_from := keep_look(t, fact, mark):
        t.looks[fact.opening] = (fact, counts_from)
    if not fact.clear:
        touch(t, t.ways.from_opening[fact.opening], mark)


def second_counted(t: Teardown, fact: SecondCounted, mark: Mark) -> None:
    agreements = [note_seen(t, seen, mark) for seen in fact.entries]
    if count := keep_second_count(t, fact.closure, SecondCount(fact, mark, all(agreements))):
        t.second_counts[fact.closure] = count


def find_matched(t: Teardown, fact: FindMatched, mark: Mark) -> None:
    known = t.finds[_find(t, fact.find)]
    known.ours = (*known.ours, *((move.line, move.quantity) for move in fact.moves))
    found_again(t, fact.moves, mark, f"known again in the find “{known.logged.what}”")


def photographed(t: Teardown, fact: Photographed, mark: Mark) -> None:
    t.photos.setdefault(fact.photo, (fact, mark))


def machine_secured(t: Teardown, fact: Secured, mark: Mark) -> None:
    t.secured = mark


def handed_over(t: Teardown, fact: HandedOver, mark: Mark) -> None:
    t.offered = (fact, mark)


def took_over(t: Teardown, fact: TookOver, mark: Mark) -> None:
    for seen in fact.entries:
        note_seen(t, seen, mark)
    t.offered, t.holder = None, mark.who
