"""What two phones contradict each other in: raised when their entries are folded together, settled by a count."""

from __future__ import annotations

from collections.abc import Iterable

from checklists import places
from checklists.facts import Move
from checklists.fold_standing import doubt, lift_again, recall, withdraw_all
from checklists.merging import ODD, SHORT, TWICE, Clash, Merging, Moved, had_seen, to_count
from checklists.state import IN_PLACE, SIGNED, Mark, Teardown

_WHY = "two phones contradict each other in what was moved"


def after_moves(t: Teardown, through: Iterable[Move], short: Iterable[Move], mark: Mark) -> None:
    """Look at movements just put through, and at those that could not be, for what another phone contradicts."""
    merging = t.merging
    for move in short:
        _short(t, move, merging.unseen_moves(move) if merging else [], mark)
    if merging is None:
        return
    for move in through:
        unseen = merging.unseen_moves(move)
        merging.note_move(move)
        if twice := [moved for moved in unseen if moved.target == move.target]:
            _twice(t, merging, move, twice, mark)
        if merging.first_unseen:
            _behind_their_back(t, merging, move, mark)


def _short(t: Teardown, move: Move, unseen: list[Moved], mark: Mark) -> None:
    others = tuple(dict.fromkeys(moved.who for moved in unseen))
    _raise(t, SHORT, move, others, mark, unseen)


def _twice(t: Teardown, merging: Merging, move: Move, twice: list[Moved], mark: Mark) -> None:
    clash = _raise(t, TWICE, move, tuple(dict.fromkeys(moved.who for moved in twice)), mark, twice)
    clash.add(merging.entry.device, merging.entry.seq, move.quantity)


def _raise(
    t: Teardown, kind: str, move: Move, others: tuple[str, ...], mark: Mark, unseen: Iterable[Moved]
) -> Clash:
    """Open a clash, or let one that is open grow; whatever was signed on the strength of the count falls."""
    key = (kind, move.line, move.source, move.target)
    due = to_count(move.source, move.target) or frozenset({move.source})
    clash = t.clashes.get(key)
    if clash is None:
        clash = t.clashes[key] = Clash(kind, *key[1:], 0, mark.at, mark.who, others, due)
    clash.at, clash.who, clash.due = mark.at, mark.who, due
    clash.others = tuple(name for name in dict.fromkeys((*clash.others, *others)) if name != mark.who) or others
    for moved in unseen:
        clash.add(moved.device, moved.seq, moved.quantity)
    if kind != TWICE:
        clash.quantity += move.quantity
    if (last := t.last_entry) and kind != TWICE:
        clash.add(last.device, last.seq, move.quantity)
    _shake(t, move, mark)
    return clash


def _shake(t: Teardown, move: Move, mark: Mark) -> None:
    """Clearances fall, and the sign-offs of closures this line belongs to or whose spaces it may be in."""
    withdraw_all(t, mark, _WHY)
    for place in (move.source, move.target):
        if (spaces := _spaces_at(t, place, mark)) is not None:
            doubt(t, spaces, mark, _WHY)
    for closure, state in t.closure_states.items():
        if state.stage == SIGNED and move.line in t.lines_of(closure):
            recall(state, mark, _WHY)


def _spaces_at(t: Teardown, place: str, mark: Mark) -> frozenset[str] | None:
    """The spaces an item at a place is in or over; None where it is in none."""
    family, name = places.family(place), places.named(place)
    if family == "cover":
        return t.ways.from_opening[name]
    if family == "on":
        return t.spaces_of(name)
    if family == places.ENGINE and name:
        return t.ways.from_space[name]
    if family in (places.ENGINE, places.MISSING):
        return t.exposure.exposed_since(t.merging.first_unseen if t.merging else mark.n)
    return None


def _behind_their_back(t: Teardown, merging: Merging, move: Move, mark: Mark) -> None:
    """A movement that whoever closed meanwhile did not know of, nor the mover of the closing."""
    for place in (move.source, move.target):
        spaces = _spaces_at(t, place, mark) if place != places.MISSING else None
        for closure, state in t.closure_states.items():
            hidden = state.stage in IN_PLACE and merging.unseen_set_down(closure)
            if spaces and hidden and not spaces.isdisjoint(t.spaces_of(closure)):
                lift_again(state, mark, "something was moved in its spaces on another phone meanwhile")
    family, closure = places.family(move.target), places.named(move.target)
    if family == "fitted":
        off = t.closure_states[closure].stage not in IN_PLACE
        if off or t.quantity(move.line, move.target) > t.required.get(move.line, 0):
            _raise(t, ODD, move, (), mark, ())


def still_on(t: Teardown, closure: str, mark: Mark) -> None:
    """A closure came off without knowing that another phone had counted fasteners of it home."""
    if t.merging is None or not t.merging.first_unseen:
        return
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        if t.lines[line].kind == "fastener" and (left := t.quantity(line, home)):
            _raise(t, ODD, Move(line, left, home, places.TRAY), (), mark, ())


def settle_by_count(t: Teardown, line: str, place: str, n: int) -> None:
    """The `n`-th entry's count agrees with the ledger: clashes there are over whose movements it had all seen."""
    counter = t.history[n - 1]
    for key, clash in list(t.clashes.items()):
        if clash.line != line or place not in clash.due:
            continue
        if all(had_seen(counter, device, seq) for device, seq in clash.entries) and clash.counted(place):
            del t.clashes[key]


def settle_by_reversal(t: Teardown, device: str, seq: int) -> None:
    """A movement was taken back: what it was doubled with stands alone again."""
    for key, clash in list(t.clashes.items()):
        if clash.drop(device, seq):
            del t.clashes[key]
