"""Where an act is done and where a reason is put right: the way from words to a screen. Pure, no widgets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checklists import places
from checklists.merging import ODD, SHORT, TWICE
from checklists.misplaced import Misplaced
from checklists.next_act import Act
from checklists.reasons import Reason
from checklists.state import LIFTED, Teardown

Way = tuple[str, dict[str, Any]]

_STATEMENTS = {"work done", "clear", "set down", "sign", "turn by hand", "close"}
#: What these reasons ask for is typed, chosen or done again on the screen where the act was tried.
ON_THE_FORM = frozenset({
    "no photo", "not said", "no torque", "no reason", "no search", "sheet fault", "not a movement", "not a conversion",
    "no machine", "no people", "same name", "line known", "not a cover", "unknown place", "space sealed",
    "photo not kept", "photo used", "photo known", "not a photo", "bound elsewhere", "unreadable", "not its lines",
    "unknown line", "unknown closure", "unknown opening", "unknown caution", "unknown limit", "nothing said",
    "not a renewal", "not a withdrawal", "not at hand", "not fitted", "not found there", "not lost there",
    "not short there", "not missing", "on the tally", "tray first", "not its movements",
    "not undone so", "nothing to undo", "nothing moved", "undone already", "closure was off", "no such find",
    "find known", "matched already", "another line", "empty bag", "figure", "no basis", "no map", "no method",
    "no place", "no sample", "no such step",
    "not broken", "not found", "not reached", "not that many", "not ticked", "not to be tightened",
    "scale cannot tell", "not signed", "ticked already", "not in two ways", "neither way",
})  # fmt: skip
_Lead = Callable[[Reason, Teardown], Way]

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
        "photograph": ("baseline", {}),
        "lift": ("lift", {"closure": act.closure}),
        "cover": ("openings", {"opening": act.opening}),
        "uncover": ("openings", {"opening": act.opening}),
        "look": ("look", {"opening": act.opening}),
        "add": ("items", {"line": act.line}),
        "say which": ("two_ways", {}),
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
    nowhere = all(t.could_hold(item) == frozenset() for item in t.missing if item.line == line)
    return ("missing" if nowhere else "whereabouts"), {"line": line}


def way_to_mend(reason: Reason, t: Teardown) -> Way:
    """The screen, with its arguments, on which what a reason says is put right."""
    lead = WAYS.get(reason.code)
    return lead(reason, t) if lead else ("board", {})


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


def _look(reason: Reason, t: Teardown) -> Way:
    return "look", {"opening": reason.opening}


def _opening(reason: Reason, t: Teardown) -> Way:
    return "openings", {"opening": reason.opening} if reason.opening else {}


def _board(reason: Reason, t: Teardown) -> Way:
    return "board", {"closure": reason.closure} if reason.closure else {}


def _recount(reason: Reason, t: Teardown) -> Way:
    return "recount", {"line": reason.line, "place": reason.place}


def _item(reason: Reason, t: Teardown) -> Way:
    return "items", {"line": reason.line} if reason.line else {}


def _count_again(reason: Reason, t: Teardown) -> Way:
    """A whole count, blind: before a closure goes back, or when the job changes hands."""
    return ("second_count", {"closure": reason.closure}) if reason.closure else ("handover", {})


def _limit(reason: Reason, t: Teardown) -> Way:
    return "limits", {"closure": reason.closure, "limit": reason.limit}


def _search(reason: Reason, t: Teardown) -> Way:
    return way_to_search(t, reason.line)


def _sign(what: str) -> _Lead:
    return lambda reason, t: ("sign_off", {"what": what, **({"closure": reason.closure} if reason.closure else {})})


#: Where each reason is put right that is not put right on the form it was tried on.
WAYS: dict[str, _Lead] = {
    "missing": _search,
    **dict.fromkeys(("not searched", "second search due"), lambda reason, t: ("whereabouts", {"line": reason.line})),
    **dict.fromkeys(("in the engine", "lying loose", "not put away", "not home", "still fitted"),
                    lambda reason, t: _count(reason)),
    **dict.fromkeys(("not looked into", "look out of date", "not clear", "covered"), _look),
    **dict.fromkeys(("closure below open", "lies over", "closure open", "clearance withdrawn", "already off", "not off",
                     "sealed"), _board),
    **dict.fromkeys(("cover in place", "covers left", "not uncovered", "uncovered"), _opening),
    **dict.fromkeys(("count differs", "not counted", "not doubled", "could be inside", TWICE, SHORT, ODD), _recount),
    **dict.fromkeys(("count not whole", "second count due", "too soon", "alone", "not alone"), _count_again),
    **dict.fromkeys(("moved on", "not there", "not by counting", "wrong closure"), _item),
    **dict.fromkeys(("not measured", "outside its limits", "too close to call"), _limit),
    **dict.fromkeys(("not tightened", "pass left out"), lambda reason, t: ("order", {"closure": reason.closure})),
    **dict.fromkeys(("pieces do not add up", "pieces not looked for"),
                    lambda reason, t: ("pieces", {"part": reason.line})),
    **dict.fromkeys(("same person", "not on the job", "not the holder", "nobody left"),
                    lambda reason, t: ("people", {})),
    **dict.fromkeys(("ended", "started", "not started"), lambda reason, t: ("teardowns", {})),
    "no baseline photo": lambda reason, t: ("baseline", {}),
    "written in two ways": lambda reason, t: ("two_ways", {}),
    "caution unread": lambda reason, t: ("cautions", {}),
    "find open": lambda reason, t: ("find", {"find": reason.find}),
    "not the tally": lambda reason, t: ("leaving", {}),
    "not offered": lambda reason, t: ("handover", {}),
    "belongs to nothing": lambda reason, t: ("photo_view", {}),
    "surplus": lambda reason, t: ("find", {"what": reason.line_name}),
    "not turned by hand": _sign("turn by hand"),
    "not cleared": _sign("clear"),
    "not set down": _sign("set down"),
    "not its search": _sign("release"),
    "not its statement": _statement,
}  # fmt: skip
