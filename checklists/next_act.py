"""The one next act, from the state alone: what a careful person would do now, and the words for it.

Doing things in another order stays possible; this only says what the largest button offers. It never names an act that
`judge` would refuse.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checklists import baseline, gate, places
from checklists.exposure import COVERED
from checklists.reason_making import measures
from checklists.reasons import Reason
from checklists.state import CLEARED, FITTED, IN_PLACE, LIFTED, LOOSENED, RECALLED, SIGNED, Teardown
from checklists.times import clock_face, seconds_between
from checklists.words import plural, the, within


@dataclass(frozen=True, slots=True)
class Act:
    """What to do next. `do` is one of ACTS; `words` is the sentence on the button; the rest says with what.

    `quantity` items of `line` from `place` to `target`; `who` may do it; not before `until` (a time stamp). Fastener
    `number` to `percent`.
    """

    do: str
    words: str
    closure: str = ""
    opening: str = ""
    line: str = ""
    place: str = ""
    target: str = ""
    quantity: int = 0
    who: str = ""
    until: str = ""
    caution: str = ""
    find: str = ""
    limit: str = ""
    number: int = 0
    percent: int = 0


ACTS = (
    "acknowledge",
    "photograph",
    "grow",
    "count out",
    "lift",
    "cover",
    "add",
    "work done",
    "search",
    "settle",
    "say which",
    "pieces",
    "remove find",
    "take out",
    "measure",
    "uncover",
    "look",
    "second count",
    "wait",
    "clear",
    "set down",
    "count back",
    "tighten",
    "sign",
    "turn by hand",
    "close",
    "ended",
)


def next_act(teardown: Teardown, now: str) -> Act:
    """The act to offer at time `now`."""
    if teardown.ended:
        return Act("ended", f"This teardown is {teardown.ended}.")
    return next(_acts(teardown, now))


def _acts(t: Teardown, now: str) -> Iterator[Act]:
    """Every act that is due, the most pressing first."""
    yield from _cautions(t)
    yield from _trouble(t)
    if t.work_done is None:
        yield from _opening_up(t)
        yield _work_done(t)
    yield from _closing_up(t, now)
    yield from _put_away(t)
    if not gate.why_not_close(t):
        yield Act("close", "Close the teardown: everything is counted back")
    yield Act("turn by hand", "Turn the engine by hand, two full turns, and say what you felt")


def _cautions(t: Teardown) -> Iterator[Act]:
    for caution in t.sheet.cautions:
        if caution.id not in t.acknowledged:
            yield Act("acknowledge", f"Read this caution: {caution.text}", caution=caution.id)


def _trouble(t: Teardown) -> Iterator[Act]:
    """What stops everything else: something missing, a count that differs."""
    for item in t.missing:
        yield Act(
            "search",
            f"Stop and search for {t.say(item.line, item.quantity)}",
            line=item.line,
            quantity=item.quantity,
            place=places.MISSING,
            target=item.source,
        )
    clashes = [(clash.line, clash.count_at) for clash in t.clashes.values()]
    for line, place in dict.fromkeys((*t.discrepancies, *clashes)):
        yield Act(
            "settle",
            f"Count the {plural(within(t.lines[line].name))} {t.say_place(place)} again",
            line=line,
            place=place,
        )
    if t.two_ways:
        from checklists.two_ways import KINDS  # only where two phones met

        two = next(iter(t.two_ways.values()))
        yield Act("say which", f"Say which is right: the {KINDS[two.what]} that two phones wrote down unlike")
    for reason in measures(t, None):
        if reason.code == "pieces do not add up":
            yield Act("pieces", f"{reason.do_next} Broken: {reason.line_name}", line=reason.line)


# --- opening up --------------------------------------------------------------------------------------------------


def _opening_up(t: Teardown) -> Iterator[Act]:
    """Top closure first: fasteners out, lift check, lift, its parts off, its openings covered."""
    if not t.closures:
        yield Act("grow", "Add the first closure you will take off")
    for reason in baseline.why_not(t):
        yield Act("photograph", reason.do_next.rstrip("."))
    for closure in reversed(closing_order(t)):
        stage = t.closure_states[closure].stage
        if stage in (FITTED, LOOSENED):
            yield from _take_off(t, closure)
        elif stage == LIFTED:
            yield from _count_out(t, closure, "part")
            yield from _cover_up(t, closure)


def _take_off(t: Teardown, closure: str, words: str = "") -> Iterator[Act]:
    """All that goes before a lift, then the lift, in these words."""
    if not t.ways.openings_of[closure]:
        yield Act("grow", f"Add the openings under the {within(t.closures[closure].name)}", closure=closure)
    for above in t.sheet.closures:
        if closure in above.lies_over and t.closure_states[above.id].stage in IN_PLACE:
            yield from _take_off(t, above.id)
    yield from _count_out(t, closure, "fastener")
    for reason in gate.why_not_lift(t, closure):
        if reason.line:
            yield _away(t, reason.line, reason.place)
    words = words or f"Lift check, photo, then lift the {within(t.closures[closure].name)}"
    yield Act("lift", words, closure=closure)


def _count_out(t: Teardown, closure: str, kind: str) -> Iterator[Act]:
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        left = t.quantity(line, home)
        if left and t.lines[line].kind == kind:
            what = _the_last(t, line, left)
            yield Act(
                "count out",
                f"Count out {what}",
                closure=closure,
                line=line,
                place=home,
                target=places.TRAY,
                quantity=left,
            )


def _cover_up(t: Teardown, closure: str) -> Iterator[Act]:
    from checklists.builders import cover_lines  # builders are not needed to draw the first board

    for opening in t.exposure.uncovered(t.ways.openings_of[closure]):
        name = the(t.openings[opening].name)
        ready = cover_lines(t, opening)
        if ready:
            yield Act(
                "cover",
                f"Cover {name}: {t.openings[opening].cover}",
                opening=opening,
                line=ready[0],
                quantity=1,
                place=places.STORES,
                target=places.cover_of(opening),
            )
        else:
            yield Act("add", f"Bring a cover for {name} onto the tally", opening=opening, quantity=1)


def _work_done(t: Teardown) -> Act:
    return Act("work done", "Do the work. When it is finished, start closing up")


# --- closing up --------------------------------------------------------------------------------------------------


def closing_order(teardown: Teardown) -> list[str]:
    """The closures in the order in which they go back: whatever lies beneath comes first."""
    placed: list[str] = []

    def place(closure: str) -> None:
        if closure not in placed:
            for below in teardown.closures[closure].lies_over:
                place(below)
            placed.append(closure)

    for closure in reversed(list(teardown.closures)):
        place(closure)
    return placed


def _closing_up(t: Teardown, now: str) -> Iterator[Act]:
    for closure in closing_order(t):
        state = t.closure_states[closure]
        name = within(t.closures[closure].name)
        if state.stage == LIFTED:
            yield from _make_clear(t, closure, now)
        elif state.stage == CLEARED:
            yield Act("set down", f"Set the {name} down in its place", closure=closure)
        elif state.stage == RECALLED and state.remark and not gate.why_not(t, closure):
            yield _sign(t, closure)
        elif gate.must_come_off(state):
            yield from _take_off(t, closure, f"Clearance was withdrawn: lift the {name} again")
        elif state.stage in IN_PLACE and state.stage not in (FITTED, SIGNED):
            for reason in gate.left_inside(t, closure):
                yield _away(t, reason.line, reason.place)
            yield from _count_home(t, closure)


def _make_clear(t: Teardown, closure: str, now: str) -> Iterator[Act]:
    reasons = gate.why_not(t, closure)
    for line, place in [pair for pair, quantity in t.balances.items() if pair[1] == places.FLOOR and quantity > 0]:
        yield _away(t, line, place, f"Pick {t.say(line, t.quantity(line, place))} up off the floor")
    for reason in reasons:
        if reason.code == "cover in place":
            name = the(t.openings[reason.opening].name)
            yield Act(
                "uncover",
                f"Take the {within(reason.line_name)} out of {name} and count it back",
                opening=reason.opening,
                line=reason.line,
                place=reason.place,
                target=places.STORES,
                quantity=reason.quantity,
            )
        elif reason.code == "in the engine":
            yield _away(t, reason.line, reason.place)
        elif reason.code == "find open":
            yield Act("remove find", f"Take out the find: {t.finds[reason.find].logged.what}", find=reason.find)
    for opening in t.ways.openings_of[closure]:
        if t.opening_states[opening].state == COVERED:
            yield Act("uncover", f"Uncover {the(t.openings[opening].name)}", opening=opening)
    yield from _measure(t, reasons)
    for reason in reasons:
        if reason.opening and reason.code != "cover in place":
            yield Act(
                "look", f"Look into {the(t.openings[reason.opening].name)} and photograph it", opening=reason.opening
            )
    if any(reason.code == "second count due" for reason in reasons):
        yield _second_count(t, closure, now)
    if not reasons:
        yield Act("clear", f"Sign the {within(t.closures[closure].name)} as cleared to refit", closure=closure)


def _the_last(t: Teardown, line: str, left: int) -> str:
    """What is left of a line to count: "the last 3 bolts", "the last bolt", or all of it."""
    if left == t.required[line]:
        return t.say(line, left)
    return f"the last {within(t.lines[line].name) if left == 1 else t.say(line, left)}"


def _off_words(t: Teardown, place: str) -> str:
    """From where something is taken away: out of a space, off a closure, out of the engine."""
    if place == places.ENGINE:
        return "out of the engine"
    family, name = places.family(place), places.named(place)
    if family == places.ENGINE:
        return f"out of {the(t.spaces[name].name)}"
    return f"off the {within(t.closures[name].name)}" if family == "on" else f"away, {t.say_place(place)}"


def _away(t: Teardown, line: str, place: str, words: str = "") -> Act:
    """Take something out of, or off, the engine: closures' items to the tray, anything else put away."""
    fastened = places.family(t.lines[line].home) == "fitted"
    target = places.TRAY if fastened else places.STORES
    quantity = t.quantity(line, place)
    return Act(
        "take out",
        words or f"Take {t.say(line, quantity)} {_off_words(t, place)}",
        line=line,
        place=place,
        target=target,
        quantity=quantity,
    )


def _second_count(t: Teardown, closure: str, now: str) -> Act:
    from checklists import second_count

    name = within(t.closures[closure].name)
    until = second_count.not_before(t, closure)
    if until and seconds_between(until, now) < 0:
        return Act(
            "wait", f"Alone: pause until {clock_face(until)}, then count and look again", closure=closure, until=until
        )
    who = second_count.who_may(t, closure)
    if not who:
        return Act("wait", "A second count needs another person", closure=closure)
    what = "Re-inspection" if until else f"Second count by {' or '.join(who)}"
    return Act("second count", f"{what} before the {name} goes back", closure=closure, who=who[0])


def _count_home(t: Teardown, closure: str) -> Iterator[Act]:
    """Parts first, then fasteners, each in the order opposite to the sheet's: the gasket under the cover."""
    from checklists.builders import where_away

    home = places.fitted(closure)
    order = {line: number for number, line in enumerate(t.lines_of(closure))}
    for line in sorted(order, key=lambda line: (t.lines[line].kind == "fastener", -order[line])):
        due = t.required[line] - t.quantity(line, home)
        place = where_away(t, line)
        if due > 0 and not t.quantity(line, place):
            yield Act(
                "add",
                f"Bring {t.say(line, due)} onto the tally: the old went to scrap",
                closure=closure,
                line=line,
                target=places.TRAY,
                quantity=due,
            )
        elif due > 0:
            yield Act(
                "count back",
                f"Count back {_the_last(t, line, due)}",
                closure=closure,
                line=line,
                place=place,
                target=home,
                quantity=min(due, t.quantity(line, place)),
            )
    reasons = gate.why_not(t, closure)
    for reason in reasons:
        if reason.code == "find open":
            yield Act("remove find", f"Take out the find: {t.finds[reason.find].logged.what}", find=reason.find)
    yield from _before_signing(t, closure, reasons)
    yield _sign(t, closure)


def _measure(t: Teardown, reasons: tuple[Reason, ...]) -> Iterator[Act]:
    for reason in reasons:
        if reason.limit:
            from checklists.measured_limits import stands  # with the workshop, only where a sheet has limits

            words = f"{stands(t, reason.closure, reason.limit)} {reason.do_next}"
            yield Act("measure", words, closure=reason.closure, limit=reason.limit)


def _before_signing(t: Teardown, closure: str, reasons: tuple[Reason, ...]) -> Iterator[Act]:
    """What is measured and tightened while the closure sits in its place, and a look for pieces that came too late."""
    yield from _measure(t, reasons)
    for reason in reasons:
        if reason.code == "pieces not looked for":
            name = within(t.closures[closure].name)
            yield Act("pieces", f"Weigh the pieces finer, or lift the {name} again and look", line=reason.line)
    if t.closures[closure].passes:
        from checklists.tightening_plan import step_words, steps_left

        for step in steps_left(t, closure)[:1]:
            words = step_words(t, closure, step)
            yield Act("tighten", words, closure=closure, number=step.bolt, percent=step.percent)


def _sign(t: Teardown, closure: str) -> Act:
    torque = t.closures[closure].torque
    tighten = f"Tighten to the maker's figure (sheet: {torque}), then sign" if torque else "Tighten, then sign"
    return Act("sign", f"{tighten} the {within(t.closures[closure].name)}", closure=closure)


def _put_away(t: Teardown) -> Iterator[Act]:
    for find, state in t.finds.items():
        if not state.removed:
            yield Act("remove find", f"Settle the find: {state.logged.what}", find=find)
    for reason in gate.why_not_close(t):
        if reason.code == "pieces not looked for":
            yield Act("pieces", f"{reason.words} {reason.do_next}", line=reason.line, opening=reason.opening)
        elif reason.code == "not put away":
            from checklists.builders import home_of

            home = home_of(t, reason.line)
            target = home if places.family(home) != "fitted" else places.SCRAP
            yield Act(
                "count back",
                f"Put away {t.say(reason.line, reason.quantity)} {reason.place_words}",
                line=reason.line,
                place=reason.place,
                target=target,
                quantity=reason.quantity,
            )
