"""Where one loss could be, by itself, whatever else of its line is missing: the exact answer, as a gate goes by it."""

from __future__ import annotations

from typing import NamedTuple

from checklists.lost_line import LostLine, where_lost
from checklists.state import MissingItem, Teardown
from checklists.whereabouts.migration import Candidate, RuledOut
from checklists.whereabouts.telling import reason


class OneLoss(NamedTuple):
    """The spaces it could be in, the likeliest first, and every other space with why not."""

    candidates: tuple[Candidate, ...]
    ruled_out: tuple[RuledOut, ...]


def whereabouts_of(t: Teardown, item: MissingItem) -> OneLoss:
    """Where that one could be."""
    placed, out = where_lost(t, LostLine(item.line, (item,)))
    return OneLoss(tuple(each.candidate for each in placed), out)


def words_of(t: Teardown, found: Candidate, fell: bool = False) -> str:
    """Why it could be in that space."""
    return reason(found, t.sheet, fell)
