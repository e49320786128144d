"""Closing the teardown as a whole: every closure signed, every line home, the engine turned by hand."""

from __future__ import annotations

from collections.abc import Iterator

from checklists import places
from checklists.reason_making import (
    cautions,
    discrepancies,
    finds,
    items_at,
    measures,
    not_home,
    of_items,
    still_missing,
)
from checklists.reasons import Reason
from checklists.state import FITTED, SIGNED, Teardown
from checklists.words import it_or_them, within

Reasons = tuple[Reason, ...]


def why_not_close(teardown: Teardown) -> Reasons:
    """Everything that stands between the teardown and its closing."""
    return tuple(_why_not_close(teardown))


def _why_not_close(t: Teardown) -> Iterator[Reason]:
    yield from cautions(t)
    for closure, state in t.closure_states.items():
        if state.stage not in (FITTED, SIGNED):
            name = within(t.closures[closure].name)
            words = f"The {name} is {state.stage}." + (f" {state.remark}" if state.remark else "")
            yield Reason(
                "closure open",
                words,
                f"Close the {name} and sign for it.",
                since=state.since,
                who=state.who,
                closure=closure,
            )
            yield from not_home(t, closure)
    yield from _items_away(t)
    for item in t.missing:
        yield still_missing(t, item)
    yield from finds(t, None)
    yield from discrepancies(t)
    yield from measures(t, None)
    yield from _hand_turn(t)


def _items_away(t: Teardown) -> Iterator[Reason]:
    """Items off the machine or in the engine that no closure asks for: tools, rags, covers, pieces."""
    on_closures = {line for closure in t.closures for line in t.lines_of(closure)}

    def away(place: str) -> bool:
        return places.family(place) in places.OUT_FAMILIES | places.ENGINE_FAMILIES

    for line, place, quantity in items_at(t, away):
        if line in on_closures and places.family(place) in places.OUT_FAMILIES and _asked_for(t, line):
            continue
        words = f"{t.say(line, quantity)} {t.say_place(place)}."
        do_next = f"Count {it_or_them(quantity)} back to where {'it belongs' if quantity == 1 else 'they belong'}."
        yield of_items(t, "not put away", line, quantity, place, words, do_next)


def _asked_for(t: Teardown, line: str) -> bool:
    """Whether an open closure already says that this line is not home."""
    closure = places.named(t.lines[line].home)
    return t.closure_states[closure].stage not in (FITTED, SIGNED) and (
        t.required[line] > t.quantity(line, t.lines[line].home)
    )


def _hand_turn(t: Teardown) -> Iterator[Reason]:
    signed = [s.signed.n for s in t.closure_states.values() if s.signed]
    if not any(s.was_lifted for s in t.closure_states.values()):
        return
    if t.hand_turned is None or any(n > t.hand_turned.n for n in signed):
        yield Reason(
            "not turned by hand",
            "The engine was not turned by hand after the last closure was signed.",
            "Turn it by hand first, two full turns, and say what you felt.",
        )
