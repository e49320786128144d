"""May this closure be lifted, cleared, set down, signed? May this opening be covered, uncovered, looked into?"""

from __future__ import annotations

from collections.abc import Iterable

from checklists import facts as f
from checklists import gate, places, second_count
from checklists.blind_walk import stops
from checklists.exposure import COVERED, SEALED, UNCOVERED
from checklists.judge_counts import check_moves, check_seen
from checklists.reasons import Reason
from checklists.refusing import PASSED, USED, Reasons, as_it_is, no, other_statement, photo
from checklists.state import CLEARED, LIFTED, LOOSENED, RECALLED, SET_DOWN, Teardown
from checklists.times import clock_face, seconds_between
from checklists.words import within


def _closure_known(t: Teardown, closure: str) -> Reasons:
    return (
        PASSED
        if closure in t.closures
        else no("unknown closure", f"There is no closure {closure!r} on this teardown.", "Choose one of the sheet.")
    )


def _opening_known(t: Teardown, opening: str) -> Reasons:
    return (
        PASSED
        if opening in t.openings
        else no("unknown opening", f"There is no opening {opening!r} on this teardown.", "Choose one of the sheet.")
    )


def lifted(t: Teardown, fact: f.Lifted, at: str, who: str) -> Iterable[Reason]:
    """The lift check, with its photo."""
    if unknown := _closure_known(t, fact.closure):
        return unknown
    shown = f"the {within(t.closures[fact.closure].name)} before lifting"
    reasons = photo(t, fact.photo, shown)
    if not reasons:
        home = places.fitted(fact.closure)
        off = [t.moved[line, home].n for line in t.lines_of(fact.closure) if (line, home) in t.moved]
        abouts = [f"opening:{opening}" for opening in t.ways.openings_of[fact.closure]]
        reasons = as_it_is(t, fact.photo, shown, max(off, default=0), f"closure:{fact.closure}", *abouts)
    return [*gate.why_not_lift(t, fact.closure), *reasons]


#: Where covers are kept at hand.
_KEPT = (places.STORES, places.TRAY, places.BENCH)


def covered(t: Teardown, fact: f.Covered, at: str, who: str) -> Iterable[Reason]:
    """One cap, plug or rag into an opening that stands uncovered."""
    if unknown := _opening_known(t, fact.opening):
        return unknown
    name, state = within(t.openings[fact.opening].name), t.opening_states[fact.opening].state
    if state != UNCOVERED:
        return no(
            "not uncovered", f"{name} is {state}.", "Cover an opening that stands uncovered.", opening=fact.opening
        )
    place = places.cover_of(fact.opening)
    if len(fact.moves) != 1 or fact.moves[0].target != place:
        return no("not a cover", "One cover goes into one opening.", "Count one cover in.", opening=fact.opening)
    move = fact.moves[0]
    if move.line in t.lines and t.lines[move.line].kind not in ("cover", "rag"):
        return no(
            "not a cover",
            f"{within(t.lines[move.line].name)} is neither a cover nor a rag.",
            "Take a cap, a plug or a rag.",
            line=move.line,
            opening=fact.opening,
        )
    if places.family(move.source) not in _KEPT:
        return no(
            "not at hand",
            f"A cover comes from where it is kept, not from {t.say_place(move.source)!r}.",
            "Count it there first.",
            line=move.line,
            opening=fact.opening,
        )
    return check_moves(t, fact.moves)


def uncovered(t: Teardown, fact: f.Uncovered, at: str, who: str) -> Iterable[Reason]:
    """Every cover out of an opening, all together."""
    if unknown := _opening_known(t, fact.opening):
        return unknown
    name, place = within(t.openings[fact.opening].name), places.cover_of(fact.opening)
    inside = {line: q for (line, p), q in t.balances.items() if p == place and q > 0}
    if t.opening_states[fact.opening].state != COVERED or not inside:
        return no(
            "surplus",
            f"No cover is in {name}: all that went in are counted out.",
            "If one is in your hand, log it as a find.",
            opening=fact.opening,
        )
    if {m.line: m.quantity for m in fact.moves if m.source == place} != inside or len(fact.moves) != len(inside):
        return no("covers left", f"All covers of {name} come out together.", "Count every one.", opening=fact.opening)
    if any(places.family(m.target) not in (*_KEPT, places.SCRAP) for m in fact.moves):
        return no(
            "not there",
            "A cover that comes out is put away, in the tray, on the bench or to scrap.",
            "Say where it was put; if it fell, log the drop.",
            opening=fact.opening,
        )
    return check_moves(t, fact.moves)


def _found_by_looking(t: Teardown, named: str) -> bool:
    """Whether the photo is that of a look which was not clear: what was seen there may be logged with it, once."""
    earlier = t.named_photos.get(named)
    return isinstance(earlier, f.Looked) and not earlier.clear


def find_logged(t: Teardown, fact: f.FindLogged, at: str, who: str) -> Iterable[Reason]:
    """A find, photographed where it lies."""
    reasons = list(photo(t, fact.photo, "the find where it lies", shared=_found_by_looking(t, fact.photo)))
    if fact.find in t.finds:
        reasons += no("find known", "This find is logged already.", "Open it in the finds.", find=fact.find)
    if fact.where and fact.where not in t.spaces:
        reasons += no("unknown place", f"There is no space {fact.where!r}.", "Choose a space of the sheet, or none.")
    if fact.opening and fact.where not in t.ways.from_opening.get(fact.opening, ()):
        reasons += no("unknown place", "That opening does not lead there.", "Choose another opening, or none.")
    if not fact.what.strip():
        reasons += no("not said", "It is not said what was found.", "Say what it seems to be.")
    return reasons


def find_removed(t: Teardown, fact: f.FindRemoved, at: str, who: str) -> Iterable[Reason]:
    """A find taken out: how, photographed after, and where it is kept."""
    if fact.find not in t.finds or t.finds[fact.find].removed:
        return no("no such find", "No such find is open.", "Log it first.", find=fact.find)
    after = "the place after it was taken out"
    reasons = list(photo(t, fact.photo, after))
    if not reasons and t.photos[fact.photo][1].n < t.finds[fact.find].mark.n:
        reasons += no(USED, f"The photo of {after} was kept before the find was logged.", "Take one now.")
    if not fact.how.strip() or not fact.kept.strip():
        reasons += no(
            "not said", "How it was taken out and where it is kept must be said.", "Say both.", find=fact.find
        )
    return reasons


def looked(t: Teardown, fact: f.Looked, at: str, who: str) -> Iterable[Reason]:
    """A look inside an opening that stands uncovered, with its photo."""
    if unknown := _opening_known(t, fact.opening):
        return unknown
    name, state = within(t.openings[fact.opening].name), t.opening_states[fact.opening].state
    inside = f"the inside of {name}"
    reasons = list(photo(t, fact.photo, inside))
    if not reasons:
        moved, closure = gate.moved_in_view(t, fact.opening), t.openings[fact.opening].closure
        abouts = f"opening:{fact.opening}", f"closure:{closure}"
        reasons += as_it_is(t, fact.photo, inside, moved.n if moved else 0, *abouts)
    if state == COVERED:
        reasons += no(
            "covered",
            f"{name} is covered: nobody can look in.",
            "Take the cover out and count it back first.",
            opening=fact.opening,
        )
    elif state == SEALED:
        reasons += no(
            "sealed", f"{name} is sealed.", "It can be looked into when its closure is off.", opening=fact.opening
        )
    if not fact.seen.strip():
        reasons += no("not said", "It is not said what was seen.", "Say what you saw.", opening=fact.opening)
    return reasons


def second_counted(t: Teardown, fact: f.SecondCounted, at: str, who: str) -> Iterable[Reason]:
    """A second count: whole, blind, by the right person."""
    if unknown := _closure_known(t, fact.closure):
        return unknown
    name = within(t.closures[fact.closure].name)
    reasons: list[Reason] = [reason for seen in fact.entries for reason in check_seen(t, seen)]
    if t.closure_states[fact.closure].stage not in (LIFTED, CLEARED):
        reasons += no(
            "not off", f"The {name} is not off.", "The second count is made before it goes back.", closure=fact.closure
        )
    asked = second_count.count_list(t, fact.closure)
    if not second_count.is_whole(asked, fact.entries, fact.places, stops(t)):
        reasons += no(
            "count not whole",
            "The count was interrupted or something moved meanwhile.",
            "Start this count again from the beginning.",
            closure=fact.closure,
        )
    return reasons + _right_counter(t, fact, at, who)


def _right_counter(t: Teardown, fact: f.SecondCounted, at: str, who: str) -> list[Reason]:
    alone = second_count.works_alone(t)
    work = second_count.last_work(t, fact.closure)
    if fact.alone != alone:
        words = "More than one person is on the job." if fact.alone else "Nobody else is on the job."
        return list(no("not alone" if fact.alone else "alone", words, "Count as the people on the job allow.",
                       closure=fact.closure))  # fmt: skip
    if alone:
        if work and seconds_between(work.at, at) < second_count.PAUSE_SECONDS:
            until = clock_face(second_count.not_before(t, fact.closure))
            return list(
                no(
                    "too soon",
                    f"Alone, look again after a pause: not before {until}.",
                    "Rest your eyes, then count as if you had never seen it.",
                    closure=fact.closure,
                )
            )
    elif who not in second_count.who_may(t, fact.closure):
        return list(
            no(
                "same person",
                "Whoever worked there does not make the second count; where all did, whoever worked there least does.",
                f"Let {' or '.join(second_count.who_may(t, fact.closure)) or 'another person'} make it.",
                who=who,
                closure=fact.closure,
            )
        )
    return []


def cleared(t: Teardown, fact: f.Cleared, at: str, who: str) -> Iterable[Reason]:
    """Clearance to refit: the gate itself."""
    if unknown := _closure_known(t, fact.closure):
        return unknown
    state, name = t.closure_states[fact.closure], within(t.closures[fact.closure].name)
    if state.stage != LIFTED:
        return no(
            "not off",
            f"The {name} is {state.stage}.",
            "Only a closure that is off is cleared to refit.",
            closure=fact.closure,
        )
    from checklists.builders import clearance_statement  # a signature is rare

    if reasons := gate.why_not(t, fact.closure):
        return reasons
    return other_statement(fact.statement, clearance_statement(t, fact.closure), fact.closure)


def refitted(t: Teardown, fact: f.Refitted, at: str, who: str) -> Iterable[Reason]:
    """Setting a closure down: only under a standing clearance."""
    if unknown := _closure_known(t, fact.closure):
        return unknown
    state, name = t.closure_states[fact.closure], within(t.closures[fact.closure].name)
    if state.stage == CLEARED:
        return PASSED
    if state.stage == LIFTED and (reasons := gate.why_not(t, fact.closure)):
        return reasons
    return no(
        "not cleared",
        f"The {name} is {state.stage}, not cleared to refit.",
        "Sign its clearance first.",
        closure=fact.closure,
    )


def signed(t: Teardown, fact: f.Signed, at: str, who: str) -> Iterable[Reason]:
    """Signing a closure: every fastener home and the torque said."""
    if unknown := _closure_known(t, fact.closure):
        return unknown
    state, closure = t.closure_states[fact.closure], t.closures[fact.closure]
    if state.stage not in (SET_DOWN, RECALLED, LOOSENED):
        reasons = gate.why_not(t, fact.closure)
        return reasons or no(
            "not set down",
            f"The {within(closure.name)} is {state.stage}.",
            "Set it down and count its fasteners home.",
            closure=fact.closure,
        )
    reasons = gate.why_not(t, fact.closure)
    if closure.torque and not fact.torque.strip():
        reasons += no(
            "no torque",
            f"The torque used on the {within(closure.name)} is not said (sheet: {closure.torque}).",
            "Tighten as the maker says and enter the figure used.",
            closure=fact.closure,
        )
    from checklists.builders import closed_statement  # a signature is rare

    return reasons or other_statement(fact.statement, closed_statement(t, fact.closure), fact.closure)
