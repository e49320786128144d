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
from checklists.fold_moves import doubt, note_seen, touch
from checklists.state import FindState, Mark, SecondCount, Teardown


def checked(t: Teardown, fact: Checked, mark: Mark) -> None:
    note_seen(t, fact.seen, mark)


def find_logged(t: Teardown, fact: FindLogged, mark: Mark) -> None:
    t.finds[fact.find] = FindState(fact, mark)
    spaces = t.ways.from_space.get(fact.where, frozenset())
    touch(t, spaces, mark)
    doubt(t, spaces, mark, f"{fact.what} was found there")


def find_removed(t: Teardown, fact: FindRemoved, mark: Mark) -> None:
    known = t.finds[fact.find]
    known.removed = fact
    touch(t, t.ways.from_space.get(known.logged.where, frozenset()), mark)


def looked(t: Teardown, fact: Looked, mark: Mark) -> None:
    t.looks[fact.opening] = (fact, mark)
    if not fact.clear:
        touch(t, t.ways.from_opening[fact.opening], mark)


def second_counted(t: Teardown, fact: SecondCounted, mark: Mark) -> None:
    agreements = [note_seen(t, seen, mark) for seen in fact.entries]
    t.second_counts[fact.closure] = SecondCount(fact, mark, all(agreements))


def find_matched(t: Teardown, fact: FindMatched, mark: Mark) -> None:
    found_again(t, fact.moves, mark, f"as a find: {t.finds[fact.find].logged.what}")


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
