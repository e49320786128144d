"""Counts by weight: whether one is independent of whoever put the items there, and what it is not counted as."""

from __future__ import annotations

from checklists.state import Teardown

#: What a count by weight does not do, wherever one is told.
ONE_LINE_ONLY = (
    "A count by weight is of one line where it lies, so it is not among the counts that the residual risk is reckoned "
    "from: they are of all that a closure's spaces could hold."
)


def hands_in(t: Teardown, line: str, place: str, before: int | None = None) -> frozenset[str]:
    """Who put any of a line where it lies, since none of it lay there; by all entries, or those before `before`."""
    hands: set[str] = set()
    lie = 0
    for entry in t.history if before is None else t.history[: before - 1]:
        for move in getattr(entry.fact, "moves", ()):
            if move.line != line or place not in (move.source, move.target):
                continue
            lie += move.quantity if move.target == place else -move.quantity
            if move.target == place:
                hands.add(entry.who)
        if lie <= 0:
            hands.clear()
    return frozenset(hands)


def whose_count(t: Teardown, line: str, place: str, who: str, before: int | None = None) -> str:
    """Whether a count by `who` is one of its own: only where somebody else put every one of the items there."""
    hands = hands_in(t, line, place, before)
    if who not in hands:
        return "independent of whoever put them there"
    if hands == {who}:
        return "NOT independent: by whoever put them there"
    return "NOT independent: by one of those who put them there"
