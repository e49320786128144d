"""Folding entries into the state of a teardown.

`apply` never refuses: what is in the journal happened. Whether something may happen is asked of `judge` before it is
written. Entries from two phones can contradict each other once merged; the balances then show it, below zero.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from checklists import places
from checklists.exposure import COVERED, SEALED, UNCOVERED
from checklists.facts import (
    Acknowledged,
    Added,
    Checked,
    Cleared,
    Closed,
    Converted,
    Counted,
    Covered,
    Dropped,
    Entry,
    FindLogged,
    FindRemoved,
    Found,
    Grown,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Missed,
    Move,
    Refitted,
    Released,
    Renewed,
    Reversed,
    SecondCounted,
    Seen,
    Short,
    Signed,
    Started,
    Uncovered,
    WorkDone,
)
from checklists.ledger import post
from checklists.sheet import Line, Sheet, merge_sheets
from checklists.state import (
    CLEARED,
    CLOSED,
    FITTED,
    IN_PLACE,
    LIFTED,
    LOOSENED,
    RECALLED,
    RELEASED,
    SET_DOWN,
    SIGNED,
    ClosureState,
    Discrepancy,
    Drop,
    FindState,
    Mark,
    MissingItem,
    SecondCount,
    Teardown,
)
from checklists.ways_in import WaysIn


def fold(entries: Iterable[Entry]) -> Teardown:
    """The state after all these entries, in their order (tick, device)."""
    teardown = Teardown()
    for entry in entries:
        apply(teardown, entry)
    return teardown


def apply(teardown: Teardown, entry: Entry) -> None:
    """Let one more entry change the state."""
    history = teardown.history
    history.append(entry)
    fact = entry[0]
    _HANDLERS[type(fact)](teardown, fact, Mark(len(history), entry[1], entry[2]))


#: Places where a movement touches no space and no closure.
_QUIET = frozenset({places.STORES, places.TRAY, places.BENCH, places.SCRAP, places.NEW_STOCK, places.ORIGIN})

# --- movements ---------------------------------------------------------------------------------------------------


def _move(t: Teardown, moves: tuple[Move, ...], mark: Mark) -> None:
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
        _settle(t, moves)


def _moved_at(t: Teardown, place: str, mark: Mark) -> None:
    family, _, name = place.partition("/")
    if family == "fitted":
        _fasteners_moved(t, name, mark)
    elif family == "engine":
        _touch(t, t.ways.from_space.get(name, frozenset()) if name else t.exposure.not_sealed(), mark)
    elif family == "cover":
        _touch(t, t.ways.from_opening.get(name, frozenset()), mark)
    elif family == "on" and t.closure_states[name].stage not in IN_PLACE:
        _touch(t, t.spaces_of(name), mark)


def _fasteners_moved(t: Teardown, closure: str, mark: Mark) -> None:
    """Fasteners or parts of a closure came off or went home: its stage may follow."""
    state = t.closure_states[closure]
    complete = all_home(t, closure)
    if state.stage in (FITTED, SIGNED, RECALLED) and not complete:
        if state.stage == RECALLED:
            state.cleared = None
        state.stage, state.mark, state.signed = LOOSENED, mark, None
    elif state.stage == LOOSENED and complete:
        state.stage, state.mark = (SET_DOWN if state.was_lifted else FITTED), mark


def all_home(t: Teardown, closure: str) -> bool:
    """Whether every fastener and part that belongs on a closure is counted home."""
    home = places.fitted(closure)
    return all(t.balances.get((line, home), 0) >= t.required[line] for line in t.lines_of(closure))


def _touch(t: Teardown, spaces: frozenset[str], mark: Mark) -> None:
    """Something moved in these spaces: a standing clearance of a closure over them is withdrawn."""
    for space in spaces:
        t.touched[space] = mark
    for closure, state in t.closure_states.items():
        if state.stage == CLEARED and not spaces.isdisjoint(t.spaces_of(closure)):
            _withdraw(state, mark, "a movement in its spaces after it was cleared")


def _withdraw(state: ClosureState, mark: Mark, why: str) -> None:
    state.cleared, state.remark = None, f"Clearance withdrawn: {why}."
    if state.stage == CLEARED:
        state.stage, state.mark = LIFTED, mark


def _settle(t: Teardown, moves: tuple[Move, ...]) -> None:
    """A discrepancy is over once a movement makes the ledger agree with what was seen."""
    for line, _, source, target in moves:
        for key in ((line, source), (line, target)):
            if (known := t.discrepancies.get(key)) and known.seen == t.quantity(*key):
                del t.discrepancies[key]


# --- the sheet ---------------------------------------------------------------------------------------------------


def _use_sheet(t: Teardown, sheet: Sheet) -> None:
    t.sheet = sheet
    t.spaces = {s.id: s for s in sheet.spaces}
    t.openings = {o.id: o for o in sheet.openings}
    t.closures = {c.id: c for c in sheet.closures}
    t.ways = WaysIn(sheet)
    t.exposure.use(t.ways)
    for line in sheet.lines:
        _know(t, line)
    for closure in sheet.closures:
        t.closure_states.setdefault(closure.id, ClosureState())


def _know(t: Teardown, line: Line) -> None:
    if line.id in t.lines:
        return
    t.lines[line.id] = line
    family, _, closure = line.home.partition("/")
    if family == "fitted":
        t.at_home_on.setdefault(closure, []).append(line.id)
        t.required[line.id] = line.quantity


def _started(t: Teardown, fact: Started, mark: Mark) -> None:
    t.machine, t.reason, t.found, t.started = fact.machine, fact.reason, fact.found, mark
    t.people = list(fact.people)
    _use_sheet(t, fact.sheet)
    post(t.balances, fact.moves)
    for move in fact.moves:
        t.moved[move.line, move.target] = t.sighted[move.line, move.target] = mark


def _grown(t: Teardown, fact: Grown, mark: Mark) -> None:
    _use_sheet(t, merge_sheets(t.sheet, fact.part))
    for opening in fact.part.openings:
        if t.closure_states[opening.closure].stage not in IN_PLACE:
            t.exposure.set(opening.id, UNCOVERED, *mark)
    post(t.balances, fact.moves)
    for move in fact.moves:
        t.moved[move.line, move.target] = t.sighted[move.line, move.target] = mark


def _joined(t: Teardown, fact: Joined, mark: Mark) -> None:
    t.people.append(fact.person)


def _left(t: Teardown, fact: Left, mark: Mark) -> None:
    t.people = [person for person in t.people if person.name != fact.name]


def _acknowledged(t: Teardown, fact: Acknowledged, mark: Mark) -> None:
    t.acknowledged[fact.caution] = mark


# --- counting ----------------------------------------------------------------------------------------------------


def _counted(t: Teardown, fact: Counted | Renewed, mark: Mark) -> None:
    _move(t, fact.moves, mark)
    if t.drops:
        for move in fact.moves:
            if places.family(move.source) == places.ENGINE:
                _end_drop(t, move, mark, t.say_place(move.source))


def _added(t: Teardown, fact: Added, mark: Mark) -> None:
    _require_more(t, fact.moves)
    _move(t, fact.moves, mark)


def _require_more(t: Teardown, moves: Iterable[Move]) -> None:
    for line, quantity, source, target in moves:
        if source == places.ORIGIN and target.startswith("fitted/"):
            t.required[line] = t.required.get(line, 0) + quantity
        elif target == places.ORIGIN and source.startswith("fitted/"):
            t.required[line] = t.required.get(line, 0) - quantity


def _reversed(t: Teardown, fact: Reversed, mark: Mark) -> None:
    t.reversed.add((fact.device, fact.seq))
    _require_more(t, fact.moves)
    _move(t, fact.moves, mark)


def _converted(t: Teardown, fact: Converted, mark: Mark) -> None:
    for line in fact.lines:
        _know(t, line)
    _move(t, fact.moves, mark)


def _checked(t: Teardown, fact: Checked, mark: Mark) -> None:
    _note_seen(t, fact.seen, mark)


def _note_seen(t: Teardown, seen: Seen, mark: Mark) -> bool:
    had = t.quantity(seen.line, seen.place)
    if seen.quantity == had:
        t.discrepancies.pop((seen.line, seen.place), None)
        t.sighted[seen.line, seen.place] = mark
        return True
    t.discrepancies[seen.line, seen.place] = Discrepancy(seen.quantity, had, mark)
    return False


# --- missing and found -------------------------------------------------------------------------------------------


def _short(t: Teardown, fact: Short, mark: Mark) -> None:
    _lose(t, fact.moves, mark, "short at the start", "")


def _dropped(t: Teardown, fact: Dropped, mark: Mark) -> None:
    for move in fact.moves:
        t.drops.append(Drop(move.line, move.quantity, fact.near, mark))
    _lose(t, fact.moves, mark, "dropped", fact.near)


def _missed(t: Teardown, fact: Missed, mark: Mark) -> None:
    _lose(t, fact.moves, mark, "missing", fact.note)


def _lose(t: Teardown, moves: tuple[Move, ...], mark: Mark, cause: str, near: str) -> None:
    """Items go to `missing`: clearances and sign-offs over any space they could be in no longer stand."""
    last_seen = {m: t.sighted.get((m.line, m.source), mark).n for m in moves}
    _move(t, moves, mark)
    for move in moves:
        if move.target != places.MISSING:
            continue
        # A drop was seen to happen, so it can only have gone where it was open at that moment.
        seen_n = mark.n if cause == "dropped" else last_seen[move]
        item = MissingItem(move.line, move.quantity, move.source, seen_n, mark, cause, near)
        t.missing.append(item)
        _shake(t, item, mark)


def _shake(t: Teardown, item: MissingItem, mark: Mark) -> None:
    why = f"{t.say(item.line, item.quantity)} went missing and could be in its spaces"
    _doubt(t, t.could_hold(item), mark, why)


def _doubt(t: Teardown, spaces: frozenset[str] | None, mark: Mark, why: str) -> None:
    """Something may lie in these spaces (None: in any): sign-offs over them are recalled, clearances withdrawn."""
    for closure, state in t.closure_states.items():
        if spaces is not None and spaces.isdisjoint(t.spaces_of(closure)):
            continue
        if state.stage == SIGNED:
            state.stage, state.mark, state.signed = RECALLED, mark, None
            state.remark = f"Sign-off recalled: {why}."
        elif state.cleared:
            _withdraw(state, mark, why)


def _found(t: Teardown, fact: Found, mark: Mark) -> None:
    _move(t, fact.moves, mark)
    for move in fact.moves:
        if move.source == places.MISSING:
            _unlose(t, move, mark)
            _end_drop(t, move, mark, fact.where)


def _unlose(t: Teardown, move: Move, mark: Mark) -> None:
    left = move.quantity
    for item in [item for item in t.missing if item.line == move.line]:
        taken = min(left, item.quantity)
        item.quantity -= taken
        left -= taken
    t.missing = [item for item in t.missing if item.quantity]


def _end_drop(t: Teardown, move: Move, mark: Mark, where: str) -> None:
    for drop in t.drops:
        if drop.line == move.line and drop.ended is None:
            drop.ended, drop.where_found = mark, where
            return


# --- openings and closures ---------------------------------------------------------------------------------------


def _covered(t: Teardown, fact: Covered, mark: Mark) -> None:
    _move(t, fact.moves, mark)
    t.exposure.set(fact.opening, COVERED, *mark)


def _uncovered(t: Teardown, fact: Uncovered, mark: Mark) -> None:
    _move(t, fact.moves, mark)
    t.exposure.set(fact.opening, UNCOVERED, *mark)


def _lifted(t: Teardown, fact: Lifted, mark: Mark) -> None:
    state = t.closure_states[fact.closure]
    state.stage, state.mark, state.was_lifted = LIFTED, mark, True
    state.cleared = state.signed = None
    state.remark = ""
    _touch(t, t.spaces_of(fact.closure), mark)
    for opening in t.ways.openings_of[fact.closure]:
        t.exposure.set(opening, UNCOVERED, *mark)


def _cleared(t: Teardown, fact: Cleared, mark: Mark) -> None:
    state = t.closure_states[fact.closure]
    state.stage, state.mark, state.cleared, state.remark = CLEARED, mark, mark, ""


def _refitted(t: Teardown, fact: Refitted, mark: Mark) -> None:
    state = t.closure_states[fact.closure]
    state.stage, state.mark = SET_DOWN, mark
    for opening in t.ways.openings_of[fact.closure]:
        t.exposure.set(opening, SEALED, *mark)


def _signed(t: Teardown, fact: Signed, mark: Mark) -> None:
    state = t.closure_states[fact.closure]
    state.stage, state.mark, state.signed, state.remark = SIGNED, mark, mark, ""
    state.torque = fact.torque


# --- evidence and endings ----------------------------------------------------------------------------------------


def _find_logged(t: Teardown, fact: FindLogged, mark: Mark) -> None:
    t.finds[fact.find] = FindState(fact, mark)
    spaces = t.ways.from_space.get(fact.where, frozenset())
    _touch(t, spaces, mark)
    _doubt(t, spaces, mark, f"{fact.what} was found there")


def _find_removed(t: Teardown, fact: FindRemoved, mark: Mark) -> None:
    known = t.finds[fact.find]
    known.removed = fact
    _touch(t, t.ways.from_space.get(known.logged.where, frozenset()), mark)


def _looked(t: Teardown, fact: Looked, mark: Mark) -> None:
    t.looks[fact.opening] = (fact, mark)
    if not fact.clear:
        _touch(t, t.ways.from_opening[fact.opening], mark)


def _second_counted(t: Teardown, fact: SecondCounted, mark: Mark) -> None:
    agreements = [_note_seen(t, seen, mark) for seen in fact.entries]
    t.second_counts[fact.closure] = SecondCount(fact, mark, all(agreements))


def _work_done(t: Teardown, fact: WorkDone, mark: Mark) -> None:
    t.work_done = mark


def _hand_turned(t: Teardown, fact: HandTurned, mark: Mark) -> None:
    t.hand_turned = mark


def _closed(t: Teardown, fact: Closed, mark: Mark) -> None:
    t.ended, t.end = CLOSED, mark


def _released(t: Teardown, fact: Released, mark: Mark) -> None:
    t.ended, t.end = RELEASED, mark


_HANDLERS: dict[type, Callable[[Teardown, Any, Mark], None]] = {
    Started: _started,
    Joined: _joined,
    Left: _left,
    Grown: _grown,
    Added: _added,
    Acknowledged: _acknowledged,
    Counted: _counted,
    Reversed: _reversed,
    Short: _short,
    Dropped: _dropped,
    Missed: _missed,
    Found: _found,
    Converted: _converted,
    Renewed: _counted,
    Checked: _checked,
    Lifted: _lifted,
    Covered: _covered,
    Uncovered: _uncovered,
    FindLogged: _find_logged,
    FindRemoved: _find_removed,
    Looked: _looked,
    SecondCounted: _second_counted,
    WorkDone: _work_done,
    Cleared: _cleared,
    Refitted: _refitted,
    Signed: _signed,
    HandTurned: _hand_turned,
    Closed: _closed,
    Released: _released,
}
