"""May this happen? Every act is judged against the state before it is written.

`judge` gives every reason against; an empty answer means it may happen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from checklists import facts as f
from checklists import gate, ledger, places, second_count
from checklists.exposure import COVERED, SEALED, UNCOVERED
from checklists.reasons import Reason
from checklists.sheet import merge_sheets
from checklists.sheet_check import check_sheet
from checklists.state import CLEARED, IN_PLACE, LIFTED, LOOSENED, RECALLED, SET_DOWN, Teardown
from checklists.times import clock_face, seconds_between

Reasons = tuple[Reason, ...]
PASSED: Reasons = ()


def judge(teardown: Teardown, fact: f.Fact, at: str, who: str) -> Reasons:
    """Every reason why `fact` may not happen now (`at`), done by `who`; empty when it may."""
    if isinstance(fact, f.Started):
        return _started(teardown, fact, who)
    if reasons := _standing(teardown, fact, who):
        return reasons
    rule = _RULES.get(type(fact))
    return tuple(rule(teardown, fact, at, who)) if rule else PASSED


def _no(code: str, words: str, do_next: str, **about: Any) -> Reasons:
    return (Reason(code, words, do_next, **about),)


def _standing(t: Teardown, fact: f.Fact, who: str) -> Reasons:
    """What holds for every act: the teardown runs, and somebody known does it."""
    if not t.history:
        return _no("not started", "This teardown has not been started.", "Start it from a sheet.")
    if t.ended:
        return _no("ended", f"This teardown has ended: {t.ended}.", "Start a new one to open the machine again.")
    if who not in [person.name for person in t.people] and not isinstance(fact, f.Joined):
        return _no("not on the job", f"{who or 'Nobody'} is not on this job.", "Add the person to the teardown first.")
    return PASSED


def _started(t: Teardown, fact: f.Started, who: str) -> Reasons:
    reasons: list[Reason] = []
    if t.history:
        reasons += _no("started", "This teardown was started already.", "Carry on from its board.")
    if not fact.machine.strip():
        reasons += _no("no machine", "The machine is not named.", "Say which machine is opened.")
    if not fact.reason.strip():
        reasons += _no("no reason", "It is not said why the machine is opened.", "Say why.")
    names = [person.name for person in fact.people]
    if who not in names or not all(name.strip() for name in names):
        reasons += _no("no people", "Nobody is named as working on it.", "Name at least the person who starts it.")
    if len(set(names)) < len(names):
        reasons += _no("same name", "Two people have the same name.", "Tell them apart, by a surname or a role.")
    reasons += _sheet_faults(check_sheet(fact.sheet, growing=not fact.sheet.closures))
    return tuple(reasons)


def _sheet_faults(faults: Iterable[Any]) -> list[Reason]:
    return [Reason("sheet fault", f"{fault.path}: {fault.message}", "Mend the sheet.") for fault in faults]


# --- movements ---------------------------------------------------------------------------------------------------


def _moves(t: Teardown, moves: tuple[f.Move, ...]) -> list[Reason]:
    reasons = [reason for move in moves for reason in _known(t, move)]
    if not moves:
        reasons += _no("nothing moved", "Nothing is there to be moved.", "Look where it is on the tally.")
    if reasons:
        return reasons
    if short := ledger.first_short(t.balances, moves):
        return [gate.short_of(t, *short)]
    return [reason for move in moves for reason in _room_for(t, move)]


def _known(t: Teardown, move: f.Move) -> Reasons:
    if move.line not in t.lines:
        return _no("unknown line", f"No line {move.line!r} is on the tally.", "Add it to the tally first.")
    if move.quantity < 1 or move.source == move.target:
        return _no("not a movement", "A movement takes at least one item to another place.", "Count again.")
    for place in (move.source, move.target):
        if not _exists(t, place):
            return _no("unknown place", f"There is no place {place!r} on this teardown.", "Choose a place of the sheet.")
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
        return _no("space sealed", f"{t.spaces[name].name} is sealed: nothing can be put there.", "Choose another place.")
    return PASSED


def _room_home(t: Teardown, move: f.Move, closure: str) -> Reasons:
    line, name = t.lines[move.line], t.closures[closure].name
    if line.home != move.target:
        return _no("wrong closure", f"{line.name} does not belong on the {name}.", "Count it back where it came off.",
                   line=line.id, closure=closure)
    state = t.closure_states[closure]
    if state.stage not in IN_PLACE:
        reasons = gate.why_not(t, closure)
        return reasons or _no("not set down", f"The {name} is off: its fasteners cannot go home yet.",
                              "Set it down once it is cleared to refit.", closure=closure)
    if state.stage == SET_DOWN and state.cleared is None:
        return gate.why_not(t, closure)
    spare = t.required[move.line] - t.quantity(move.line, move.target)
    if move.quantity > spare:
        return _no("surplus", f"{t.required[move.line]} of {t.required[move.line]} {line.name} are home on the {name}.",
                   "Log the extra one as a find: a surplus is a discrepancy too.",
                   line=line.id, line_name=line.name, quantity=move.quantity - spare, closure=closure)
    return PASSED


_BY_COUNTING = frozenset({"fitted", places.STORES, places.TRAY, places.BENCH, places.ENGINE, "on", places.SCRAP})


def _counted(t: Teardown, fact: f.Counted, at: str, who: str) -> Iterable[Reason]:
    for move in fact.moves:
        for place in (move.source, move.target):
            if places.family(place) not in _BY_COUNTING and _exists(t, place):
                return _no("not by counting", f"Nothing is counted to or from {t.say_place(place)!r} directly.",
                           "Use cover, uncover, missing, found, renew or add.", line=move.line)
    return _moves(t, fact.moves)


def _added(t: Teardown, fact: f.Added, at: str, who: str) -> Iterable[Reason]:
    for move in fact.moves:
        if places.family(move.target) not in (places.STORES, places.TRAY, places.BENCH, "fitted"):
            return _no("not there", "What is added starts put away, in the tray, on the bench or fitted.",
                       "Add it there, then move it.", line=move.line)
    grown = {m.line for m in fact.moves if places.family(m.target) == "fitted"}
    if any(t.closure_states[c].was_lifted for c in t.closures if grown & set(t.lines_of(c))):
        return _no("closure was off", "The closure was off already: what belongs on it is fixed.",
                   "Add it to the tray, or log it as a find.")
    unknown = [reason for move in fact.moves for reason in _known(t, move)]
    return unknown or ([] if fact.moves else _moves(t, fact.moves))


def _reversed(t: Teardown, fact: f.Reversed, at: str, who: str) -> Iterable[Reason]:
    entry = next((e for e in reversed(t.history) if (e.device, e.seq) == (fact.device, fact.seq)), None)
    if entry is None or not isinstance(entry.fact, f.Counted | f.Added | f.Converted | f.Renewed):
        return _no("not undone so", "That entry is not a count that can be taken back.", "Put it right by a new count.")
    if (fact.device, fact.seq) in t.reversed:
        return _no("undone already", "That count was taken back already.", "Look at the tally.")
    if fact.moves != ledger.turned_round(entry.fact.moves):
        return _no("not its movements", "The reversal does not match that count.", "Take it back as it was made.")
    return _moves(t, fact.moves)


def _short(t: Teardown, fact: f.Short, at: str, who: str) -> Iterable[Reason]:
    if fact.closure in t.closures and t.closure_states[fact.closure].was_lifted:
        return _no("closure was off", "Short at the start is said before the closure comes off.",
                   "Log it as missing instead.", closure=fact.closure)
    return [*_photo(fact.photo, "the empty hole"), *_moves(t, fact.moves)]


def _photo(path: str, of_what: str) -> Reasons:
    return PASSED if path.strip() else _no("no photo", f"A photo of {of_what} is missing.", "Take it and name it here.")


def _renewed(t: Teardown, fact: f.Renewed, at: str, who: str) -> Iterable[Reason]:
    line, quantity, place, _ = fact.moves[0] if fact.moves else f.Move("", 0, "", "")
    made = (f.Move(line, quantity, place, places.SCRAP), f.Move(line, quantity, places.ORIGIN, places.NEW_STOCK),
            f.Move(line, quantity, places.NEW_STOCK, place))
    if fact.moves != made or places.family(place) not in (places.TRAY, places.BENCH, places.STORES):
        return _no("not a renewal", "What is renewed lies in the tray, on the bench or put away.",
                   "Count it there first; then the old one goes to scrap and the new one takes its place.")
    return _moves(t, fact.moves)


def _lost(t: Teardown, fact: f.Dropped | f.Missed, at: str, who: str) -> Iterable[Reason]:
    for move in fact.moves:
        if move.target != places.MISSING and places.family(move.target) != places.ENGINE:
            return _no("not lost there", "What is lost is missing, or in the engine.", "Count it to another place instead.")
        if places.family(move.source) in ("missing", places.ORIGIN, places.CONVERTED):
            return _no("not there", "Only what is somewhere can be lost.", "Look where it is on the tally.")
    return _moves(t, fact.moves)


def _found(t: Teardown, fact: f.Found, at: str, who: str) -> Iterable[Reason]:
    reasons = list(_moves(t, fact.moves))
    if any(m.source != places.MISSING for m in fact.moves):
        reasons += _no("not missing", "Only what is missing can be found.", "Count it from where it is.")
    if any(places.family(m.target) == "fitted" for m in fact.moves):
        reasons += _no("tray first", "A found fastener goes to the tray first.", "Count it home from there.")
    return reasons


def _converted(t: Teardown, fact: f.Converted, at: str, who: str) -> Iterable[Reason]:
    for line in fact.lines:
        if line.id in t.lines and t.lines[line.id] != line:
            return _no("line known", f"The line {line.id!r} is something else already.", "Give the new item another name.")
    made = {line.id for line in fact.lines}
    used = [m for m in fact.moves if m.target == places.CONVERTED]
    new = [m for m in fact.moves if m.source == places.ORIGIN]
    if not used or not new or len(used) + len(new) != len(fact.moves) or {m.line for m in new} != made:
        return _no("not a conversion", "A conversion says what was used up and what it became.", "Say both.")
    return [*_moves(t, tuple(used)), *[r for m in new if m.quantity < 1 or not _exists(t, m.target) for r in _bad(m)]]


def _bad(move: f.Move) -> Reasons:
    return _no("not a movement", f"{move.quantity} at {move.target!r} cannot be counted.", "Count again.")


def _checked(t: Teardown, fact: f.Checked, at: str, who: str) -> Iterable[Reason]:
    return _seen(t, fact.seen)


def _seen(t: Teardown, seen: f.Seen) -> Reasons:
    if seen.line not in t.lines or not _exists(t, seen.place) or seen.quantity < 0:
        return _no("unknown line", f"{seen.line!r} at {seen.place!r} is not on the tally.", "Count what is on the tally.")
    return PASSED


# --- openings and closures ---------------------------------------------------------------------------------------


def _closure_known(t: Teardown, closure: str) -> Reasons:
    return PASSED if closure in t.closures else _no(
        "unknown closure", f"There is no closure {closure!r} on this teardown.", "Choose one of the sheet.")


def _opening_known(t: Teardown, opening: str) -> Reasons:
    return PASSED if opening in t.openings else _no(
        "unknown opening", f"There is no opening {opening!r} on this teardown.", "Choose one of the sheet.")


def _lifted(t: Teardown, fact: f.Lifted, at: str, who: str) -> Iterable[Reason]:
    if unknown := _closure_known(t, fact.closure):
        return unknown
    return [*gate.why_not_lift(t, fact.closure), *_photo(fact.photo, f"the {t.closures[fact.closure].name} before lifting")]


def _covered(t: Teardown, fact: f.Covered, at: str, who: str) -> Iterable[Reason]:
    if unknown := _opening_known(t, fact.opening):
        return unknown
    name, state = t.openings[fact.opening].name, t.opening_states[fact.opening].state
    if state != UNCOVERED:
        return _no("not uncovered", f"{name} is {state}.", "Cover an opening that stands uncovered.", opening=fact.opening)
    place = places.cover_of(fact.opening)
    if len(fact.moves) != 1 or fact.moves[0].target != place:
        return _no("not a cover", "One cover goes into one opening.", "Count one cover in.", opening=fact.opening)
    move = fact.moves[0]
    if move.line in t.lines and t.lines[move.line].kind not in ("cover", "rag"):
        return _no("not a cover", f"{t.lines[move.line].name} is neither a cover nor a rag.", "Take a cap, a plug or a rag.",
                   line=move.line, opening=fact.opening)
    return _moves(t, fact.moves)


def _uncovered(t: Teardown, fact: f.Uncovered, at: str, who: str) -> Iterable[Reason]:
    if unknown := _opening_known(t, fact.opening):
        return unknown
    name, place = t.openings[fact.opening].name, places.cover_of(fact.opening)
    inside = {line: q for (line, p), q in t.balances.items() if p == place and q > 0}
    if t.opening_states[fact.opening].state != COVERED or not inside:
        return _no("surplus", f"No cover is in {name}: all that went in are counted out.",
                   "If one is in your hand, log it as a find.", opening=fact.opening)
    if {m.line: m.quantity for m in fact.moves if m.source == place} != inside or len(fact.moves) != len(inside):
        return _no("covers left", f"All covers of {name} come out together.", "Count every one.", opening=fact.opening)
    return _moves(t, fact.moves)


def _find_logged(t: Teardown, fact: f.FindLogged, at: str, who: str) -> Iterable[Reason]:
    reasons = list(_photo(fact.photo, "the find where it lies"))
    if fact.find in t.finds:
        reasons += _no("find known", "This find is logged already.", "Open it in the finds.", find=fact.find)
    if fact.where and fact.where not in t.spaces:
        reasons += _no("unknown place", f"There is no space {fact.where!r}.", "Choose a space of the sheet, or none.")
    if not fact.what.strip():
        reasons += _no("not said", "It is not said what was found.", "Say what it seems to be.")
    return reasons


def _find_removed(t: Teardown, fact: f.FindRemoved, at: str, who: str) -> Iterable[Reason]:
    if fact.find not in t.finds or t.finds[fact.find].removed:
        return _no("no such find", "No such find is open.", "Log it first.", find=fact.find)
    reasons = list(_photo(fact.photo, "the place after it was taken out"))
    if not fact.how.strip() or not fact.kept.strip():
        reasons += _no("not said", "How it was taken out and where it is kept must be said.", "Say both.", find=fact.find)
    return reasons


def _looked(t: Teardown, fact: f.Looked, at: str, who: str) -> Iterable[Reason]:
    if unknown := _opening_known(t, fact.opening):
        return unknown
    name, state = t.openings[fact.opening].name, t.opening_states[fact.opening].state
    reasons = list(_photo(fact.photo, f"the inside of {name}"))
    if state == COVERED:
        reasons += _no("covered", f"{name} is covered: nobody can look in.", "Take the cover out and count it back first.",
                       opening=fact.opening)
    elif state == SEALED:
        reasons += _no("sealed", f"{name} is sealed.", "It can be looked into when its closure is off.", opening=fact.opening)
    if not fact.seen.strip():
        reasons += _no("not said", "It is not said what was seen.", "Say what you saw.", opening=fact.opening)
    return reasons


def _second_counted(t: Teardown, fact: f.SecondCounted, at: str, who: str) -> Iterable[Reason]:
    if unknown := _closure_known(t, fact.closure):
        return unknown
    name = t.closures[fact.closure].name
    reasons: list[Reason] = [reason for seen in fact.entries for reason in _seen(t, seen)]
    if t.closure_states[fact.closure].stage not in (LIFTED, CLEARED):
        reasons += _no("not off", f"The {name} is not off.", "The second count is made before it goes back.",
                       closure=fact.closure)
    if tuple((s.line, s.place) for s in fact.entries) != second_count.count_list(t, fact.closure):
        reasons += _no("count not whole", "The count was interrupted or something moved meanwhile.",
                       "Start this count again from the beginning.", closure=fact.closure)
    return reasons + _right_counter(t, fact, at, who)


def _right_counter(t: Teardown, fact: f.SecondCounted, at: str, who: str) -> list[Reason]:
    alone = second_count.works_alone(t)
    work = second_count.last_work(t, fact.closure)
    if fact.alone != alone:
        words = "More than one person is on the job." if fact.alone else "Nobody else is on the job."
        return list(_no("not alone" if fact.alone else "alone", words, "Count as the people on the job allow."))
    if alone:
        if work and seconds_between(work.at, at) < second_count.PAUSE_SECONDS:
            until = clock_face(second_count.not_before(t, fact.closure))
            return list(_no("too soon", f"Alone, look again after a pause: not before {until}.",
                            "Rest your eyes, then count as if you had never seen it.", closure=fact.closure))
    elif who not in second_count.who_may(t, fact.closure):
        return list(_no("same person", f"{who} worked there last.", "Let another person make the second count.",
                        who=who, closure=fact.closure))
    return []


def _cleared(t: Teardown, fact: f.Cleared, at: str, who: str) -> Iterable[Reason]:
    if unknown := _closure_known(t, fact.closure):
        return unknown
    state, name = t.closure_states[fact.closure], t.closures[fact.closure].name
    if state.stage != LIFTED:
        return _no("not off", f"The {name} is {state.stage}.", "Only a closure that is off is cleared to refit.",
                   closure=fact.closure)
    return gate.why_not(t, fact.closure)


def _refitted(t: Teardown, fact: f.Refitted, at: str, who: str) -> Iterable[Reason]:
    if unknown := _closure_known(t, fact.closure):
        return unknown
    state, name = t.closure_states[fact.closure], t.closures[fact.closure].name
    if state.stage == CLEARED:
        return PASSED
    if state.stage == LIFTED and (reasons := gate.why_not(t, fact.closure)):
        return reasons
    return _no("not cleared", f"The {name} is {state.stage}, not cleared to refit.", "Sign its clearance first.",
               closure=fact.closure)


def _signed(t: Teardown, fact: f.Signed, at: str, who: str) -> Iterable[Reason]:
    if unknown := _closure_known(t, fact.closure):
        return unknown
    state, closure = t.closure_states[fact.closure], t.closures[fact.closure]
    if state.stage not in (SET_DOWN, RECALLED, LOOSENED):
        reasons = gate.why_not(t, fact.closure)
        return reasons or _no("not set down", f"The {closure.name} is {state.stage}.", "Set it down and count its fasteners home.",
                              closure=fact.closure)
    reasons = gate.why_not(t, fact.closure)
    if closure.torque and not fact.torque.strip():
        reasons += _no("no torque", f"The torque used on the {closure.name} is not said (sheet: {closure.torque}).",
                       "Tighten as the maker says and enter the figure used.", closure=fact.closure)
    return reasons


# --- endings -----------------------------------------------------------------------------------------------------


def _hand_turned(t: Teardown, fact: f.HandTurned, at: str, who: str) -> Iterable[Reason]:
    opened = [c for c, s in t.closure_states.items() if s.stage not in ("fitted", "signed")]
    if opened:
        names = ", ".join(t.closures[c].name for c in opened)
        return _no("closure open", f"Not closed yet: {names}.", "Nothing turns before every closure is signed.")
    return PASSED if fact.statement.strip() else _no("not said", "It is not said what was felt.", "Say how it turned.")


def _closed(t: Teardown, fact: f.Closed, at: str, who: str) -> Iterable[Reason]:
    return gate.why_not_close(t)


def _released(t: Teardown, fact: f.Released, at: str, who: str) -> Iterable[Reason]:
    reasons: list[Reason] = []
    if not fact.reason.strip():
        reasons += _no("no reason", "No reason is given.", "Write why it is released though it is not clear.")
    if not fact.search.strip():
        reasons += _no("no search", "It is not said what was searched.", "Write where was searched, how and by whom.")
    return reasons


def _acknowledged(t: Teardown, fact: f.Acknowledged, at: str, who: str) -> Iterable[Reason]:
    if fact.caution not in {caution.id for caution in t.sheet.cautions}:
        return _no("unknown caution", f"There is no caution {fact.caution!r}.", "Choose one of the sheet.")
    return PASSED


def _joined(t: Teardown, fact: f.Joined, at: str, who: str) -> Iterable[Reason]:
    if not fact.person.name.strip() or fact.person.name in [person.name for person in t.people]:
        return _no("same name", "That name is empty or on the job already.", "Tell them apart, by a surname or a role.")
    return PASSED


def _left(t: Teardown, fact: f.Left, at: str, who: str) -> Iterable[Reason]:
    if fact.name not in [person.name for person in t.people]:
        return _no("not on the job", f"{fact.name} is not on this job.", "Choose somebody who is.")
    if len(t.people) == 1:
        return _no("nobody left", "The last person cannot leave an open teardown.", "Add who takes over first.")
    return PASSED


def _grown(t: Teardown, fact: f.Grown, at: str, who: str) -> Iterable[Reason]:
    clash = {line.id for line in fact.part.lines} & set(t.lines)
    if clash:
        return _no("line known", f"On the tally already: {', '.join(sorted(clash))}.", "Add more of it instead.")
    return _sheet_faults(check_sheet(merge_sheets(t.sheet, fact.part), growing=True))


_RULES: dict[type, Callable[[Teardown, Any, str, str], Iterable[Reason]]] = {
    f.Joined: _joined,
    f.Left: _left,
    f.Grown: _grown,
    f.Added: _added,
    f.Acknowledged: _acknowledged,
    f.Counted: _counted,
    f.Reversed: _reversed,
    f.Short: _short,
    f.Dropped: _lost,
    f.Missed: _lost,
    f.Found: _found,
    f.Converted: _converted,
    f.Renewed: _renewed,
    f.Checked: _checked,
    f.Lifted: _lifted,
    f.Covered: _covered,
    f.Uncovered: _uncovered,
    f.FindLogged: _find_logged,
    f.FindRemoved: _find_removed,
    f.Looked: _looked,
    f.SecondCounted: _second_counted,
    f.Cleared: _cleared,
    f.Refitted: _refitted,
    f.Signed: _signed,
    f.HandTurned: _hand_turned,
    f.Closed: _closed,
    f.Released: _released,
}
