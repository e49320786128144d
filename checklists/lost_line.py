"""All that is missing of one line, lost at once or one after another: what a person searches for.

One of several alike that is found may be any of them, and a look into a port is a look for all of them. So a search is
made by line, over every space that any of its losses could be in. What stands against a closure or a release, and
what recalls one, is worked out for each loss by itself.
"""

from __future__ import annotations

from typing import NamedTuple

from checklists.state import SHORT_AT_START, MissingItem, Teardown
from checklists.where_it_could_be import exposed_seconds, seen_to_fall
from checklists.whereabouts.migration import RuledOut
from checklists.whereabouts.together import Placed, Window, together
from checklists.words import listing


class LostLine(NamedTuple):
    """A line that is missing, and its losses, the oldest first."""

    line: str
    losses: tuple[MissingItem, ...]

    @property
    def quantity(self) -> int:
        """How many are missing."""
        return sum(item.quantity for item in self.losses)


def lost_lines(t: Teardown) -> tuple[LostLine, ...]:
    """Every line of which something is missing, in the order in which they were lost."""
    by_line: dict[str, list[MissingItem]] = {}
    for item in t.missing:
        by_line.setdefault(item.line, []).append(item)
    return tuple(LostLine(line, tuple(items)) for line, items in by_line.items())


def lost_line(t: Teardown, line: str) -> LostLine:
    """What is missing of that line; nothing, perhaps."""
    return LostLine(line, tuple(item for item in t.missing if item.line == line))


class WhereLost(NamedTuple):
    """The spaces a missing line could be in, most likely first, and every other space with why it cannot be there."""

    placed: tuple[Placed, ...]
    ruled_out: tuple[RuledOut, ...]


def where_lost(t: Teardown, lost: LostLine) -> WhereLost:
    """Where any of a missing line could be: the very spaces that `Teardown.could_hold` has for its losses."""
    ways = t.ways.for_shape(t.lines[lost.line].shape)
    return WhereLost(*together(ways, list(t.spaces), windows_of(t, lost)))


def windows_of(t: Teardown, lost: LostLine) -> tuple[Window, ...]:
    """What stood open to each loss of a line, for `together`."""
    return tuple(
        Window({}, anywhere=True)
        if item.cause == SHORT_AT_START
        else Window(exposed_seconds(t, item), seen_to_fall(item))
        for item in lost.losses
    )


def in_no_space(t: Teardown, lost: LostLine) -> tuple[MissingItem, ...]:
    """Those of its losses that cannot have gone into any space: they are searched for round about."""
    return tuple(item for item in lost.losses if t.could_hold(item) == frozenset())


def causes(lost: LostLine) -> str:
    """How a line was lost: "dropped", or "1 dropped, 2 missing" where it was lost in several ways."""
    counted: dict[str, int] = {}
    for item in lost.losses:
        counted[item.cause] = counted.get(item.cause, 0) + item.quantity
    if len(counted) == 1:
        return next(iter(counted))
    return listing([f"{number} {cause}" for cause, number in counted.items()])
