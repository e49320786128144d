"""What a count that agrees still leaves, said of this teardown: from the counts and closeouts that still hold.

A count by weight is not taken into the sentence, and that is said with it. Made by another person than whoever put
the items there, it is an independent count of that line only; the sentence speaks of all that a closure's spaces hold.
"""

from __future__ import annotations

from dataclasses import replace

from checklists import second_count
from checklists.by_weight import ONE_LINE_ONLY
from checklists.gate import dates_look
from checklists.state import SET_DOWN, SIGNED, Teardown
from checklists.workshop.reliability import ResidualRisk, residual_risk

#: Gone back on its counts and looks, and not opened or recalled since.
_WENT_BACK = frozenset({SET_DOWN, SIGNED})


def counts_made(t: Teardown, closure: str = "") -> int:
    """Independent counts behind a closure, or behind the least counted one that was opened; none for none opened.

    Counting off and home is one. A second count is another where it agreed, another person made it and it holds: a
    re-inspection by the same person leans on the first.
    """
    if not closure:
        opened = [name for name, state in t.closure_states.items() if state.was_lifted]
        return min((counts_made(t, name) for name in opened), default=0)
    if not t.closure_states[closure].was_lifted:
        return 0
    second = t.second_counts.get(closure)
    by_another = second is not None and second.agreed and not second.fact.alone
    return 2 if by_another and _count_holds(t, closure) else 1


def closeouts_made(t: Teardown, closure: str = "") -> int:
    """Openings looked into, clear, and with nothing moved there since: those of a closure, or all."""
    openings = t.ways.openings_of[closure] if closure else list(t.openings)
    clear = [opening for opening in openings if opening in t.looks and t.looks[opening][0].clear]
    return sum(dates_look(t, opening) is None for opening in clear)


def risk_of(t: Teardown, closure: str = "") -> ResidualRisk:
    """The residual risk of a closure, or of the whole teardown; its `words` are no certificate and say so."""
    risk = residual_risk(counts_made(t, closure), closeouts_made(t, closure))
    return replace(risk, words=(*risk.words, ONE_LINE_ONLY)) if t.weigh_counts else risk


def _count_holds(t: Teardown, closure: str) -> bool:
    """It holds now, or the closure went back on it: refitting moves its fasteners home, which dates no count."""
    went_back = t.closures[closure].second_count and t.closure_states[closure].stage in _WENT_BACK
    return bool(went_back) or second_count.holds(t, closure)
