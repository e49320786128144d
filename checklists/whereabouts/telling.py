"""Candidates in a person's words: why the item could be there, and by which way."""

from __future__ import annotations

from checklists.sheet import Sheet
from checklists.times import duration_words
from checklists.whereabouts.migration import Candidate

_VERDICTS = {"passes": "it passes", "might pass": "it might pass"}
_WAYS = {"falls": "falls", "blows": "is blown", "drains": "is drained"}


def reason(candidate: Candidate, sheet: Sheet) -> str:
    """Why the item could be in that space: "could be in cylinder 2: inlet 2 stood uncovered 12 min ..."."""
    names = {space.id: space.name for space in sheet.spaces}
    first = candidate.path[0]
    words = [f"{first.name} stood uncovered for {duration_words(candidate.exposed)} in the time it went missing"]
    words += [f"from {leg.name} it {_WAYS.get(leg.way, leg.way)}" for leg in candidate.path[1:]]
    return f"Could be in {names[candidate.space]}: {'; '.join(words)}; {_VERDICTS[candidate.verdict]}."
