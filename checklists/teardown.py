"""Folding entries into the state of a teardown.

`apply` never refuses: what is in the journal happened. Whether something may happen is asked of `judge` before it is
written. Entries from two phones can contradict each other once merged; `fold_clashes` and `fold_merge` say what then.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from checklists import fold_evidence, fold_losses, fold_measured, fold_merge, places
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
    FindMatched,
    FindRemoved,
    Found,
    Grown,
    HandedOver,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Missed,
    Move,
    Photographed,
    Refitted,
    Released,
    Renewed,
    Reversed,
    SecondCounted,
    Secured,
    Seen,
    SheetSettled,
    Short,
    Signed,
    Started,
    TookOver,
    Uncovered,
    Withdrawn,
    WorkDone,
    WrittenTooHigh,
)
from checklists.facts_measured import Measured, PartBroken, PieceWeighed, Searched, Tightened, WeighCounted
from checklists.fold_clashes import after_moves, settle_by_reversal, still_on
from checklists.fold_losses import lost_again, not_seen_since, out_of_engine
from checklists.fold_moves import note_seen, put_through, touch, withdraw_all
from checklists.fold_standing import clear_again
from checklists.ledger import post
from checklists.merging import Merging
from checklists.photo_places import place_of_photo
from checklists.sheet import Line, Opening, Sheet, laid_over, merge_sheets
from checklists.state import (
    CLEARED,
    CLOSED,
    LIFTED,
    RELEASED,
    SET_DOWN,
    SIGNED,
    ClosureState,
    Mark,
    Teardown,
)
from checklists.ways_in import WaysIn


def fold(entries: Iterable[Entry]) -> Teardown:
    """The state after all these entries, in their order (tick, device)."""
    teardown = Teardown()
    entries = list(entries)
    if len({entry[3] for entry in entries}) > 1:
        teardown.merging = Merging()
    for entry in entries:
        apply(teardown, entry)
    return teardown


def apply(teardown: Teardown, entry: Entry) -> None:
    """Let one more entry change the state."""
    history = teardown.history
    history.append(entry)
    fact = entry[0]
    mark = Mark(len(history), entry[1], entry[2])
    if place_of_photo(fact):
        teardown.named_photos[fact.photo] = fact  # type: ignore[union-attr]  # what has a place for its photo has one
    if teardown.merging is None:
        _HANDLERS[type(fact)](teardown, fact, mark)
        return
    teardown.merging.enter(entry, mark.n)
    _HANDLERS[type(fact)](teardown, fact, mark)
    fold_merge.reopen(teardown, fact)


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
    t.people, t.holder = list(fact.people), mark.who
    _use_sheet(t, fact.sheet)
    post(t.balances, fact.moves)
    for move in fact.moves:
        t.moved[move.line, move.target] = t.sighted[move.line, move.target] = mark


def _grown(t: Teardown, fact: Grown, mark: Mark) -> None:
    part = fact.part if t.merging is None else _met(t, fact.part, mark)
    _use_sheet(t, laid_over(merge_sheets(t.sheet, part), fact.over))
    if part.cautions or part.passages or part.openings or part.closures:
        withdraw_all(t, mark, "the sheet has grown since")
    for opening in part.openings:
        _stood_open(t, opening)
        clear_again(t, opening.closure, mark, f"{opening.name} beneath it came to light, and nobody had looked into it")
    post(t.balances, fact.moves)
    for move in fact.moves:  # written down, which is no sighting: it may have been there, and gone, all along
        t.moved[move.line, move.target] = mark
    if t.merging is not None:
        after_moves(t, fact.moves, (), mark)
    if part.passages or part.openings:
        fold_losses.feared_further(t, mark)


def _stood_open(t: Teardown, opening: Opening) -> None:
    """An opening that comes to light was there all along: uncovered, for nobody knew it, while its closure was off."""
    for number, entry in enumerate(t.history, 1):
        if isinstance(entry.fact, Lifted | Refitted) and entry.fact.closure == opening.closure:
            state = UNCOVERED if isinstance(entry.fact, Lifted) else SEALED
            t.exposure.set(opening.id, state, number, entry.at, entry.who)


def _met(t: Teardown, part: Sheet, mark: Mark) -> Sheet:
    from checklists import fold_two_ways  # only where two phones met

    return fold_two_ways.meet(t, part, mark)


def _sheet_settled(t: Teardown, fact: SheetSettled, mark: Mark) -> None:
    from checklists import fold_two_ways  # only where two phones met

    fold_two_ways.settle(t, fact, mark)
    _use_sheet(t, t.sheet)
    withdraw_all(t, mark, "the sheet has changed since")
    fold_losses.feared_further(t, mark)


def _withdrawn(t: Teardown, fact: Withdrawn, mark: Mark) -> None:
    from checklists.withdrawing import still_doubled  # only where two phones met

    for line, quantity, place, _ in put_through(t, still_doubled(t, fact.moves), mark):
        t.withdrawn[line] = t.withdrawn.get(line, 0) + quantity
        if places.family(place) == "fitted":
            # Two phones that wrote down different numbers: as many belong there as were counted there.
            t.required[line] = max(t.required[line], t.quantity(line, place))


def _written_too_high(t: Teardown, fact: WrittenTooHigh, mark: Mark) -> None:
    _require_more(t, fold_merge.still_possible(t, fact.moves))
    put_through(t, fact.moves, mark)
    for line, _, place, _ in fact.moves:
        if t.quantity(line, place) != fact.counted:  # two phones each took it off: what was counted there says so
            note_seen(t, Seen(line, place, fact.counted), mark)


def _joined(t: Teardown, fact: Joined, mark: Mark) -> None:
    if t.merging is None or fact.person.name not in [person.name for person in t.people]:
        t.people.append(fact.person)


def _left(t: Teardown, fact: Left, mark: Mark) -> None:
    staying = [person for person in t.people if person.name != fact.name]
    if not staying:
        return  # two phones: each let one of the last two go. Somebody has to hold the job, so this one stays on it.
    t.people = staying
    if t.holder == fact.name:
        names = [person.name for person in staying]
        t.holder = mark.who if mark.who in names else names[0]
    if t.offered and fact.name in (t.offered[0].to, t.offered[1].who):
        t.offered = None  # nobody is left to give the job, or to take it


def _acknowledged(t: Teardown, fact: Acknowledged, mark: Mark) -> None:
    t.acknowledged[fact.caution] = mark


# --- counting ----------------------------------------------------------------------------------------------------


def _counted(t: Teardown, fact: Counted | Renewed, mark: Mark) -> None:
    moves = put_through(t, fact.moves, mark)
    if t.losses:
        for move in moves:
            if places.family(move.source) == places.ENGINE:
                out_of_engine(t, move, mark)


def _added(t: Teardown, fact: Added, mark: Mark) -> None:
    _require_more(t, fact.moves)
    put_through(t, fact.moves, mark, seen=False)


def _require_more(t: Teardown, moves: Iterable[Move]) -> None:
    for line, quantity, source, target in moves:
        if source == places.ORIGIN and target.startswith("fitted/"):
            t.required[line] = t.required.get(line, 0) + quantity
        elif target == places.ORIGIN and source.startswith("fitted/"):
            t.required[line] = t.required.get(line, 0) - quantity


def _reversed(t: Teardown, fact: Reversed, mark: Mark) -> None:
    entry = fact.device, fact.seq
    if entry not in t.reversed:
        _require_more(t, fold_merge.still_possible(t, fact.moves))
    t.reversed.add(entry)
    if t.unaccounted:
        fold_measured.not_broken(t, *entry)
    if not fact.moves and (tick := t.entry_of(*entry)) and isinstance(tick.fact, Tightened):
        fold_measured.untightened(t, tick.fact, mark)
    if put_through(t, fact.moves, mark, seen=False) and t.losses:
        lost_again(t, *entry)
    if t.clashes:
        settle_by_reversal(t, *entry)


def _converted(t: Teardown, fact: Converted, mark: Mark) -> None:
    for line in fact.lines:
        _know(t, line)
    fold_measured.broke(t, fact, mark)
    whole = {move.source: t.last_seen(move.line, move.source) for move in fact.moves if move.source != places.ORIGIN}
    for move in put_through(t, fact.moves, mark, seen=False):
        if move.source == places.ORIGIN and move.target in whole:
            not_seen_since(t, move, whole[move.target])


# --- openings and closures ---------------------------------------------------------------------------------------


def _covered(t: Teardown, fact: Covered, mark: Mark) -> None:
    if put_through(t, fact.moves, mark):
        t.exposure.set(fact.opening, COVERED, *mark)


def _uncovered(t: Teardown, fact: Uncovered, mark: Mark) -> None:
    put_through(t, fact.moves, mark)
    t.exposure.set(fact.opening, UNCOVERED, *mark)


def _lifted(t: Teardown, fact: Lifted, mark: Mark) -> None:
    state = t.closure_states[fact.closure]
    state.stage, state.mark, state.was_lifted = LIFTED, mark, True
    state.cleared = state.signed = None
    state.remark = ""
    fold_measured.measure_afresh(t, fact.closure)
    still_on(t, fact.closure, mark)
    touch(t, t.spaces_of(fact.closure), mark)
    for opening in t.ways.openings_of[fact.closure]:
        covered = t.merging is not None and any(place == places.cover_of(opening) for _, place in t.balances)
        t.exposure.set(opening, COVERED if covered else UNCOVERED, *mark)


def _cleared(t: Teardown, fact: Cleared, mark: Mark) -> None:
    if fold_merge.clearance_falls(t, fact.closure):
        return
    state = t.closure_states[fact.closure]
    state.stage, state.mark, state.cleared, state.remark = CLEARED, mark, mark, ""


def _refitted(t: Teardown, fact: Refitted, mark: Mark) -> None:
    state = t.closure_states[fact.closure]
    state.stage, state.mark = SET_DOWN, mark
    if t.merging is not None:
        t.merging.note_set_down(fact.closure)
    for opening in t.ways.openings_of[fact.closure]:
        t.exposure.set(opening, SEALED, *mark)


def _signed(t: Teardown, fact: Signed, mark: Mark) -> None:
    if fold_merge.signature_falls(t, fact.closure):
        return
    state = t.closure_states[fact.closure]
    state.stage, state.mark, state.signed, state.remark = SIGNED, mark, mark, ""
    state.torque = fact.torque


# --- evidence and endings ----------------------------------------------------------------------------------------


def _work_done(t: Teardown, fact: WorkDone, mark: Mark) -> None:
    t.work_done = mark


def _hand_turned(t: Teardown, fact: HandTurned, mark: Mark) -> None:
    if not fold_merge.blind(t) or fold_merge.all_closed(t):
        t.hand_turned = mark


def _closed(t: Teardown, fact: Closed, mark: Mark) -> None:
    if not fold_merge.closing_falls(t):
        t.ended, t.end, t.remark = CLOSED, mark, ""


def _released(t: Teardown, fact: Released, mark: Mark) -> None:
    t.ended, t.end = RELEASED, mark


_HANDLERS: dict[type, Callable[[Teardown, Any, Mark], None]] = {
    Started: _started,
    Joined: _joined,
    Left: _left,
    Grown: _grown,
    Withdrawn: _withdrawn,
    WrittenTooHigh: _written_too_high,
    SheetSettled: _sheet_settled,
    Added: _added,
    Acknowledged: _acknowledged,
    Counted: _counted,
    Reversed: _reversed,
    Short: fold_losses.short,
    Dropped: fold_losses.dropped,
    Missed: fold_losses.missed,
    Found: fold_losses.found,
    Converted: _converted,
    Renewed: _counted,
    Checked: fold_evidence.checked,
    Lifted: _lifted,
    Covered: _covered,
    Uncovered: _uncovered,
    FindLogged: fold_evidence.find_logged,
    FindRemoved: fold_evidence.find_removed,
    Looked: fold_evidence.looked,
    SecondCounted: fold_evidence.second_counted,
    WorkDone: _work_done,
    Cleared: _cleared,
    Refitted: _refitted,
    Signed: _signed,
    HandTurned: _hand_turned,
    Closed: _closed,
    Released: _released,
    FindMatched: fold_evidence.find_matched,
    Photographed: fold_evidence.photographed,
    Secured: fold_evidence.machine_secured,
    HandedOver: fold_evidence.handed_over,
    TookOver: fold_evidence.took_over,
    Searched: fold_measured.searched,
    PartBroken: fold_measured.part_broken,
    PieceWeighed: fold_measured.piece_weighed,
    WeighCounted: fold_measured.weigh_counted,
    Measured: fold_measured.measured,
    Tightened: fold_measured.tightened,
}
