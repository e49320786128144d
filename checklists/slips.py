"""Bookkeeping slips: the counts that could be wrong where a place does not agree, to be taken back with a reason.

Of discrepancies in counts 38 % are errors of writing down (Greenberg 2008). Nothing is edited: the wrong count is
taken back by a reversing movement that names it.
"""

from __future__ import annotations

from typing import Any

from checklists import places
from checklists.facts import (
    Added,
    Checked,
    Converted,
    Counted,
    Entry,
    Fact,
    Grown,
    Renewed,
    Reversed,
    SecondCounted,
    TookOver,
    moves_of,
)
from checklists.facts_measured import WeighCounted
from checklists.state import Teardown
from checklists.times import clock_face

_COUNTS = (SecondCounted, TookOver)
#: What is taken back most often, offered to be picked; anything else is typed.
WHY = ("Tapped once too often", "Counted, but not done", "The wrong item was counted", "The wrong place was said")


def slips(t: Teardown, line: str, place: str) -> list[Entry]:
    """The counts of `line` at `place` that could explain why too many or too few are there, newest first.

    Each put more there than it took where there are too many, and the other way round; a renewal, which leaves as many,
    explains nothing. What was written down before a count there agreed is not offered either. One that moved more than
    differs may be wrong all the same, ten for nine: it is taken back, and what was right of it counted anew.
    """
    known = t.discrepancies.get((line, place))
    differs = t.quantity(line, place) - known.seen if known else 0
    if not differs:
        return []
    found, held = [], t.quantity(line, place)
    for entry in reversed(t.history):
        if _counted_there(entry, line, place) == held:
            break
        put = put_there(entry, line, place)
        undone = (entry.device, entry.seq) in t.reversed
        if can_be_taken_back(entry.fact) and put * differs > 0 and not undone:
            found.append(entry)
        held -= put
    return found


def can_be_taken_back(fact: Fact) -> bool:
    """Whether an act is a count that a reversal takes back: also items written onto the sheet, but nothing fitted.

    What belongs on a closure stays as it was written: fewer are short at the start, or there is no hole for it.
    """
    if isinstance(fact, Grown):
        return bool(fact.moves) and all(places.family(move.target) != "fitted" for move in fact.moves)
    return isinstance(fact, Counted | Added | Converted | Renewed)


def written_anew(t: Teardown, line: str, place: str) -> bool:
    """Whether what was written onto the tally of a line at a place was taken back, and may be written down anew."""
    return any(
        (move.line, move.source, move.target) == (line, place, places.ORIGIN)
        for entry in t.history
        if isinstance(entry.fact, Reversed)
        for move in entry.fact.moves
    )


def right_of(t: Teardown, entry: Entry, line: str, place: str) -> int:
    """How many of a count that could be wrong are right all the same: all but what differs. 0 where none is left."""
    known = t.discrepancies.get((line, place))
    differs = abs(t.quantity(line, place) - known.seen) if known else 0
    return max(0, abs(put_there(entry, line, place)) - differs)


def put_there(entry: Entry, line: str, place: str) -> int:
    """How many more of a line lie at a place by a count; fewer, where it took them away."""
    moves = [move for move in moves_of(entry.fact) if move.line == line]
    return sum(m.quantity * ((m.target == place) - (m.source == place)) for m in moves)


def _counted_there(entry: Entry, line: str, place: str) -> int | None:
    """How many of a line somebody counted at a place; None where nobody did by this entry."""
    fact: Any = entry.fact
    if isinstance(fact, WeighCounted):
        return fact.number if (fact.line, fact.place) == (line, place) else None
    seen = (fact.seen,) if isinstance(fact, Checked) else fact.entries if isinstance(fact, _COUNTS) else ()
    return next((one.quantity for one in seen if (one.line, one.place) == (line, place)), None)


def slip_words(t: Teardown, entry: Entry) -> tuple[str, str]:
    """A count as it is told to whoever chooses: what it moved, and when and by whom."""
    moved = [
        f"{t.say(m.line, m.quantity)} {t.say_place(m.source)}, then {t.say_place(m.target)}"
        for m in moves_of(entry.fact)
    ]
    return "; ".join(moved), f"{clock_face(entry.at)}, {entry.who}"
