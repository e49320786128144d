"""Bookkeeping slips: the counts that could be wrong where a place does not agree, to be taken back with a reason.

Of discrepancies in counts 38 % are errors of writing down (Greenberg 2008). Nothing is edited: the wrong count is
taken back by a reversing movement that names it.
"""

from __future__ import annotations

from checklists.facts import Added, Converted, Counted, Entry, Move, Renewed, moves_of
from checklists.state import Teardown
from checklists.times import clock_face

#: What is taken back most often, offered to be picked; anything else is typed.
WHY = ("Tapped once too often", "Counted, but not done", "The wrong item was counted", "The wrong place was said")


def slips(t: Teardown, line: str, place: str) -> list[Entry]:
    """The counts of `line` at `place` that could be wrong, newest first: each, taken back, brings the tally nearer to
    what was counted there. None where a count there agrees."""
    known = t.discrepancies.get((line, place))
    if known is None or known.seen == t.quantity(line, place):
        return []
    too_many = known.seen < t.quantity(line, place)

    def could_be_wrong(move: Move) -> bool:
        return move.line == line and place == (move.target if too_many else move.source)

    return [
        entry
        for entry in reversed(t.history)
        if isinstance(entry.fact, Counted | Added | Converted | Renewed)
        and (entry.device, entry.seq) not in t.reversed
        and any(map(could_be_wrong, moves_of(entry.fact)))
    ]


def slip_words(t: Teardown, entry: Entry) -> tuple[str, str]:
    """A count as it is told to whoever chooses: what it moved, and when and by whom."""
    moved = [
        f"{t.say(m.line, m.quantity)} {t.say_place(m.source)}, then {t.say_place(m.target)}"
        for m in moves_of(entry.fact)
    ]
    return "; ".join(moved), f"{clock_face(entry.at)}, {entry.who}"
