"""What a movement does to the state: balances first, then stages, clearances and discrepancies."""

from __future__ import annotations

from checklists import places
from checklists.exposure import COVERED, UNCOVERED
from checklists.facts import Move, Seen
from checklists.fold_clashes import after_moves, settle_by_count
from checklists.fold_standing import doubt, touch, withdraw, withdraw_all
from checklists.ledger import post
from checklists.state import (
    CLEARED,
    FITTED,
    IN_PLACE,
    LOOSENED,
    RECALLED,
    SET_DOWN,
    SIGNED,
    Discrepancy,
    Mark,
    Teardown,
)
from checklists.words import within

#: Places where a movement touches no space and no closure.
_QUIET = frozenset(
    {places.STORES, places.TRAY, places.BENCH, places.FLOOR, places.SCRAP, places.NEW_STOCK, places.ORIGIN}
)


__all__ = ["all_home", "doubt", "note_seen", "put_through", "settle", "touch", "withdraw", "withdraw_all"]


def put_through(t: Teardown, moves: tuple[Move, ...], mark: Mark, *, seen: bool = True) -> tuple[Move, ...]:
    """Put movements through the balances, and let stages, clearances and discrepancies follow.

    Whoever moved all that is at a place now has `seen` it there; not so where it is only put right on paper. Returns
    the movements that went through: all of them, but where two phones each took the last one.
    """
    short = post(t.balances, moves)
    if short:
        moves = _without(moves, short)
    for line, quantity, source, target in moves:
        arrived = (line, target)
        t.moved[line, source] = t.moved[arrived] = mark
        if seen and t.balances.get(arrived) == quantity:
            t.sighted[arrived] = mark
        if not target.startswith("fitted/"):
            t.line_moved[line] = mark
        if source not in _QUIET:
            _moved_at(t, source, mark)
        if target not in _QUIET:
            _moved_at(t, target, mark)
    if t.discrepancies:
        settle(t, moves)
    if short or t.merging is not None:
        after_moves(t, moves, short, mark)
    return moves


def _without(moves: tuple[Move, ...], short: tuple[Move, ...]) -> tuple[Move, ...]:
    left = list(moves)
    for move in short:
        left.remove(move)
    return tuple(left)


def _moved_at(t: Teardown, place: str, mark: Mark) -> None:
    family, _, name = place.partition("/")
    if family == "fitted":
        _fasteners_moved(t, name, mark)
    elif family == "engine":
        touch(t, t.ways.from_space.get(name, frozenset()) if name else t.exposure.not_sealed(), mark, name)
    elif family == "cover":
        _cover_moved(t, name, mark)
    elif family == "on" and t.closure_states[name].stage not in IN_PLACE:
        touch(t, t.spaces_of(name), mark)


def _fasteners_moved(t: Teardown, closure: str, mark: Mark) -> None:
    """Fasteners or parts of a closure came off or went home: its stage may follow."""
    state = t.closure_states[closure]
    complete = all_home(t, closure)
    if not complete and t.tightened:
        t.tightened.pop(closure, None)  # what was tightened holds nothing once one is out again
    if state.stage in (FITTED, SIGNED, RECALLED) and not complete:
        if state.stage == RECALLED:
            state.cleared = None
        state.stage, state.mark, state.signed = LOOSENED, mark, None
        for above in t.sheet.closures:
            if closure in above.lies_over and t.closure_states[above.id].stage == CLEARED:
                why = f"the {within(t.closures[closure].name)} beneath it was opened again"
                withdraw(t.closure_states[above.id], mark, why)
    elif state.stage == LOOSENED and complete:
        state.stage, state.mark = (SET_DOWN if state.was_lifted else FITTED), mark


def all_home(t: Teardown, closure: str) -> bool:
    """Whether every fastener and part that belongs on a closure is counted home."""
    home = places.fitted(closure)
    return all(t.balances.get((line, home), 0) >= t.required[line] for line in t.lines_of(closure))


def settle(t: Teardown, moves: tuple[Move, ...]) -> None:
    """A discrepancy is over once a movement makes the ledger agree with what was seen."""
    for line, _, source, target in moves:
        for key in ((line, source), (line, target)):
            if (known := t.discrepancies.get(key)) and known.seen == t.quantity(*key):
                del t.discrepancies[key]
                settle_by_count(t, *key, known.mark.n)


def note_seen(t: Teardown, seen: Seen, mark: Mark) -> bool:
    """A count was made: it agrees (True) or it is a discrepancy from now on."""
    had = t.quantity(seen.line, seen.place)
    if seen.quantity == had:
        t.discrepancies.pop((seen.line, seen.place), None)
        t.sighted[seen.line, seen.place] = mark
        if t.clashes:
            settle_by_count(t, seen.line, seen.place, mark.n)
        return True
    t.discrepancies[seen.line, seen.place] = Discrepancy(seen.quantity, had, mark)
    withdraw_all(t, mark, "a count made since differs")
    return False


def _cover_moved(t: Teardown, opening: str, mark: Mark) -> None:
    """A cover went in or came out. An opening whose covers are all gone, dropped or missing, stands uncovered."""
    space = t.openings[opening].space if opening in t.openings else ""
    touch(t, t.ways.from_opening.get(opening, frozenset()), mark, space)
    place = places.cover_of(opening)
    if t.opening_states[opening].state == COVERED and not any(p == place for _, p in t.balances):
        t.exposure.set(opening, UNCOVERED, *mark)
