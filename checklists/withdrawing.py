"""One line written onto the sheet by two phones that had not met: what of it is on the tally twice, and taking it off.

Two phones that each add "4 rags" bring eight onto the tally once they meet. Perhaps there are eight; a count tells.
Where it shows fewer, what is not there may be withdrawn, and no more than that: never so much that the tally has fewer
than one phone alone wrote down, and never an item that was counted.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from checklists import places
from checklists.facts import Entry, Grown, Move, Withdrawn
from checklists.merging import had_seen
from checklists.refusing import PASSED, Reasons, no
from checklists.state import Teardown
from checklists.words import how_many, within


class Written(NamedTuple):
    """So many of a line that one phone wrote onto the sheet."""

    entry: Entry
    quantity: int


def written(t: Teardown, line: str) -> tuple[Written, ...]:
    """Each time a line was written onto the sheet during the work: once, or once on each of several phones."""
    if t.merging is None:
        return ()
    found = (
        (entry, _quantity(entry.fact, line))
        for entry in t.history
        if isinstance(entry.fact, Grown) and (entry.device, entry.seq) not in t.reversed
    )
    return tuple(Written(entry, quantity) for entry, quantity in found if quantity)


def _quantity(fact: Grown, line: str) -> int:
    return sum(move.quantity for move in fact.moves if move.line == line)


def doubled(t: Teardown, line: str) -> int:
    """How many of a line may be on the tally twice: all but what the phone wrote down that has most of it."""
    quantities = [one.quantity for one in written(t, line)]
    return sum(quantities) - max(quantities, default=0) - t.withdrawn.get(line, 0)


def not_there(t: Teardown, line: str, place: str) -> int:
    """How many may be withdrawn from a place: doubled, and not there by a count of somebody who knew of both."""
    known = t.discrepancies.get((line, place))
    if known is None or place in (places.MISSING, places.CONVERTED):
        return 0
    counter = t.history[known.mark.n - 1]
    if not all(had_seen(counter, one.entry.device, one.entry.seq) for one in written(t, line)):
        return 0
    return max(0, min(doubled(t, line), t.quantity(line, place) - known.seen))


def judge_withdrawn(t: Teardown, fact: Withdrawn, at: str, who: str) -> Reasons:
    """Only what was written down on two phones, and only as much as a count shows is not there."""
    if len(fact.moves) != 1 or fact.moves[0].target != places.ORIGIN or fact.moves[0].quantity < 1:
        return no("not a withdrawal", "A withdrawal takes one line off the tally.", "Withdraw one line at a time.")
    line, quantity, place, _ = fact.moves[0]
    if line not in t.lines or doubled(t, line) < quantity:
        return no(
            "not doubled",
            f"{_say(t, line, quantity)} were not written down on two phones.",
            "Count again; what is not there is logged as missing.",
            line=line,
            place=place,
        )
    if not_there(t, line, place) < quantity:
        return no(
            "not counted",
            f"No count shows that {_say(t, line, quantity)} are not {t.say_place(place)}.",
            f"Count {within(t.lines[line].name)} {t.say_place(place)} first.",
            line=line,
            line_name=t.lines[line].name,
            place=place,
        )
    if not fact.why.strip():
        return no("no reason", "It is not said why it is one and the same.", "Say why.", line=line)
    return PASSED


def _say(t: Teardown, line: str, quantity: int) -> str:
    return t.say(line, quantity) if line in t.lines else how_many(quantity, line)


def still_doubled(t: Teardown, moves: Iterable[Move]) -> tuple[Move, ...]:
    """Those movements of a withdrawal that still take off what is double: another phone may have withdrawn it too."""
    kept = []
    for move in moves:
        if (left := min(move.quantity, doubled(t, move.line))) > 0:
            kept.append(move._replace(quantity=left))
    return tuple(kept)
