"""Entries that had not seen everything before them: what they claim is held against the rules once more.

Whoever signed, looked or counted did so by what their phone knew. Where another phone had recorded something that
changes the answer, the claim does not stand. An entry that had seen all entries before it is never judged again. The
gates are imported only then: the app's first board has no time for them.
"""

from __future__ import annotations

from checklists.facts import Closed, Looked, Move
from checklists.fold_standing import doubt
from checklists.ledger import possible
from checklists.reasons import Reason
from checklists.state import CLOSED, FITTED, IN_PLACE, LIFTED, SIGNED, START, Mark, SecondCount, Teardown


def blind(t: Teardown) -> bool:
    """Whether the entry being applied had not seen everything that comes before it."""
    return t.merging is not None and bool(t.merging.first_unseen)


def clearance_falls(t: Teardown, closure: str) -> bool:
    """Whether a clearance given without knowing everything does not stand; its closure says why."""
    if not blind(t):
        return False
    state = t.closure_states[closure]
    if state.stage != LIFTED:
        return True  # somebody else has cleared it or set it down already; theirs counts
    from checklists import gate

    reasons = gate.why_not(t, closure)
    if reasons:
        state.remark = _does_not_stand("The clearance", reasons)
    return bool(reasons)


def signature_falls(t: Teardown, closure: str) -> bool:
    """Whether a closure signed without knowing everything does not stand as signed; it says why."""
    if not blind(t):
        return False
    state = t.closure_states[closure]
    if state.stage not in IN_PLACE or state.stage == FITTED:
        state.remark = f"The sign-off does not stand: on another phone the closure is {state.stage}."
        return True
    if state.stage == SIGNED:
        return True
    from checklists import gate

    reasons = gate.why_not(t, closure)
    if reasons:
        state.remark = _does_not_stand("The sign-off", reasons)
    return bool(reasons)


def closing_falls(t: Teardown) -> bool:
    """Whether a teardown closed without knowing everything stays open; its remark says why."""
    if not blind(t):
        return False
    if t.ended:
        return True
    from checklists import gate

    reasons = gate.why_not_close(t)
    if reasons:
        t.remark = _does_not_stand("The closing", reasons)
    return bool(reasons)


def reopen(t: Teardown, fact: object) -> None:
    """An entry that had not seen the closing, nor the closing it: what it leaves open opens the teardown again."""
    if t.ended != CLOSED or isinstance(fact, Closed) or not blind(t):
        return
    from checklists import gate

    if reasons := gate.why_not_close(t):
        t.ended, t.end, t.remark = "", START, _does_not_stand("The closing", reasons)


def _does_not_stand(what: str, reasons: tuple[Reason, ...]) -> str:
    return f"{what} does not stand: another phone had recorded more. {reasons[0].words}"


def all_closed(t: Teardown) -> bool:
    """Whether every closure is closed, as it must be before the engine is turned."""
    return all(state.stage in (FITTED, SIGNED) for state in t.closure_states.values())


def keep_look(t: Teardown, fact: Looked, mark: Mark) -> Mark | None:
    """The mark a look counts from, or None where an older look says more; one that missed a movement is out of date."""
    spaces = t.ways.from_opening[fact.opening]
    if not fact.clear and blind(t):
        doubt(t, spaces, mark, "something was seen inside on another phone")
    if t.merging is None or not t.merging.unseen_touch(spaces):
        return mark
    if fact.clear and fact.opening in t.looks:
        return None
    return mark._replace(n=t.merging.first_unseen - 1)


def keep_second_count(t: Teardown, closure: str, count: SecondCount) -> SecondCount | None:
    """The second count to keep; None where an older one says more. One that missed a movement is out of date."""
    if not blind(t) or t.merging is None:
        return count
    from checklists import second_count

    lines = {line for line, _ in second_count.count_list(t, closure)}
    if not (t.merging.unseen_line(lines) or t.merging.unseen_touch(t.spaces_of(closure))):
        return count
    if count.agreed and closure in t.second_counts:
        return None
    return count._replace(mark=count.mark._replace(n=t.merging.first_unseen - 1))


def still_possible(t: Teardown, moves: tuple[Move, ...]) -> tuple[Move, ...]:
    """Those movements of the present entry that can be put through."""
    return moves if t.merging is None else possible(t.balances, moves)

