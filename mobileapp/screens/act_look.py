"""How the key of the next act looks: its words, its second line, its shape and its tone. Pure, no widgets."""

from __future__ import annotations

from typing import NamedTuple

from checklists.next_act import Act
from checklists.state import Teardown
from checklists.times import duration_words, seconds_between


class ActLook(NamedTuple):
    """What the act key shows. An act that is not `ready` cannot be done yet."""

    text: str
    note: str
    shape: str
    tone: str
    ready: bool = True


_LOOKS = {
    "acknowledge": ("look", "yellow"),
    "count out": ("out", "orange"),
    "photograph": ("look", "yellow"),
    "lift": ("lifted", "orange"),
    "cover": ("covered", "orange"),
    "uncover": ("uncovered", "sky"),
    "look": ("look", "yellow"),
    "search": ("missing", "yellow"),
    "say which": ("refused", "yellow"),
    "settle": ("refused", "yellow"),
    "remove find": ("look", "yellow"),
    "wait": ("refused", "yellow"),
    "take out": ("engine", "yellow"),
    "count back": ("back", "sky"),
    "clear": ("cleared", "sky"),
    "set down": ("set down", "sky"),
    "sign": ("signed", "sky"),
    "close": ("gate", "sky"),
}


def look_of(act: Act, teardown: Teardown, now: str) -> ActLook:
    """How to offer `act` at time `now`."""
    shape, tone = _LOOKS.get(act.do, ("go", "orange"))
    if act.do == "ended":
        return ActLook("", "", shape, tone, False)
    if act.do == "acknowledge":
        unread = sum(c.id not in teardown.acknowledged for c in teardown.sheet.cautions)
        note = f"{unread} of {len(teardown.sheet.cautions)} not yet acknowledged"
        return ActLook("Read the cautions", note, shape, tone)
    if act.do == "wait" and act.until:
        from checklists.second_count import pause_is_ahead  # the first board does not wait for it

        left = duration_words(seconds_between(now, act.until))
        back = "Set the clock right, or " if pause_is_ahead(act.until, now) else ""
        return ActLook(act.words, f"{back}{left} to go", shape, tone, False)
    words, _, note = act.words.partition(": ") if act.do == "cover" else (act.words, "", "")
    return ActLook(words, note, shape, tone)
