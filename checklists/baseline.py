"""Baseline photos: how the machine was found, before anything comes off.

Material is found as well as brought in, so its condition is on record before it is opened (nuclear plant exclusion
procedure NP 8.4.10). One photo at least is taken before the first closure is lifted; after that it is too late.
"""

from __future__ import annotations

from checklists.reasons import Reason
from checklists.state import Teardown

MOMENT = "baseline"
#: What a photo of the machine as a whole belongs to.
WHOLE = "teardown:"


def taken(teardown: Teardown) -> int:
    """How many there are."""
    return sum(fact.moment == MOMENT for fact, _ in teardown.photos.values())


def in_time(teardown: Teardown) -> bool:
    """Whether nothing was lifted yet."""
    return not any(state.was_lifted for state in teardown.closure_states.values())


def why_not(teardown: Teardown) -> tuple[Reason, ...]:
    """Why nothing may be lifted yet, for want of a photo; empty where one is there, or it is too late for it."""
    if taken(teardown) or not in_time(teardown):
        return ()
    words = "There is no photo of how the machine was found."
    return (Reason("no baseline photo", words, "Photograph it before anything comes off."),)
