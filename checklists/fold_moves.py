"""What a movement does to the state: balances first, then stages, clearances and discrepancies."""

from __future__ import annotations

from checklists import places
from checklists.exposure import COVERED, UNCOVERED
from checklists.facts import Move, Seen
from checklists.ledger import post
from checklists.state import (
    CLEARED,
    FITTED,
    IN_PLACE,
    LIFTED,
    LOOSENED,
    RECALLED,
    SET_DOWN,
    SIGNED,
    ClosureState,
    Discrepancy,
    Mark,
    Teardown,
)

#: Places where a movement touches no space and no closure.
_QUIET = frozenset({places.STORES, places.TRAY, places.BENCH, places.SCRAP, places.NEW_STOCK, places.ORIGIN})


def put_through(t: Teardown, moves: tuple[Move, ...], mark: Mark) -> None:
    """Put movements through the balances, and let stages, clearances and discrepancies follow."""
    post(t.balances, moves)
    for line, quantity, source, target in moves:
        arrived = (line, target)
        t.moved[line, source] = t.moved[arrived] = mark
        if t.balances.get(arrived) == quantity:
            t.sighted[arrived] = mark
        if not target.startswith("fitted/"):
            t.line_moved[line] = mark
        if source not in _QUIET:
            _moved_at(t, source, mark)
        if target not in _QUIET:
            _moved_at(t, target, mark)
    if t.discrepancies:
        settle(t, moves)


def _moved_at(t: Teardown, place: str, mark: Mark) -> None:
    family, _, name = place.partition("/")
    if family == "fitted":
        _fasteners_moved(t, name, mark)
    elif family == "engine":
        touch(t, t.ways.from_space.get(name, frozenset()) if name else t.exposure.not_sealed(), mark)
    elif family == "cover":
        _cover_moved(t, name, mark)
    elif family == "on" and t.closure_states[name].stage not in IN_PLACE:
        touch(t, t.spaces_of(name), mark)


def _fasteners_moved(t: Teardown, closure: str, mark: Mark) -> None:
    """Fasteners or parts of a closure came off or went home: its stage may follow."""
    state = t.closure_states[closure]
    complete = all_home(t, closure)
    if state.stage in (FITTED, SIGNED, RECALLED) and not complete:
        if state.stage == RECALLED:
            state.cleared = None
        state.stage, state.mark, state.signed = LOOSENED, mark, None
        for above in t.sheet.closures:
            if closure in above.lies_over and t.closure_states[above.id].stage == CLEARED:
                why = f"the {t.closures[closure].name} beneath it was opened again"
                withdraw(t.closure_states[above.id], mark, why)
    elif state.stage == LOOSENED and complete:
        state.stage, state.mark = (SET_DOWN if state.was_lifted else FITTED), mark


def all_home(t: Teardown, closure: str) -> bool:
    """Whether every fastener and part that belongs on a closure is counted home."""
    home = places.fitted(closure)
    return all(t.balances.get((line, home), 0) >= t.required[line] for line in t.lines_of(closure))


def touch(t: Teardown, spaces: frozenset[str], mark: Mark) -> None:
    """Something moved in these spaces: a standing clearance of a closure over them is withdrawn."""
    for space in spaces:
        t.touched[space] = mark
    for closure, state in t.closure_states.items():
        if state.stage == CLEARED and not spaces.isdisjoint(t.spaces_of(closure)):
            withdraw(state, mark, "a movement in its spaces after it was cleared")


def withdraw(state: ClosureState, mark: Mark, why: str) -> None:
    """A clearance no longer stands; `why` says what took it away."""
    state.cleared, state.remark = None, f"Clearance withdrawn: {why}."
    if state.stage == CLEARED:
        state.stage, state.mark = LIFTED, mark


def settle(t: Teardown, moves: tuple[Move, ...]) -> None:
    """A discrepancy is over once a movement makes the ledger agree with what was seen."""
    for line, _, source, target in moves:
        for key in ((line, source), (line, target)):
            if (known := t.discrepancies.get(key)) and known.seen == t.quantity(*key):
                del t.discrepancies[key]


def doubt(t: Teardown, spaces: frozenset[str] | None, mark: Mark, why: str) -> None:
    """Something may lie in these spaces (None: in any): sign-offs over them are recalled, clearances withdrawn."""
    for closure, state in t.closure_states.items():
        if spaces is not None and spaces.isdisjoint(t.spaces_of(closure)):
            continue
        if state.stage == SIGNED:
            state.stage, state.mark, state.signed = RECALLED, mark, None
            state.remark = f"Sign-off recalled: {why}."
        elif state.cleared:
            withdraw(state, mark, why)


def note_seen(t: Teardown, seen: Seen, mark: Mark) -> bool:
    """A count was made: it agrees (True) or it is a discrepancy from now on."""
    had = t.quantity(seen.line, seen.place)
    if seen.quantity == had:
        t.discrepancies.pop((seen.line, seen.place), None)
        t.sighted[seen.line, seen.place] = mark
        return True
    t.discrepancies[seen.line, seen.place] = Discrepancy(seen.quantity, had, mark)
    withdraw_all(t, mark, "a count made since differs")
    return False


def _cover_moved(t: Teardown, opening: str, mark: Mark) -> None:
    """A cover went in or came out. An opening whose covers are all gone, dropped or missing, stands uncovered."""
    touch(t, t.ways.from_opening.get(opening, frozenset()), mark)
    place = places.cover_of(opening)
    if t.opening_states[opening].state == COVERED and not any(p == place for _, p in t.balances):
        t.exposure.set(opening, UNCOVERED, *mark)


def withdraw_all(t: Teardown, mark: Mark, why: str) -> None:
    """Every standing clearance is taken away."""
    for state in t.closure_states.values():
        if state.stage == CLEARED:
            withdraw(state, mark, why)
