"""The gate: why a closure may not be lifted, may not go back, may not be signed; why a teardown may not be closed.

Every function gives all reasons at once, as data. None of them can be overridden: there is no argument for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from checklists import places, second_count
from checklists.facts import Move
from checklists.reasons import Reason
from checklists.state import (
    FITTED,
    IN_PLACE,
    LIFTED,
    LOOSENED,
    RECALLED,
    SET_DOWN,
    SIGNED,
    MissingItem,
    Teardown,
)
from checklists.times import clock_face

Reasons = tuple[Reason, ...]


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


def why_not_lift(teardown: Teardown, closure: str) -> Reasons:
    """The lift check: fasteners all off, nothing lying loose on it, nothing over it still fitted, cautions read."""
    if teardown.closure_states[closure].stage not in IN_PLACE:
        name = teardown.closures[closure].name
        return (Reason("already off", f"The {name} is off already.", "Carry on with its openings.", closure=closure),)
    return tuple(_why_not_lift(teardown, closure))


def why_not_close(teardown: Teardown) -> Reasons:
    """Everything that stands between the teardown and its closing."""
    return tuple(_why_not_close(teardown))


# --- lifting -----------------------------------------------------------------------------------------------------


def _why_not_lift(t: Teardown, closure: str) -> Iterator[Reason]:
    yield from _cautions(t)
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        left = t.quantity(line, home)
        if left and t.lines[line].kind == "fastener":
            words = f"{t.say(line, left)} still in the {t.closures[closure].name}."
            yield _item(t, "still fitted", line, left, home, words, "Count them out.", closure=closure)
    for above in t.sheet.closures:
        if closure in above.lies_over and t.closure_states[above.id].stage in IN_PLACE:
            words = f"The {above.name} lies over the {t.closures[closure].name} and is still on."
            yield Reason("lies over", words, f"Lift the {above.name} first.", closure=above.id)
    for line, place, quantity in _items_at(t, lambda p: p in (places.ENGINE, places.lying_on(closure))):
        words = f"{t.say(line, quantity)} {t.say_place(place)}: it could fall in when the closure comes up."
        yield _item(t, "lying loose", line, quantity, place, words, "Take it away and count it.", closure=closure)


# --- clearing to refit -------------------------------------------------------------------------------------------


def _why_not_clear(t: Teardown, closure: str) -> Iterator[Reason]:
    yield from _cautions(t)
    yield from _items_inside(t, closure)
    yield from _missing_items(t, closure)
    yield from _finds(t, closure)
    yield from _discrepancies(t)
    yield from _nested(t, closure)
    yield from _looks(t, closure)
    yield from _second_count(t, closure)


def _cautions(t: Teardown) -> Iterator[Reason]:
    for caution in t.sheet.cautions:
        if caution.id not in t.acknowledged:
            yield Reason(
                "caution unread",
                f"Caution not acknowledged: {caution.text}",
                "Read it and acknowledge it.",
                caution=caution.id,
            )


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

    for line, place, quantity in _items_at(t, threatens):
        words = f"{t.say(line, quantity)} {t.say_place(place)}."
        opening = places.named(place) if places.family(place) == "cover" else ""
        code, do_next = (
            ("cover in place", "Take it out and count it back.")
            if opening
            else ("in the engine", "Take it out and count it back.")
        )
        yield _item(t, code, line, quantity, place, words, do_next, closure=closure, opening=opening)


def _missing_items(t: Teardown, closure: str) -> Iterator[Reason]:
    for item in t.missing:
        could_hold = t.could_hold(item)
        if could_hold is None or not could_hold.isdisjoint(t.spaces_of(closure)):
            yield _missing(t, item, closure)


def _missing(t: Teardown, item: MissingItem, closure: str = "") -> Reason:
    near = f", {item.near}" if item.near else ""
    words = f"{t.say(item.line, item.quantity)} {item.cause}{near}; last {t.say_place(item.source)}."
    return Reason(
        "missing",
        words,
        "Search, and count it found. Nothing turns until then.",
        line=item.line,
        line_name=t.lines[item.line].name,
        quantity=item.quantity,
        place=item.source,
        place_words=t.say_place(item.source),
        since=item.mark.at,
        who=item.mark.who,
        closure=closure,
    )


def _finds(t: Teardown, closure: str | None) -> Iterator[Reason]:
    spaces = None if closure is None else t.spaces_of(closure)
    for find, state in t.finds.items():
        if state.removed or (spaces is not None and state.logged.where and state.logged.where not in spaces):
            continue
        where = t.spaces[state.logged.where].name if state.logged.where in t.spaces else "outside the openings"
        yield Reason(
            "find open",
            f"Find not settled: {state.logged.what} ({where}).",
            "Take it out, photograph it after, and say where it is kept.",
            since=state.mark.at,
            who=state.mark.who,
            find=find,
            closure=closure or "",
        )


def _discrepancies(t: Teardown) -> Iterator[Reason]:
    for (line, place), known in t.discrepancies.items():
        words = (
            f"{t.lines[line].name}: {known.seen} counted {t.say_place(place)}, "
            f"where the tally has {t.quantity(line, place)}."
        )
        yield Reason(
            "count differs",
            words,
            "Count again; move what was misplaced, or log what is missing.",
            line=line,
            line_name=t.lines[line].name,
            quantity=abs(known.seen - t.quantity(line, place)),
            place=place,
            place_words=t.say_place(place),
            since=known.mark.at,
            who=known.mark.who,
        )


def _nested(t: Teardown, closure: str) -> Iterator[Reason]:
    for below in t.closures[closure].lies_over:
        state = t.closure_states[below]
        if state.stage not in (FITTED, SIGNED):
            name = t.closures[below].name
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
    name = t.openings[opening].name
    act = f"Look into {name} and photograph it."
    if opening not in t.looks:
        return "not looked into", f"Nobody has looked into {name} since it was opened.", act
    look, mark = t.looks[opening]
    touched = [t.touched[space] for space in t.ways.from_opening[opening] if space in t.touched]
    newer = max((moved for moved in touched if moved.n > mark.n), default=None)
    if not look.clear:
        return "not clear", f"{name}: seen inside: {look.seen}.", "Take it out as a find, then look again."
    if newer:
        words = f"{name} was looked into at {clock_face(mark.at)}, but something moved there at {clock_face(newer.at)}."
        return "look out of date", words, act
    return None


def _second_count(t: Teardown, closure: str) -> Iterator[Reason]:
    if not t.closures[closure].second_count or second_count.holds(t, closure):
        return
    name = t.closures[closure].name
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
        f"Make the {what}.",
        closure=closure,
        since=count.mark.at if count else "",
        who=count.mark.who if count else "",
    )


# --- signing -----------------------------------------------------------------------------------------------------


def _why_not_sign(t: Teardown, closure: str) -> Iterator[Reason]:
    state = t.closure_states[closure]
    name = t.closures[closure].name
    yield from _missing_items(t, closure)
    yield from _finds(t, closure)
    if state.stage == SET_DOWN and state.cleared is None:
        yield Reason(
            "clearance withdrawn",
            f"{state.remark} The {name} sits on spaces that are not cleared.",
            f"Count its fasteners out, lift the {name} again and clear it afresh.",
            since=state.since,
            who=state.who,
            closure=closure,
        )
    yield from _not_home(t, closure)


def _not_home(t: Teardown, closure: str) -> Iterator[Reason]:
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        due = t.required[line] - t.quantity(line, home)
        if due <= 0:
            continue
        place = _whereabouts(t, line)
        mark = t.moved.get((line, place))
        words = f"{t.say(line, due)} not home on the {t.closures[closure].name}: last {t.say_place(place)}."
        yield Reason(
            "not home",
            words,
            "Count them back.",
            line=line,
            line_name=t.lines[line].name,
            quantity=due,
            place=place,
            place_words=t.say_place(place),
            since=mark.at if mark else "",
            who=mark.who if mark else "",
            closure=closure,
        )


def _whereabouts(t: Teardown, line: str) -> str:
    """Where most of what is away from home is: off the machine first, missing last."""
    away = [p for p in t.places_of(line) if places.family(p) not in places.RESTING_FAMILIES]
    rest = [p for p in t.places_of(line) if places.family(p) in (places.SCRAP, places.NEW_STOCK, places.CONVERTED)]
    return min(away, key=lambda p: p == places.MISSING) if away else (rest or [places.TRAY])[0]


# --- closing the teardown ----------------------------------------------------------------------------------------


def _why_not_close(t: Teardown) -> Iterator[Reason]:
    yield from _cautions(t)
    for closure, state in t.closure_states.items():
        if state.stage not in (FITTED, SIGNED):
            name = t.closures[closure].name
            words = f"The {name} is {state.stage}." + (f" {state.remark}" if state.remark else "")
            yield Reason(
                "closure open",
                words,
                f"Close the {name} and sign for it.",
                since=state.since,
                who=state.who,
                closure=closure,
            )
            yield from _not_home(t, closure)
    yield from _items_away(t)
    for item in t.missing:
        yield _missing(t, item)
    yield from _finds(t, None)
    yield from _discrepancies(t)
    yield from _hand_turn(t)


def _items_away(t: Teardown) -> Iterator[Reason]:
    """Items off the machine or in the engine that no closure asks for: tools, rags, covers, pieces."""
    on_closures = {line for closure in t.closures for line in t.lines_of(closure)}

    def away(place: str) -> bool:
        return places.family(place) in places.OUT_FAMILIES | places.ENGINE_FAMILIES

    for line, place, quantity in _items_at(t, away):
        if line in on_closures and places.family(place) in places.OUT_FAMILIES and _asked_for(t, line):
            continue
        words = f"{t.say(line, quantity)} {t.say_place(place)}."
        yield _item(t, "not put away", line, quantity, place, words, "Count it back to where it belongs.")


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


# --- helpers -----------------------------------------------------------------------------------------------------


def _items_at(t: Teardown, wanted: Callable[[str], bool]) -> Iterator[tuple[str, str, int]]:
    for (line, place), quantity in t.balances.items():
        if quantity > 0 and wanted(place):
            yield line, place, quantity


def _item(
    t: Teardown,
    code: str,
    line: str,
    quantity: int,
    place: str,
    words: str,
    do_next: str,
    closure: str = "",
    opening: str = "",
) -> Reason:
    mark = t.moved.get((line, place))
    return Reason(
        code,
        words,
        do_next,
        line,
        t.lines[line].name,
        quantity,
        place,
        t.say_place(place),
        mark.at if mark else "",
        mark.who if mark else "",
        closure,
        opening,
    )


def short_of(teardown: Teardown, move: Move, held: int) -> Reason:
    """Why a movement cannot be made: its source holds only `held`. A surplus where items were to go home."""
    t = teardown
    name = t.lines[move.line].name
    going_home = places.family(move.target) in places.RESTING_FAMILIES and places.family(move.source) != "fitted"
    if going_home:
        away = sum(q for p, q in t.places_of(move.line).items() if places.family(p) not in places.RESTING_FAMILIES)
        words = (
            f"{t.say(move.line, move.quantity)} more to go home than the tally has {t.say_place(move.source)} "
            f"({held}); {away} still away in all."
        )
        code = "surplus"
    else:
        words = f"{t.say(move.line, move.quantity)} wanted, but the tally has {held} {t.say_place(move.source)}."
        code = "not there" if places.family(move.source) != "fitted" else "surplus"
    do_next = (
        f"Count again. If there really is one {name} more than came out, log it as a find: a surplus is a "
        "discrepancy too."
    )
    return _item(
        t,
        code,
        move.line,
        move.quantity - held,
        move.source,
        words,
        do_next if code == "surplus" else "Look where it is on the tally, and move it from there.",
    )
