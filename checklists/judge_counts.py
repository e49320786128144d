"""May these items be counted so? The rules for every act that moves something."""

from __future__ import annotations

from collections.abc import Iterable

from checklists import facts as f
from checklists import gate, ledger, places
from checklists.facts_measured import Tightened
from checklists.judge_ticks import tick_taken_back
from checklists.reason_making import short_of
from checklists.reasons import Reason
from checklists.refusing import PASSED, Reasons, no, photo
from checklists.slips import can_be_taken_back
from checklists.state import IN_PLACE, SET_DOWN, Teardown
from checklists.times import clock_face
from checklists.words import within


def check_moves(t: Teardown, moves: tuple[f.Move, ...]) -> list[Reason]:
    """Every reason why these movements cannot all be made, in this order."""
    reasons = [reason for move in moves for reason in _known(t, move)]
    if not moves:
        reasons += no("nothing moved", "Nothing is there to be moved.", "Look where it is on the tally.")
    if reasons:
        return reasons
    if short := ledger.first_short(t.balances, moves):
        return [short_of(t, *short)]
    return [reason for move in _together(moves) for reason in _room_for(t, move)]


def _together(moves: tuple[f.Move, ...]) -> list[f.Move]:
    """Movements of a line to the same place as one: there must be room for all of them."""
    arriving: dict[tuple[str, str], f.Move] = {}
    for move in moves:
        before = arriving.get((move.line, move.target))
        arriving[move.line, move.target] = before._replace(quantity=before.quantity + move.quantity) if before else move
    return list(arriving.values())


def _known(t: Teardown, move: f.Move) -> Reasons:
    if move.line not in t.lines:
        return no("unknown line", f"No line {move.line!r} is on the tally.", "Add it to the tally first.")
    if move.quantity < 1 or move.source == move.target:
        return no("not a movement", "A movement takes at least one item to another place.", "Count again.")
    for place in (move.source, move.target):
        if not _exists(t, place):
            return no("unknown place", f"There is no place {place!r} on this teardown.", "Choose a place of the sheet.")
    return PASSED


def _exists(t: Teardown, place: str) -> bool:
    family, name = places.family(place), places.named(place)
    if not places.is_well_formed(place):
        return False
    if family in ("fitted", "on"):
        return name in t.closures
    if family == "cover":
        return name in t.openings
    return not name or family == "tray" or name in t.spaces


def _room_for(t: Teardown, move: f.Move) -> Reasons:
    """Whether the target can take it: home on its own closure and no more than belong there; an open space."""
    family, name = places.family(move.target), places.named(move.target)
    if family == "fitted":
        return _room_home(t, move, name)
    if family == places.ENGINE and name and name not in t.exposure.not_sealed():
        return no(
            "space sealed",
            f"{within(t.spaces[name].name)} is sealed: nothing can be put there.",
            "Choose another place.",
        )
    return PASSED


def _room_home(t: Teardown, move: f.Move, closure: str) -> Reasons:
    line, name = t.lines[move.line], within(t.closures[closure].name)
    if line.home != move.target:
        return no(
            "wrong closure",
            f"{within(line.name)} does not belong on the {name}.",
            "Count it back where it came off.",
            line=line.id,
            closure=closure,
        )
    state = t.closure_states[closure]
    if state.stage not in IN_PLACE:
        reasons = gate.why_not(t, closure)
        return reasons or no(
            "not set down",
            f"The {name} is off: its fasteners cannot go home yet.",
            "Set it down once it is cleared to refit.",
            closure=closure,
        )
    if state.stage == SET_DOWN and state.cleared is None:
        return gate.why_not(t, closure)
    spare = t.required[move.line] - t.quantity(move.line, move.target)
    if move.quantity > spare:
        return no(
            "surplus",
            f"{t.required[move.line]} of {t.required[move.line]} {within(line.name)} are home on the {name}.",
            "Log the extra one as a find: a surplus is a discrepancy too.",
            line=line.id,
            line_name=line.name,
            quantity=move.quantity - spare,
            closure=closure,
        )
    return PASSED


_BY_COUNTING = frozenset(
    {"fitted", places.STORES, places.TRAY, places.BENCH, places.FLOOR, places.ENGINE, "on", places.SCRAP}
)


def counted(t: Teardown, fact: f.Counted, at: str, who: str) -> Iterable[Reason]:
    """Counting from place to place."""
    for move in fact.moves:
        for place in (move.source, move.target):
            if places.family(place) not in _BY_COUNTING and _exists(t, place):
                return no(
                    "not by counting",
                    f"Nothing is counted to or from {t.say_place(place)!r} directly.",
                    "Use cover, uncover, missing, found, renew or add.",
                    line=move.line,
                )
    return check_moves(t, fact.moves)


def added(t: Teardown, fact: f.Added, at: str, who: str) -> Iterable[Reason]:
    """More of a line coming onto the tally."""
    for move in fact.moves:
        if places.family(move.target) not in (places.STORES, places.TRAY, places.BENCH, "fitted"):
            return no(
                "not there",
                "What is added starts put away, in the tray, on the bench or fitted.",
                "Add it there, then move it.",
                line=move.line,
            )
        if move.source != places.ORIGIN:
            return no(
                "on the tally",
                "Only what is not on the tally yet is added to it.",
                "Count it from where it is.",
                line=move.line,
            )
        if move.line in t.lines and "fitted/" in move.target and t.lines[move.line].home != move.target:
            return no(
                "wrong closure",
                f"{within(t.lines[move.line].name)} does not belong there.",
                "Add it to the tray instead.",
                line=move.line,
            )
    grown = {m.line for m in fact.moves if places.family(m.target) == "fitted"}
    if any(t.closure_states[c].was_lifted for c in t.closures if grown & set(t.lines_of(c))):
        return no(
            "closure was off",
            "The closure was off already: what belongs on it is fixed.",
            "Add it to the tray, or log it as a find.",
        )
    unknown = [reason for move in fact.moves for reason in _known(t, move)]
    return unknown or ([] if fact.moves else check_moves(t, fact.moves))


def taken_back(t: Teardown, fact: f.Reversed, at: str, who: str) -> Iterable[Reason]:
    """Undo: only a count or a tick, only once, and by its own movements turned round."""
    entry = t.entry_of(fact.device, fact.seq)
    if entry is not None and isinstance(entry.fact, Tightened):
        return tick_taken_back(t, fact, entry.fact)
    if entry is None or not can_be_taken_back(entry.fact):
        return no("not undone so", "That entry is not a count that can be taken back.", "Put it right by a new count.")
    if (fact.device, fact.seq) in t.reversed:
        return no("undone already", "That count was taken back already.", "Look at the tally.")
    if fact.moves != ledger.turned_round(f.moves_of(entry.fact)):
        return no("not its movements", "The reversal does not match that count.", "Take it back as it was made.")
    return [*_said_why(fact), *(_moved_on(t, fact) or check_moves(t, fact.moves))]


def _said_why(fact: f.Reversed) -> Reasons:
    return PASSED if fact.why.strip() else no("no reason", "It is not said why the count was wrong.", "Say why.")


def _moved_on(t: Teardown, fact: f.Reversed) -> Reasons:
    """Items that are not where that count left them any more: it cannot be taken back by itself."""
    known = [move for move in fact.moves if move.line in t.lines and move.quantity > 0]
    if not known or not (short := ledger.first_short(t.balances, tuple(known))):
        return PASSED
    move, held = short
    mark = t.moved.get((move.line, move.source))
    since = f" since {clock_face(mark.at)}, by {mark.who}" if mark else ""
    return no(
        "moved on",
        f"{t.say(move.line, move.quantity)} would have to be {t.say_place(move.source)}, where the tally has {held}: "
        f"they were moved on{since}.",
        "Take the later count back first, or put it right by a new count.",
        line=move.line,
        line_name=t.lines[move.line].name,
        quantity=move.quantity,
        place=move.source,
        place_words=t.say_place(move.source),
        since=mark.at if mark else "",
        who=mark.who if mark else "",
    )


def short(t: Teardown, fact: f.Short, at: str, who: str) -> Iterable[Reason]:
    """Short at the start: only before the closure has been off."""
    if fact.closure in t.closures and t.closure_states[fact.closure].was_lifted:
        return no(
            "closure was off",
            "Short at the start is said before the closure comes off.",
            "Log it as missing instead.",
            closure=fact.closure,
        )
    home = places.fitted(fact.closure)
    if any(move.source != home or move.target != places.MISSING for move in fact.moves):
        return no(
            "not short there",
            "Short is what should be fitted to the closure named and is not there.",
            "Log anything else as missing.",
            closure=fact.closure,
        )
    return [*photo(t, fact.photo, "the empty hole"), *check_moves(t, fact.moves)]


def renewed(t: Teardown, fact: f.Renewed, at: str, who: str) -> Iterable[Reason]:
    """Old to scrap, new from new stock, in one act."""
    line, quantity, place, _ = fact.moves[0] if fact.moves else f.Move("", 0, "", "")
    made = (
        f.Move(line, quantity, place, places.SCRAP),
        f.Move(line, quantity, places.ORIGIN, places.NEW_STOCK),
        f.Move(line, quantity, places.NEW_STOCK, place),
    )
    if fact.moves != made or places.family(place) not in (places.TRAY, places.BENCH, places.STORES):
        return no(
            "not a renewal",
            "What is renewed lies in the tray, on the bench or put away.",
            "Count it there first; then the old one goes to scrap and the new one takes its place.",
        )
    return check_moves(t, fact.moves)


def lost(t: Teardown, fact: f.Dropped | f.Missed, at: str, who: str) -> Iterable[Reason]:
    """A drop, or something missing."""
    for move in fact.moves:
        if move.target != places.MISSING and places.family(move.target) != places.ENGINE:
            return no(
                "not lost there", "What is lost is missing, or in the engine.", "Count it to another place instead."
            )
        if places.family(move.source) in ("missing", places.ORIGIN, places.CONVERTED):
            return no("not there", "Only what is somewhere can be lost.", "Look where it is on the tally.")
    return check_moves(t, fact.moves)


_FOUND_GOES = frozenset({places.TRAY, places.BENCH, places.STORES, places.ENGINE, "on", places.SCRAP})


def found(t: Teardown, fact: f.Found, at: str, who: str) -> Iterable[Reason]:
    """Only what is missing can be found, and it goes to the tray or the bench first."""
    reasons = list(check_moves(t, fact.moves))
    if any(m.source != places.MISSING for m in fact.moves):
        reasons += no("not missing", "Only what is missing can be found.", "Count it from where it is.")
    if any(places.family(m.target) == "fitted" for m in fact.moves):
        reasons += no("tray first", "A found fastener goes to the tray first.", "Count it home from there.")
    elif any(places.family(m.target) not in _FOUND_GOES for m in fact.moves):
        reasons += no(
            "not found there",
            "What is found is put in the tray, on the bench, away or to scrap.",
            "Say where it was put.",
        )
    return reasons


#: Where an item is at hand, so that it can tear, be opened or break.
_AT_HAND = frozenset({places.TRAY, places.BENCH, places.STORES, places.ENGINE, "on", "cover"})


def converted(t: Teardown, fact: f.Converted, at: str, who: str) -> Iterable[Reason]:
    """Something used up becomes new lines, both sides on record."""
    for line in fact.lines:
        if line.id in t.lines and t.lines[line.id] != line:
            return no(
                "line known", f"The line {line.id!r} is something else already.", "Give the new item another name."
            )
    made = {line.id for line in fact.lines}
    used = [m for m in fact.moves if m.target == places.CONVERTED]
    new = [m for m in fact.moves if m.source == places.ORIGIN]
    if not used or not new or len(used) + len(new) != len(fact.moves) or {m.line for m in new} != made:
        return no("not a conversion", "A conversion says what was used up and what it became.", "Say both.")
    at_hand = {m.source for m in used if places.family(m.source) in _AT_HAND}
    if {m.source for m in used} != at_hand or not {m.target for m in new} <= at_hand:
        return no(
            "not at hand",
            "What is torn, opened or broken lies at hand, and its pieces lie there too.",
            "Count it there first; move the pieces afterwards, or log those that are missing.",
        )
    if any(places.family(line.home) == "fitted" for line in fact.lines if line.id not in t.lines):
        return no("not fitted", "A piece does not belong on a closure.", "Say where pieces go: put away or scrap.")
    return [*check_moves(t, tuple(used)), *[r for m in new if m.quantity < 1 for r in _bad(m)]]


def _bad(move: f.Move) -> Reasons:
    return no("not a movement", f"{move.quantity} at {move.target!r} cannot be counted.", "Count again.")


def checked(t: Teardown, fact: f.Checked, at: str, who: str) -> Iterable[Reason]:
    """A count of what lies at a place; a difference is a discrepancy, not a refusal."""
    return check_seen(t, fact.seen)


#: Places on the books only: nobody can count what lies there.
_NOWHERE = frozenset({places.ORIGIN, places.CONVERTED, places.MISSING})


def check_seen(t: Teardown, seen: f.Seen) -> Reasons:
    """Whether what was seen names a line and a place of this teardown."""
    if seen.line not in t.lines or not _exists(t, seen.place) or seen.quantity < 0 or seen.place in _NOWHERE:
        return no(
            "unknown line", f"{seen.line!r} at {seen.place!r} is not on the tally.", "Count what is on the tally."
        )
    return PASSED
