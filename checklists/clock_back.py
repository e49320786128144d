"""Where a clock ran back: how long something lasted over that cannot be told, and no figure may claim it.

What the fold adds up stays as it is, and so does the order, which is the entries' own; this is for the words.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from checklists.exposure import OpeningState
from checklists.facts import Entry
from checklists.times import seconds_between

#: A clock put right by less than this, in seconds, changes no figure that is said in whole seconds.
LEAST = 1.0


def ran_back_at(history: Iterable[Entry]) -> list[int]:
    """The numbers (from 1) of the entries before which their own phone's clock had been set back."""
    last: dict[str, str] = {}
    back = []
    for number, entry in enumerate(history, 1):
        before = last.get(entry.device)
        if before is not None and ran_back(before, entry.at):
            back.append(number)
        last[entry.device] = entry.at
    return back


def ran_back(earlier: str, later: str) -> bool:
    """Whether the clock stands before a time that it showed already."""
    return seconds_between(earlier, later) <= -LEAST


def told(back: Sequence[int], span: tuple[int, int], start: str, end: str) -> float | None:
    """The seconds from entry to entry of `span` (0 while it lasts), at these times; None where they cannot be told."""
    first, last = span
    at = bisect_right(back, first)
    if ran_back(start, end) or (at < len(back) and (not last or back[at] <= last)):
        return None
    return max(0.0, seconds_between(start, end))


class Uncovered(NamedTuple):
    """How long an opening stood uncovered: the seconds of each spell that can be told, None of one that cannot."""

    spells: tuple[float | None, ...]

    @property
    def untold(self) -> bool:
        """Whether the clock was set back over any of them."""
        return None in self.spells

    @property
    def least(self) -> float:
        """What can be told of it, in all."""
        return sum(spell for spell in self.spells if spell is not None)


def uncovered(back: Sequence[int], state: OpeningState, now: str) -> Uncovered:
    """The spells of one opening, the last of them up to `now` while it lasts."""
    return Uncovered(tuple(
        told(back, span, start, end or now) for (start, end), span in zip(state.spells, state.spans, strict=True)
    ))  # fmt: skip
