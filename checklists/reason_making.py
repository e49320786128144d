"""Reasons that more than one gate gives: cautions, missing items, finds, differing counts, items not home."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from checklists import places
from checklists.facts import Move
from checklists.merging import SHORT, TWICE, Clash
from checklists.reasons import Reason
from checklists.state import FITTED, MissingItem, Teardown
from checklists.words import it_or_them, listing, sentence, within


def cautions(t: Teardown) -> Iterator[Reason]:
    """Cautions nobody has acknowledged."""
    for caution in t.sheet.cautions:
        if caution.id not in t.acknowledged:
            yield Reason(
                "caution unread",
                f"Caution not acknowledged: {caution.text}",
                "Read it and acknowledge it.",
                caution=caution.id,
            )


def missing_items(t: Teardown, closure: str) -> Iterator[Reason]:
    """Missing items that could be in the spaces a closure answers for."""
    for item in t.missing:
        could_hold = t.could_hold(item)
        if could_hold is None or not could_hold.isdisjoint(t.spaces_of(closure)):
            yield still_missing(t, item, closure)


def notes(t: Teardown, closure: str) -> tuple[str, ...]:
    """What refuses nothing, but is told with the answer: why each missing item cannot be in a closure's spaces.

    Of a line of which another one could be in there nothing is said: that one is a reason.
    """
    if not t.missing:
        return ()
    from checklists.where_it_could_be import not_in_words  # needed only once something is missing

    told: dict[str, list[str]] = {}
    for item in t.missing:
        told.setdefault(item.line, []).append(not_in_words(t, item, closure))
    return tuple(sentence(words) for lines in told.values() if all(lines) for words in dict.fromkeys(lines))


def notes_of_all(t: Teardown) -> tuple[tuple[str, str], ...]:
    """The same for every closure that is, or was, off or loosened: (closure, what is told)."""
    opened = [closure for closure, state in t.closure_states.items() if state.stage != FITTED]
    return tuple((closure, words) for closure in opened for words in notes(t, closure))


def still_missing(t: Teardown, item: MissingItem, closure: str = "") -> Reason:
    """Why a missing item stands against closing."""
    near = f", {item.near}" if item.near else ""
    words = f"{t.say(item.line, item.quantity)} {item.cause}{near}; last {t.say_place(item.source)}."
    if t.lines[item.line].shape is not None:
        from checklists.where_it_could_be import where_words  # needed only once something is missing

        words += f" {where_words(t, item)}"
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


def measures(t: Teardown, closure: str | None) -> Iterator[Reason]:
    """Broken parts whose pieces do not add up, and limits not met, of a closure; the pieces alone where none is named.

    The workshop is imported only where there is something to compute.
    """
    if t.broken or t.unaccounted:
        from checklists.broken_parts import piece_reasons

        yield from piece_reasons(t, closure)
    if closure is not None and t.closures[closure].limits:
        from checklists.measured_limits import limit_reasons

        yield from limit_reasons(t, closure)


def finds(t: Teardown, closure: str | None) -> Iterator[Reason]:
    """Finds not settled, in the spaces a closure answers for, or outside; every one where no closure is named."""
    spaces = None if closure is None else t.spaces_of(closure)
    for find, state in t.finds.items():
        if state.removed or (spaces is not None and state.logged.where and state.logged.where not in spaces):
            continue
        where = within(t.spaces[state.logged.where].name) if state.logged.where in t.spaces else "outside the openings"
        yield Reason(
            "find open",
            f"Find not settled: {state.logged.what} ({where}).",
            "Take it out, photograph it after, and say where it is kept.",
            since=state.mark.at,
            who=state.mark.who,
            find=find,
            closure=closure or "",
        )


def discrepancies(t: Teardown) -> Iterator[Reason]:
    """Counts that differ from the tally, and what two phones contradict each other in."""
    if t.two_ways:
        from checklists import two_ways  # only where two phones met

        yield from two_ways.reasons(t)
    yield from _clashes(t)
    for (line, place), known in t.discrepancies.items():
        words = (
            f"{within(t.lines[line].name)}: {known.seen} counted {t.say_place(place)}, "
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


def _clashes(t: Teardown) -> Iterator[Reason]:
    for clash in t.clashes.values():
        # One end shows whether one was counted twice; after a movement that could not be, both ends are in doubt.
        for place in [clash.count_at] if clash.kind == TWICE else sorted(clash.due):
            yield Reason(
                clash.kind,
                _clash_words(t, clash),
                f"Count {within(t.lines[clash.line].name)} again {t.say_place(place)}; {_then(t, clash)}.",
                line=clash.line,
                line_name=t.lines[clash.line].name,
                quantity=clash.quantity,
                place=place,
                place_words=t.say_place(place),
                since=clash.at,
                who=" and ".join(dict.fromkeys((clash.who, *clash.others))),
            )


def _written_twice(t: Teardown, clash: Clash) -> bool:
    if clash.source != places.ORIGIN:
        return False
    from checklists.withdrawing import doubled  # only where two phones met

    return doubled(t, clash.line) > 0


def _then(t: Teardown, clash: Clash) -> str:
    if _written_twice(t, clash):
        return "if it is there once only, withdraw what was written down twice"
    return "move or undo what is wrong"


def _clash_words(t: Teardown, clash: Clash) -> str:
    others = listing(list(clash.others)) or "the other phone"
    what = f"{t.say(clash.line, clash.quantity)} ({t.say_place(clash.source)} to {t.say_place(clash.target)})"
    if _written_twice(t, clash):
        what = f"{t.say(clash.line, clash.quantity)} {t.say_place(clash.target)}"
        return f"{what}: perhaps on the tally twice, written down by {clash.who} and by {others} on two phones."
    if clash.kind == TWICE:
        return f"{what}: perhaps counted twice, by {clash.who} and by {others} on two phones."
    if clash.kind == SHORT:
        return f"{what}: counted by {clash.who}, but {others} had taken it on another phone. It was not moved."
    return f"{what}: counted by {clash.who}, which the entries of another phone do not allow."


def not_home(t: Teardown, closure: str) -> Iterator[Reason]:
    """Fasteners and parts of a closure that are not counted home."""
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        due = t.required[line] - t.quantity(line, home)
        if due <= 0:
            continue
        place = _whereabouts(t, line)
        mark = t.moved.get((line, place))
        words = f"{t.say(line, due)} not home: last {t.say_place(place)}."
        yield Reason(
            "not home",
            words,
            f"Count {it_or_them(due)} back.",
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


def items_at(t: Teardown, wanted: Callable[[str], bool]) -> Iterator[tuple[str, str, int]]:
    """Every line, place and quantity at the places that are wanted."""
    for (line, place), quantity in t.balances.items():
        if quantity > 0 and wanted(place):
            yield line, place, quantity


def of_items(
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
    """A reason about items of a line at a place, with since when and by whom."""
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


def _comes_back(move: Move) -> bool:
    """Whether a movement brings something nearer home: out of the engine, from missing, or put to rest."""
    source, target = places.family(move.source), places.family(move.target)
    inside = places.ENGINE_FAMILIES | {places.MISSING}
    if source in inside:
        return target not in inside
    return source != "fitted" and target in places.RESTING_FAMILIES


def short_of(teardown: Teardown, move: Move, held: int) -> Reason:
    """Why a movement cannot be made: its source holds only `held`. A surplus where items were to go home."""
    t = teardown
    name = within(t.lines[move.line].name)
    if _comes_back(move):
        away = sum(q for p, q in t.places_of(move.line).items() if places.family(p) not in places.RESTING_FAMILIES)
        words = (
            f"{t.say(move.line, move.quantity)} more come back than the tally has {t.say_place(move.source)} "
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
    return of_items(
        t,
        code,
        move.line,
        move.quantity - held,
        move.source,
        words,
        do_next if code == "surplus" else "Look where it is on the tally, and move it from there.",
    )
