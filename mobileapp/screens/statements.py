"""What a person signs for: the values behind it, what follows from it, and what happens next. Pure, no widgets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from checklists import builders, second_count
from checklists import facts as f
from checklists.signing import AS_IF_SIGNED
from checklists.state import Mark, Teardown
from checklists.times import clock_face
from checklists.words import how_many, listing, within

RESIDUAL = "A correct count is not proof of an empty engine."
#: So many places that were searched are told one by one before it is signed; the signed words have them all.
_MOST_PLACES = 9
FREE = "Two turns, free all the way"


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement: its title, the sentence signed for, the values behind it, what follows, and the key's words."""

    title: str
    says: str
    values: tuple[str, ...]
    consequence: str
    next_words: str
    key: str
    shape: str
    tone: str = "sky"


def statement(t: Teardown, what: str, closure: str, now: str) -> Statement:
    """The statement `what` ("clear", "sign", ...) with the values as they stand now."""
    return _MAKERS[what](t, closure, now)


def probe(t: Teardown, what: str, closure: str) -> f.Fact:
    """The fact with everything a person types filled in: to ask what else stands against it."""
    made: dict[str, Callable[[], f.Fact]] = {
        "work done": lambda: f.WorkDone(""),
        "clear": lambda: builders.clear_to_refit(t, closure, "", AS_IF_SIGNED),
        "set down": lambda: f.Refitted(closure),
        "sign": lambda: builders.sign(t, closure, "as typed", "", AS_IF_SIGNED),
        "turn by hand": lambda: f.HandTurned(FREE, "", AS_IF_SIGNED),
        "close": lambda: builders.close(t, "", AS_IF_SIGNED),
        "release": lambda: builders.released(t, "as typed", "", "", AS_IF_SIGNED),
    }
    return made[what]()


def _work_done(t: Teardown, closure: str, now: str) -> Statement:
    off = [t.closures[c].name for c, state in t.closure_states.items() if state.was_lifted]
    return Statement(
        "The work is finished", "The work inside is finished.",
        (f"Off: {listing(off)}." if off else "No closure is off.",),
        "From here on the machine is being closed. Anything more that goes in or out is still counted.",
        "Every cover is counted out, every opening looked into and photographed, then counted a second time.",
        "Start closing up", "go", "orange",
    )  # fmt: skip


def _clear(t: Teardown, closure: str, now: str) -> Statement:
    name = t.closures[closure].name
    return Statement(
        f"Clear to refit: {name}", builders.clearance_statement(t, closure), (*looks(t, closure), *second(t, closure)),
        "Any later movement in these spaces withdraws this clearance by itself.",
        f"Set the {name} down in its place, then count every fastener home.",
        "Sign: cleared to refit", "cleared",
    )  # fmt: skip


def _set_down(t: Teardown, closure: str, now: str) -> Statement:
    name = t.closures[closure].name
    cleared = t.closure_states[closure].cleared
    openings = t.ways.openings_of[closure]
    return Statement(
        f"Set down: {name}", f"The {name} sits in its place.",
        ((f"Cleared to refit at {clock_face(cleared.at)} by {cleared.who}.",) if cleared else ()),
        f"From now on its openings count as sealed: {listing([t.openings[o].name for o in openings])}.",
        "Count every fastener home, tighten to the maker's figure, then sign.",
        "It is down in its place", "set down",
    )  # fmt: skip


def _sign(t: Teardown, closure: str, now: str) -> Statement:
    name = t.closures[closure].name
    return Statement(
        f"Sign as closed: {name}", builders.closed_statement(t, closure), second(t, closure),
        "If something turns out missing that could be in its spaces, this sign-off is recalled and it comes off again.",
        "The next closure; after the last one the engine is turned by hand first.",
        "Sign: closed", "signed",
    )  # fmt: skip


def _turn(t: Teardown, closure: str, now: str) -> Statement:
    signed = [
        f"{t.closures[c].name}: signed at {clock_face(s.signed.at)} by {s.signed.who}."
        for c, s in t.closure_states.items()
        if s.signed
    ]
    return Statement(
        "Turn by hand first",
        "The engine is turned by hand, two full turns, before anything else turns it.",
        tuple(signed),
        "A find is logged instead where it stops, drags or knocks.",
        "What is still off the machine is put away, then the teardown can be closed.",
        "Sign: turned by hand", "signed",
    )  # fmt: skip


def _close(t: Teardown, closure: str, now: str) -> Statement:
    turned = t.hand_turned
    values = (
        *(builders.closed_statement(t, c) for c, s in t.closure_states.items() if s.signed),
        f"{how_many(len(t.drops), 'drop')}, {how_many(len(t.finds), 'find')}, all settled."
        if t.drops or t.finds
        else "No drops, no finds.",
        *((f"Turned by hand at {clock_face(turned.at)} by {turned.who}.",) if turned else ()),
    )
    return Statement(
        "Close the teardown", builders.close(t, "").statement.removesuffix(RESIDUAL).strip(), values,
        "Nothing more can be recorded on this teardown. To open the machine again, start a new one.",
        "The board shows it closed, and its record stays.", "Sign: all closed", "gate",
    )  # fmt: skip


def _release(t: Teardown, closure: str, now: str) -> Statement:
    missing = [
        f"{t.say(i.line, i.quantity)}, {i.cause} since {clock_face(i.mark.at)}, last {t.say_place(i.source)}."
        for i in t.missing
    ]
    finds = [f"Find not settled: {state.logged.what}." for state in t.finds.values() if not state.removed]
    return Statement(
        "Release, not clear", "This ends the teardown without a closure.",
        (*(missing or ["Nothing is missing."]), *searched(t), *finds),
        "This is not a closure. What was never found may be inside, and may break the engine at the first turn. "
        "It stands in the record for good, with the search, the reason and the name, and cannot be taken back.",
        "The board shows it released, not clear. Nothing more can be recorded on this teardown.",
        "Sign: released, not clear", "refused", "yellow",
    )  # fmt: skip


def searched(t: Teardown) -> tuple[str, ...]:
    """Each place that something missing could be in: how it was searched, by whom, and what was seen."""
    from checklists.lost_line import lost_lines  # needed only at such an end
    from checklists.searches import passes_words, search_list

    said: list[str] = []
    for lost in lost_lines(t):
        name, listed = t.lines[lost.line].name, search_list(t, lost.line)
        said += [f"{name}: {within(place.name)} {passes_words(place.passes)}." for place in listed[:_MOST_PLACES]]
        if len(listed) > _MOST_PLACES:
            said.append(f"{name}: {len(listed) - _MOST_PLACES} more places, each in what is signed.")
    return tuple(said)


def looks(t: Teardown, closure: str) -> tuple[str, ...]:
    """Each opening that was looked into: when, by whom, and what was seen."""
    said = []
    for opening in t.ways.openings_of[closure]:
        if opening in t.looks:
            look, mark = t.looks[opening]
            said.append(f"{t.openings[opening].name}: looked into at {_by(mark)}: {look.seen}.")
    return tuple(said)


def second(t: Teardown, closure: str) -> tuple[str, ...]:
    """Who counted a second time and when; a re-inspection by the same person is named as such."""
    count = t.second_counts.get(closure)
    if count is None or not (t.closures[closure].second_count or second_count.holds(t, closure)):
        return ()
    what = "Re-inspection by the same person, after a pause," if count.fact.alone else "Second count"
    return (f"{what} at {_by(count.mark)}: {'agreed' if count.agreed else 'did not agree'}.",)


def _by(mark: Mark) -> str:
    return f"{clock_face(mark.at)} by {mark.who}"


_MAKERS = {
    "work done": _work_done, "clear": _clear, "set down": _set_down, "sign": _sign, "turn by hand": _turn,
    "close": _close, "release": _release,
}  # fmt: skip
