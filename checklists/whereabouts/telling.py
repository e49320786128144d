"""Candidates in a person's words: why the item could be there, and by which way."""

from __future__ import annotations

from checklists.exposure import A_MOMENT
from checklists.sheet import Sheet
from checklists.times import duration_words
from checklists.whereabouts.migration import Candidate
from checklists.words import listing

_VERDICTS = {"passes": "it passes", "might pass": "it might pass"}
_WAYS = {"falls": "falls", "blows": "is blown", "drains": "is drained"}
#: Why a space is one of all, where no way was looked for: `together` gives such a candidate no path.
SINCE_THE_START = "it was short at the start, so it may have been inside all along"

#: So many openings are named in a reason; the rest are counted.
_NAMED = 3


def reason(candidate: Candidate, sheet: Sheet, fell: bool = False) -> str:
    """Why the item could be in that space: "Could be in cylinder 2: inlet 2 stood uncovered for 12 min ...".

    `fell` says that it was seen to fall, so that only the moment of it counts.
    """
    names = {space.id: space.name for space in sheet.spaces}
    if not candidate.path:
        return f"Could be in {names[candidate.space]}: {SINCE_THE_START}."
    lay = not candidate.path[0].way
    if lay and len(candidate.path) == 1:
        return f"Could be in {names[candidate.space]}: it was last known to be there."
    words = [f"it was last known to be in {names[candidate.path[0].to]}" if lay else _open_words(candidate, fell)]
    words += [f"from {leg.name} it {_WAYS.get(leg.way, leg.way)}" for leg in candidate.path[1:]]
    return f"Could be in {names[candidate.space]}: {'; '.join(words)}; {_VERDICTS[candidate.verdict]}."


def _open_words(candidate: Candidate, fell: bool) -> str:
    """Every opening by which it could have come, the one on its path first."""
    first = candidate.path[0].name
    if not candidate.exposed:
        return f"{first} was uncovered only after it {'fell' if fell else 'was missed'}"
    own_first = sorted(candidate.openings, key=lambda known: known[0] != first)
    more = len(own_first) - _NAMED
    if fell:
        told = [name for name, _ in own_first[:_NAMED]]
        return f"{_listed(told, more)} stood uncovered as it fell"
    (name, seconds), *others = own_first[:_NAMED]
    told = [f"{name} stood uncovered for {_how_long(seconds)}"]
    told += [f"{other} for {_how_long(spent)}" for other, spent in others]
    return f"{_listed(told, more)} in the time it went missing"


def _listed(told: list[str], more: int) -> str:
    return listing([*told, f"{more} more"] if more > 0 else told)


def _how_long(seconds: float) -> str:
    """Where the clock tells no time at all, it was set back: an opening stands uncovered for longer than that."""
    if seconds <= A_MOMENT:
        return "a time that cannot be told"
    return duration_words(seconds) if seconds >= 1 else "a moment"
