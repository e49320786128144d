"""The gate: why a closure may not go back, and why it may not be signed. Lifting and closing have theirs beside it.

Every function gives all reasons at once, as data. None of them can be overridden: there is no argument for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from checklists import places
from checklists.closing import why_not_close
from checklists.lift_check import why_not_lift
from checklists.reason_making import (
    cautions,
    discrepancies,
    finds,
    items_at,
    measures,
    missing_items,
    not_home,
    of_items,
)
from checklists.reasons import Reason
from checklists.state import FITTED, LIFTED, LOOSENED, RECALLED, SET_DOWN, SIGNED, ClosureState, Mark, Teardown
from checklists.times import day_and_clock
from checklists.words import it_or_them, within

Reasons = tuple[Reason, ...]

__all__ = ["why_not", "why_not_close", "why_not_lift"]


def why_not(teardown: Teardown, closure: str) -> Reasons:
    """Everything that stands between a closure and the next step of closing it; empty when nothing does.

    For a closure that is off: why it is not cleared to refit. For one set down, loosened or recalled: why it cannot
    be signed. Before an opening is looked into and counted again these reasons are the same for everybody; who may
    make the second count is judged when it is made.
    """
    stage = teardown.closure_states[closure].stage
    if stage == LIFTED:
        return tuple(_why_not_clear(teardown, closure))
    if stage in (SET_DOWN, LOOSENED, RECALLED):
        return tuple(_why_not_sign(teardown, closure))
    return ()


def _why_not_clear(t: Teardown, closure: str) -> Iterator[Reason]:
    yield from cautions(t)
    yield from _items_inside(t, closure)
    yield from missing_items(t, closure)
    yield from finds(t, closure)
    yield from discrepancies(t)
    yield from _nested(t, closure)
    yield from _looks(t, closure)
    yield from measures(t, closure)
    yield from _second_count(t, closure)


def _items_inside(t: Teardown, closure: str) -> Iterator[Reason]:
    spaces = t.spaces_of(closure)
    unsaid = not t.exposure.not_sealed().isdisjoint(spaces)

    def threatens(place: str) -> bool:
        family, _, name = place.partition("/")
        if family == places.ENGINE:
            return name in spaces if name else unsaid
        if family == "cover":
            return t.openings[name].space in spaces
        return family == "on" and name == closure

    yield from _items_at(t, closure, threatens)


def _items_at(t: Teardown, closure: str, threatens: Callable[[str], bool]) -> Iterator[Reason]:
    for line, place, quantity in items_at(t, threatens):
        words = f"{t.say(line, quantity)} {t.say_place(place)}."
        opening = places.named(place) if places.family(place) == "cover" else ""
        code, them = "cover in place" if opening else "in the engine", it_or_them(quantity)
        do_next = f"Take {them} out and count {them} back."
        yield of_items(t, code, line, quantity, place, words, do_next, closure=closure, opening=opening)


def _nested(t: Teardown, closure: str) -> Iterator[Reason]:
    for below in t.closures[closure].lies_over:
        state = t.closure_states[below]
        if state.stage not in (FITTED, SIGNED):
            name = within(t.closures[below].name)
            yield Reason(
                "closure below open",
                f"The {name} beneath it is not closed ({state.stage}).",
                f"Close the {name} first.",
                since=state.since,
                who=state.who,
                closure=below,
            )


def _looks(t: Teardown, closure: str) -> Iterator[Reason]:
    for opening in t.ways.openings_of[closure]:
        reason = _look(t, opening)
        if reason:
            code, words, do_next = reason
            state = t.opening_states[opening]
            yield Reason(code, words, do_next, since=state.since, who=state.who, closure=closure, opening=opening)


def _look(t: Teardown, opening: str) -> tuple[str, str, str] | None:
    name = within(t.openings[opening].name)
    act = f"Look into {name} and photograph it."
    if opening not in t.looks:
        return "not looked into", f"Nobody has looked into {name} since it was opened.", act
    look, _ = t.looks[opening]
    newer = moved_since_look(t, opening)
    if not look.clear:
        return "not clear", f"{name}: seen inside: {look.seen}.", "Take it out as a find, then look again."
    if newer:
        words = f"{name} was looked into, but something moved there at {day_and_clock(newer.at)}, after the look."
        return "look out of date", words, act
    return None


def moved_since_look(t: Teardown, opening: str) -> Mark | None:
    """What dates the last look into an opening: a later movement in its space or in any that is seen through it.

    What moved in another port does not, though both lead on to the same space: nothing is known to have gone on there.
    """
    _, looked = t.looks[opening]
    moved = moved_in_view(t, opening)
    return moved if moved and moved.n > looked.n else None


def moved_in_view(t: Teardown, opening: str) -> Mark | None:
    """The last movement in an opening's space or in any that is seen through it."""
    marks = [t.touched.get(t.openings[opening].space)]
    marks += [t.moved_in.get(space) for space in t.ways.from_opening[opening]]
    return max((mark for mark in marks if mark), default=None)


def dates_look(t: Teardown, opening: str) -> Mark | None:
    """What dates the last look into an opening; nothing does once its closure is back on that look.

    What moves elsewhere then may have been in there as far as anybody knew; if it stands against the closure, the
    closure is recalled.
    """
    went_back = t.closure_states[t.openings[opening].closure].stage in (SET_DOWN, SIGNED)
    return None if went_back else moved_since_look(t, opening)


def _second_count(t: Teardown, closure: str) -> Iterator[Reason]:
    if not t.closures[closure].second_count:
        return
    from checklists import second_count  # only where a sheet asks for one, and only where the closure is off

    if second_count.holds(t, closure):
        return
    name = within(t.closures[closure].name)
    alone = second_count.works_alone(t)
    what = "re-inspection after a pause" if alone else "blind second count by another person"
    count = t.second_counts.get(closure)
    if count is None:
        words = f"No {what} for the {name} yet."
    elif not count.agreed:
        words = f"The second count for the {name} did not agree."
    else:
        words = f"The second count for the {name} is out of date: something was moved after it."
    yield Reason(
        "second count due",
        words,
        "Pause, then look again and count." if alone else "Let another person make the blind second count.",
        closure=closure,
        since=count.mark.at if count else "",
        who=count.mark.who if count else "",
    )


def must_come_off(state: ClosureState) -> bool:
    """Whether a closure sits on spaces that are not cleared, or were not clear as it was signed: it is lifted again."""
    return state.cleared is None and (state.stage == SET_DOWN or (state.stage == RECALLED and state.was_lifted))


def left_inside(t: Teardown, closure: str) -> Iterator[Reason]:
    """What lies in the very spaces of a closure that was cleared empty: by another opening something has come in."""
    if t.closure_states[closure].stage in (SET_DOWN, RECALLED):
        spaces = t.spaces_of(closure)
        yield from _items_at(t, closure, lambda place: places.is_inside(place, spaces))


def _why_not_sign(t: Teardown, closure: str) -> Iterator[Reason]:
    state = t.closure_states[closure]
    name = within(t.closures[closure].name)
    yield from missing_items(t, closure)
    yield from finds(t, closure)
    yield from discrepancies(t)
    yield from _nested(t, closure)
    yield from left_inside(t, closure)
    if must_come_off(state):
        yield Reason(
            "clearance withdrawn",
            f"{state.remark} The {name} sits on spaces that are not cleared.",
            f"Count its fasteners out, lift the {name} again and clear it afresh.",
            since=state.since,
            who=state.who,
            closure=closure,
        )
    yield from measures(t, closure)
    yield from not_home(t, closure)
    if t.closures[closure].passes:
        from checklists.tightening_plan import tightening_reasons

        yield from tightening_reasons(t, closure)
