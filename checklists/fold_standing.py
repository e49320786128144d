"""What stands and what falls: clearances withdrawn, sign-offs recalled, spaces touched."""

from __future__ import annotations

from checklists.state import CLEARED, IN_PLACE, LIFTED, RECALLED, SET_DOWN, SIGNED, ClosureState, Mark, Teardown


def touch(t: Teardown, spaces: frozenset[str], mark: Mark, origin: str = "") -> None:
    """Something moved in these spaces: a standing clearance of a closure over them is withdrawn.

    `origin` is the one space it moved in, where that is known; into the others something may have gone on from there.
    """
    for space in spaces:
        t.touched[space] = mark
        if origin in ("", space):
            t.moved_in[space] = mark
    if t.merging is not None:
        t.merging.note_touch(spaces)
    for closure, state in t.closure_states.items():
        if state.stage == CLEARED and not spaces.isdisjoint(t.spaces_of(closure)):
            withdraw(state, mark, "a movement in its spaces after it was cleared")


def withdraw(state: ClosureState, mark: Mark, why: str) -> None:
    """A clearance no longer stands; `why` says what took it away."""
    state.cleared, state.remark = None, f"Clearance withdrawn: {why}."
    if state.stage == CLEARED:
        state.stage, state.mark = LIFTED, mark


def withdraw_all(t: Teardown, mark: Mark, why: str) -> None:
    """Every standing clearance is taken away."""
    for state in t.closure_states.values():
        if state.stage == CLEARED:
            withdraw(state, mark, why)


def recall(state: ClosureState, mark: Mark, why: str) -> None:
    """A signature no longer stands; `why` says what took it away."""
    state.stage, state.mark, state.signed = RECALLED, mark, None
    state.remark = f"Sign-off recalled: {why}."


def doubt(t: Teardown, spaces: frozenset[str] | None, mark: Mark, why: str) -> None:
    """Something may lie in these spaces (None: in any): sign-offs over them are recalled, clearances withdrawn."""
    for closure, state in t.closure_states.items():
        if spaces is not None and spaces.isdisjoint(t.spaces_of(closure)):
            continue
        if state.stage == SIGNED:
            recall(state, mark, why)
        elif state.cleared:
            withdraw(state, mark, why)


def sign_again(t: Teardown, closure: str, mark: Mark, why: str) -> None:
    """A closure was signed without knowing all of it: its sign-off is recalled, its clearance withdrawn."""
    state = t.closure_states[closure]
    if state.stage == SIGNED:
        recall(state, mark, why)
    elif state.stage == CLEARED:
        withdraw(state, mark, why)


def clear_again(t: Teardown, closure: str, mark: Mark, why: str) -> None:
    """A closure went back over something that nobody had looked into or counted: it comes off once more."""
    state = t.closure_states[closure]
    if state.stage == CLEARED or (state.stage in IN_PLACE and state.was_lifted):
        lift_again(state, mark, why)


def lift_again(state: ClosureState, mark: Mark, why: str) -> None:
    """A closure sits on spaces that nobody can answer for: it must come off and be cleared afresh."""
    if state.stage in IN_PLACE:
        state.stage, state.mark, state.signed = SET_DOWN, mark, None
    withdraw(state, mark, why)
