"""Where several alike could be that were lost at different times, told as one: whoever looks in, looks for all of them.

Each loss has a window of its own and so its own places. A place is ranked as the loss does that ranks it best, and
carries that one's reason; ruled out is what no loss could have reached.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from checklists.sheet import Sheet
from checklists.whereabouts.migration import Candidate, RuledOut, Ways
from checklists.whereabouts.passing import MIGHT_PASS
from checklists.whereabouts.telling import reason


class Window(NamedTuple):
    """One loss: for how many seconds each opening stood uncovered to it, as `migration.candidates` takes it.

    `fell` says that it was seen to fall; `anywhere` that it was short before anything was opened.
    """

    exposed: Mapping[str, float]
    fell: bool = False
    anywhere: bool = False


class Placed(NamedTuple):
    """A space that some of them could be in, as the loss has it that ranks it best; `fell` is that one's."""

    candidate: Candidate
    fell: bool

    def why(self, sheet: Sheet) -> str:
        """Why it could be there, in words."""
        return reason(self.candidate, sheet, self.fell)


#: How a space stands for one loss: it could get in, it may always have been in, it could get in only later.
_IN_THE_WINDOW, _ALL_ALONG, _LATER = range(3)


def together(
    ways: Ways, spaces: Sequence[str], windows: Sequence[Window]
) -> tuple[tuple[Placed, ...], tuple[RuledOut, ...]]:
    """The spaces that any of these losses could be in, the likeliest first, and the others with why not.

    `spaces` are all of the sheet, in its order.
    """
    found = [_anywhere(spaces) if window.anywhere else ways.candidates(window.exposed) for window in windows]
    if len(windows) == 1:
        (window,), (only,) = windows, found
        return tuple([Placed(candidate, window.fell) for candidate in only]), ways.ruled_out(window.exposed, only)
    ranked = _ranked(windows, found)
    exposed = {way: seconds for window in windows for way, seconds in window.exposed.items()}
    return tuple(ranked), ways.ruled_out(exposed, [placed.candidate for placed in ranked])


def _ranked(windows: Sequence[Window], found: Sequence[Sequence[Candidate]]) -> list[Placed]:
    """Each space once, by the best of its ranks among the losses; of equal ranks that of the loss with fewer places."""
    best: dict[str, tuple[tuple[int, int, int], Placed]] = {}
    for window, candidates in zip(windows, found, strict=True):
        for rank, candidate in enumerate(candidates):
            place = (_class(candidate, window), rank, len(candidates)), Placed(candidate, window.fell)
            if candidate.space not in best or place[0] < best[candidate.space][0]:
                best[candidate.space] = place
    return [placed for _, placed in sorted(best.values(), key=lambda place: place[0])]


def _class(candidate: Candidate, window: Window) -> int:
    return _ALL_ALONG if window.anywhere else _IN_THE_WINDOW if candidate.exposed else _LATER


def _anywhere(spaces: Sequence[str]) -> tuple[Candidate, ...]:
    return tuple(Candidate(space, MIGHT_PASS, (), 1.0, 0.0) for space in spaces)
