"""Ten written down where nine are: what was never there comes off the tally again, with a reason, on one phone alone.

A mismatch is nearly always a slip, and yet it must never be explained away. So it takes a count that shows fewer, and
that what is not there cannot be inside: no opening may have stood uncovered on this job yet. When it was written down
makes no odds, for it may have been there, and gone, before that. Of fasteners and parts a photo shows that there is no
hole for it, before any of them was touched; with an empty hole it is short at the start. Whatever else is not there is
missing, and is searched for.
"""

from __future__ import annotations

from checklists import places
from checklists.facts import Added, Entry, Grown, Move, Started, WrittenTooHigh, moves_of
from checklists.refusing import PASSED, Reasons, no, photo
from checklists.state import Teardown
from checklists.words import listing, within

_AT_HAND = frozenset({places.STORES, places.TRAY, places.BENCH})


def written_down(t: Teardown, line: str) -> tuple[Entry, ...]:
    """The entries that brought a line onto the tally as so many; none for a piece of something else."""
    return tuple(
        entry
        for entry in t.history
        if isinstance(entry.fact, Started | Grown | Added)
        and (entry.device, entry.seq) not in t.reversed
        and any(move.line == line for move in moves_of(entry.fact))
    )


def too_many(t: Teardown, line: str, place: str) -> int:
    """How many may be taken off the tally as never there; 0 where nothing may, and why not is for the rules to say."""
    made = take_off(t, line, place, "as typed")
    against = judge_too_high(t, made) if made.moves else ()
    return made.moves[0].quantity if made.moves and {reason.code for reason in against} <= {"no photo"} else 0


def take_off(t: Teardown, line: str, place: str, why: str, photo: str = "") -> WrittenTooHigh:
    """What was counted there stays on the tally, and the rest comes off it; nothing where no count shows fewer."""
    known = t.discrepancies.get((line, place))
    rest = t.quantity(line, place) - known.seen if known else 0
    moves = (Move(line, rest, place, places.ORIGIN),) if rest > 0 else ()
    return WrittenTooHigh(why, known.seen if known else 0, moves, photo)


def judge_too_high(t: Teardown, fact: WrittenTooHigh) -> Reasons:
    """Every reason why it does not come off the tally so."""
    if len(fact.moves) != 1 or fact.moves[0].target != places.ORIGIN or fact.moves[0].line not in t.lines:
        return no("not a withdrawal", "It takes one line off the tally.", "Take one line off at a time.")
    line, quantity, place, _ = fact.moves[0]
    if reasons := _not_so_written(t, line, place):
        return reasons
    known = t.discrepancies.get((line, place))
    if known is None or (fact.counted, quantity) != (known.seen, t.quantity(line, place) - known.seen) or quantity < 1:
        return no(
            "not counted",
            f"No count shows that {t.say(line, max(1, quantity))} are not {t.say_place(place)}.",
            f"Count {within(t.lines[line].name)} {t.say_place(place)} first.",
            line=line,
            line_name=t.lines[line].name,
            place=place,
        )
    shown = photo(t, fact.photo, _full(t, place)) if places.family(place) == "fitted" else PASSED
    said = PASSED if fact.why.strip() else no("no reason", "It is not said how it came to be.", "Say why.", line=line)
    return (*_may_be_inside(t, line, place), *shown, *said)


def _full(t: Teardown, place: str) -> str:
    return f"the {within(t.closures[places.named(place)].name)}, every hole of it filled,"


def _not_so_written(t: Teardown, line: str, place: str) -> Reasons:
    """Whether the line was written down as so many, and lies where that can be seen."""
    name, home = within(t.lines[line].name), t.lines[line].home
    if not written_down(t, line):
        words = f"{name} was not written down as so many: it came of something else."
        return no("not a withdrawal", words, "Take back what it came of, or log it as missing.", line=line)
    if places.family(home) != "fitted":
        if place in _AT_HAND:
            return PASSED
        words = f"What is {t.say_place(place)} was counted there."
        return no("not a withdrawal", words, "Log it as missing instead.", line=line, place=place)
    closure = places.named(home)
    first = t.history.index(written_down(t, line)[-1]) + 1
    if place != home or t.closure_states[closure].was_lifted or t.moved[line, home].n > first:
        return no(
            "closure was off",
            f"Some {name} were off already: then it is not known that there was no hole for it.",
            "Log it as missing instead.",
            line=line,
            closure=closure,
        )
    return PASSED


def _may_be_inside(t: Teardown, line: str, place: str) -> Reasons:
    if places.family(place) == "fitted":
        return PASSED  # a photo shows that it never had a hole to come out of
    opened = [within(t.openings[opening].name) for opening in t.exposure.openings_since(1)]
    if not opened:
        return PASSED
    return no(
        "could be inside",
        f"It may be inside: {listing(opened)} stood uncovered on this job.",
        "Log it as missing; then it is searched for.",
        line=line,
        line_name=t.lines[line].name,
        place=place,
    )
