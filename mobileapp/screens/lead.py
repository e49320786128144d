"""Where an act is done and where a reason is put right: the way from words to a screen. Pure, no widgets."""

from __future__ import annotations

from typing import Any

from checklists import places
from checklists.misplaced import Misplaced
from checklists.next_act import Act
from checklists.reasons import Reason
from checklists.state import LIFTED, Teardown

Way = tuple[str, dict[str, Any]]

_STATEMENTS = {"work done", "clear", "set down", "sign", "turn by hand", "close"}
_LOOKS = {"not looked into", "look out of date", "not clear", "covered"}
_TO_BOARD = {"closure below open", "lies over", "closure open", "clearance withdrawn"}


def way_to_act(act: Act, t: Teardown) -> Way:
    """The screen, with its arguments, on which `act` is done."""
    if act.do == "search":
        return way_to_search(t, act.line)
    if act.do in ("count out", "count back", "take out"):
        return "count_pad", {"line": act.line, "source": act.place, "target": act.target}
    if act.do in _STATEMENTS:
        return "sign_off", {"what": act.do, "closure": act.closure}
    ways: dict[str, Way] = {
        "acknowledge": ("cautions", {}),
        "grow": ("grow", {"closure": act.closure}),
        "lift": ("lift", {"closure": act.closure}),
        "cover": ("openings", {"opening": act.opening}),
        "uncover": ("openings", {"opening": act.opening}),
        "look": ("look", {"opening": act.opening}),
        "add": ("items", {"line": act.line}),
        "settle": ("recount", {"line": act.line, "place": act.place}),
        "remove find": ("find", {"find": act.find}),
        "pieces": ("pieces", {"part": act.line}),
        "measure": ("limits", {"closure": act.closure, "limit": act.limit}),
        "tighten": ("order", {"closure": act.closure}),
        "second count": ("second_count", {"closure": act.closure, "who": act.who}),
        "wait": ("second_count", {"closure": act.closure, "who": act.who}),
    }
    return ways.get(act.do, ("board", {}))


def way_to_search(t: Teardown, line: str) -> Way:
    """Where a missing item is searched for: the places it could be in, or the list of what is missing without any."""
    item = next((each for each in t.missing if each.line == line), None)
    spaces = t.could_hold(item) if item else frozenset()
    return ("missing" if spaces is not None and not spaces else "whereabouts"), {"line": line}


def way_to_mend(reason: Reason, t: Teardown) -> Way:
    """The screen, with its arguments, on which what a reason says is put right."""
    if reason.code in ("missing", "not searched", "second search due"):
        return way_to_search(t, reason.line)
    if reason.code in ("in the engine", "lying loose", "not put away", "not home", "still fitted"):
        return _count(reason)
    if reason.code in _LOOKS:
        return "look", {"opening": reason.opening}
    if reason.code in _TO_BOARD:
        return "board", {"closure": reason.closure}
    ways: dict[str, Way] = {
        "caution unread": ("cautions", {}),
        "cover in place": ("openings", {"opening": reason.opening}),
        "find open": ("find", {"find": reason.find}),
        "count differs": ("recount", {"line": reason.line, "place": reason.place}),
        "second count due": ("second_count", {"closure": reason.closure}),
        "same person": ("people", {}),
        "not on the job": ("people", {}),
        "not the holder": ("people", {}),
        "not the tally": ("leaving", {}),
        "uncovered": ("openings", {}),
        "not offered": ("handover", {}),
        "count not whole": ("handover", {}),
        "belongs to nothing": ("photo_view", {}),
        "not measured": ("limits", {"closure": reason.closure, "limit": reason.limit}),
        "outside its limits": ("limits", {"closure": reason.closure, "limit": reason.limit}),
        "too close to call": ("limits", {"closure": reason.closure, "limit": reason.limit}),
        "not tightened": ("order", {"closure": reason.closure}),
        "pass left out": ("order", {"closure": reason.closure}),
        "pieces do not add up": ("pieces", {"part": reason.line}),
        "pieces not looked for": ("pieces", {"part": reason.line}),
        "moved on": ("items", {"line": reason.line}),
        "surplus": ("find", {"what": reason.line_name}),
        "not turned by hand": ("sign_off", {"what": "turn by hand"}),
        "not cleared": ("sign_off", {"what": "clear", "closure": reason.closure}),
        "not set down": ("sign_off", {"what": "set down", "closure": reason.closure}),
        "not its statement": _statement(reason, t),
        "not its search": ("sign_off", {"what": "release"}),
    }
    return ways.get(reason.code, ("board", {}))


def way_to_move(one: Misplaced) -> Way:
    """Where what lies elsewhere is put right on the tally: counted over, found again, a cover taken out or put in."""
    if one.on_tally == places.MISSING:
        return "missing", {"line": one.line}
    for place in (one.on_tally, one.lies):
        if places.family(place) == "cover":
            return "openings", {"opening": places.named(place)}
    return "count_pad", {"line": one.line, "source": one.on_tally, "target": one.lies}


def _statement(reason: Reason, t: Teardown) -> Way:
    """Where the statement is read and signed that the record makes now."""
    state = t.closure_states.get(reason.closure)
    what = "close" if state is None else "clear" if state.stage == LIFTED else "sign"
    return "sign_off", {"what": what, "closure": reason.closure}


def _count(reason: Reason) -> Way:
    if reason.place == places.MISSING:
        return "missing", {"line": reason.line}
    if reason.code == "still fitted":
        return "count_pad", {"line": reason.line, "source": reason.place, "target": places.TRAY}
    # Where it goes is worked out from the state by the pad: home, or out of the engine.
    return "count_pad", {"line": reason.line, "source": reason.place, "target": ""}
