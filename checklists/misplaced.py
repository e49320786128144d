"""What lies elsewhere than the tally has it: more of a line seen at one place, fewer at another.

Of discrepancies in counts most are misplaced items (Greenberg 2008: 59 %), so the way out of one has to be short.
"""

from __future__ import annotations

from typing import NamedTuple

from checklists import places
from checklists.state import Teardown

_NOWHERE = frozenset({places.ORIGIN, places.CONVERTED, places.NEW_STOCK})


class Misplaced(NamedTuple):
    """`quantity` of `line` were seen at `lies`, where the tally has them at `on_tally`."""

    line: str
    quantity: int
    lies: str
    on_tally: str


def misplaced(t: Teardown) -> list[Misplaced]:
    """What was counted where the tally does not have it, and is on the tally elsewhere. A movement puts each right."""
    found: list[Misplaced] = []
    spare = {key: t.quantity(*key) - known.seen for key, known in t.discrepancies.items()}
    for (line, lies), known in t.discrepancies.items():
        more = known.seen - t.quantity(line, lies)
        for place in _sources(t, line, lies, known.mark.n) if more > 0 else ():
            had = min(more, spare.get((line, place), t.quantity(line, place)))
            if had > 0:
                found.append(Misplaced(line, had, lies, place))
                spare[line, place] = spare.get((line, place), t.quantity(line, place)) - had
                more -= had
    return found


def _sources(t: Teardown, line: str, lies: str, n: int) -> list[str]:
    """Where the tally has some that may be those seen: where too few were seen, then missing, then not counted."""
    held = [place for place, quantity in t.places_of(line).items() if quantity > 0 and place not in _NOWHERE]

    def rank(place: str) -> int:
        return 0 if (line, place) in t.discrepancies else 1 if place == places.MISSING else 2

    return sorted((place for place in held if place != lies and not _counted_since(t, line, place, n)), key=rank)


def _counted_since(t: Teardown, line: str, place: str, n: int) -> bool:
    """Whether a count as new as that one found all of them there."""
    sighted = t.sighted.get((line, place))
    return (line, place) not in t.discrepancies and sighted is not None and sighted.n >= n
