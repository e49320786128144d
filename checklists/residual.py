"""What a count that agrees still leaves, said of this teardown: from the counts and closeouts that were really made."""

from __future__ import annotations

from checklists.state import Teardown
from checklists.workshop.reliability import ResidualRisk, residual_risk


def counts_made(t: Teardown, closure: str = "") -> int:
    """Independent counts behind a closure, or behind the least counted one that was opened.

    Counting home is one. A second count is another where it agreed and another person made it: a re-inspection by the
    same person leans on the first.
    """
    if closure:
        second = t.second_counts.get(closure)
        return 2 if second and second.agreed and not second.fact.alone else 1
    opened = [name for name, state in t.closure_states.items() if state.was_lifted]
    return min((counts_made(t, name) for name in opened), default=1)


def closeouts_made(t: Teardown, closure: str = "") -> int:
    """Openings looked into and clear: those of a closure, or all."""
    openings = t.ways.openings_of[closure] if closure else list(t.openings)
    return sum(1 for opening in openings if opening in t.looks and t.looks[opening][0].clear)


def risk_of(t: Teardown, closure: str = "") -> ResidualRisk:
    """The residual risk of a closure, or of the whole teardown; its `words` are no certificate and say so."""
    return residual_risk(counts_made(t, closure), closeouts_made(t, closure))
