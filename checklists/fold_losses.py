"""What drops, missing items and finding them again do to the state."""

from __future__ import annotations

from checklists import places
from checklists.facts import Dropped, Entry, Found, Missed, Move, Short
from checklists.fold_moves import doubt, put_through, touch
from checklists.state import DROPPED, GONE, SHORT_AT_START, START, Finding, Loss, Mark, MissingItem, Teardown


def short(t: Teardown, fact: Short, mark: Mark) -> None:
    _lose(t, fact.moves, mark, SHORT_AT_START, "")


def dropped(t: Teardown, fact: Dropped, mark: Mark) -> None:
    for move in fact.moves:
        if spaces := t.ways.from_space.get(places.named(move.target), frozenset()):
            doubt(t, spaces, mark, f"{t.say(move.line, move.quantity)} fell into its spaces")
    _lose(t, fact.moves, mark, DROPPED, fact.near, seen=not fact.earlier)


def missed(t: Teardown, fact: Missed, mark: Mark) -> None:
    _lose(t, fact.moves, mark, GONE, fact.note)


def _lose(
    t: Teardown, moves: tuple[Move, ...], mark: Mark, cause: str, near: str, *, seen: bool = False
) -> None:
    """Items go to `missing`: clearances and sign-offs over any space they could be in no longer stand.

    What was `seen` to fall just now can only have gone where it was open at that moment. Anything else may have gone
    wherever it was open since it was last seen.
    """
    last_seen = {m: (t.last_seen(m.line, m.source), t.inside_of(m.source)) for m in moves}
    for move in put_through(t, moves, mark):
        into = "" if move.target == places.MISSING else move.target
        loss = Loss(move.line, move.quantity, cause, near, move.source, into, mark)
        t.losses.append(loss)
        if into:
            continue
        seen_n, inside = last_seen[move]
        if seen:
            seen_n = t.known_by(mark.n)
        item = MissingItem(move.line, move.quantity, move.source, seen_n, mark, cause, near, inside, loss)
        t.missing.append(item)
        _shake(t, item, mark)


def _shake(t: Teardown, item: MissingItem, mark: Mark) -> None:
    why = f"{t.say(item.line, item.quantity)} went missing and could be in its spaces"
    doubt(t, t.could_hold(item), mark, why)
    _searched(t, item, mark)


def feared_further(t: Teardown, mark: Mark) -> None:
    """The sheet shows ways not known before: what is lost, found or broken could be behind closures signed already."""
    for item in t.missing:
        doubt(t, t.could_hold(item), mark, f"{t.say(item.line, item.quantity)} is missing and could be in its spaces")
    for find in t.finds.values():
        if find.removed is None and find.logged.where in t.ways.from_space:
            doubt(t, t.ways.from_space[find.logged.where], mark, "a find that is not settled could be in its spaces")
    if t.broken:
        from checklists.broken_parts import adds_up  # the workshop is needed only where something broke

        for part in [part for part in t.broken if not adds_up(t, part)]:
            name = t.lines[part].name
            doubt(t, t.could_hold_pieces(t.broken[part]), mark, f"a piece of the {name} could be in its spaces")


def found(t: Teardown, fact: Found, mark: Mark) -> None:
    found_again(t, fact.moves, mark, fact.where)


def found_again(t: Teardown, moves: tuple[Move, ...], mark: Mark, where: str) -> None:
    """Items come out of `missing`; the losses they were logged as are over."""
    for move in put_through(t, moves, mark, seen=False):
        if move.source == places.MISSING:
            said = t.spaces[where].name if where in t.spaces else where
            not_seen_since(t, move, _unlose(t, move, mark, said))


def not_seen_since(t: Teardown, move: Move, seen_n: int) -> None:
    """What a movement brought to a place was last surely seen at entry `seen_n`; what lay there already, when it was.

    What was counted found may have been another one, and a piece may have been gone before anybody looked. Once
    somebody counts there, or moves it, it was seen.
    """
    arrived = move.line, move.target
    alone = t.balances.get(arrived) == move.quantity
    if alone or seen_n < t.sighted.get(arrived, START).n:
        t.sighted[arrived] = t.mark_at(seen_n)


def _unlose(t: Teardown, move: Move, mark: Mark, where: str) -> int:
    """Take it off what is missing: of several alike the one that could be in the fewest places.

    Returns the entry at which the longest gone of those was last seen.
    """
    left, seen = move.quantity, [mark.n]
    alike = [item for item in t.missing if item.line == move.line]
    for item in sorted(alike, key=lambda item: (item.cause == SHORT_AT_START, -item.seen_n)):
        _searched(t, item, mark)
        taken = min(left, item.quantity)
        item.quantity -= taken
        left -= taken
        if taken:
            seen.append(item.seen_n)
            if item.loss is not None:
                item.loss.findings.append(Finding(taken, mark, where))
    t.missing = [item for item in t.missing if item.quantity]
    return min(seen)


def out_of_engine(t: Teardown, move: Move, mark: Mark) -> None:
    """What was seen to fall into the engine is counted out of it: from that place, else the oldest that is in there.

    What is only moved on inside lies there still.
    """
    left = move.quantity
    inside = [loss for loss in t.losses if loss.into and loss.line == move.line and not loss.ended]
    for loss in sorted(inside, key=lambda loss: loss.into != move.source):
        if places.family(move.target) == places.ENGINE:
            loss.into = move.target if loss.into == move.source else loss.into
            continue
        if taken := min(left, loss.quantity - loss.found):
            loss.findings.append(Finding(taken, mark, t.say_place(move.source)))
            left -= taken


def lost_again(t: Teardown, device: str, seq: int) -> None:
    """That count out of the engine was taken back: it is still in there."""
    for loss in t.losses:
        loss.findings = [each for each in loss.findings if not _by(t.history[each.mark.n - 1], device, seq)]


def _by(entry: Entry, device: str, seq: int) -> bool:
    return (entry.device, entry.seq) == (device, seq)


def _searched(t: Teardown, item: MissingItem, mark: Mark) -> None:
    """Wherever it could be, it may have moved, and hands and magnets after it: looks from before are out of date."""
    spaces = t.could_hold(item)
    touch(t, frozenset(t.spaces) if spaces is None else spaces, mark)
