"""Blind counts on the trail of screens: while one stands, nothing tells its counter what the tally has.

A screen that counts blind says so in its draft. Logging a drop over it, which cannot wait, tells nothing either; any
other screen shows figures, and so ends the count. Nothing here knows a widget.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

_BLIND = "blind"
#: Screens that tell nothing of the tally over a blind count.
_TELLS_NOTHING = frozenset({"drop", "trouble"})
#: Steps of a count that is on its way; left for figures, it starts again from nothing.
_UNDER_WAY = frozenset({"count", "sign"})
DROPPED = "dropped"

Step = tuple[str, dict[str, Any]]


def begin(draft: dict[str, Any]) -> None:
    """The screen of this draft counts blind from here on."""
    draft[_BLIND] = True


def end(draft: dict[str, Any]) -> None:
    """It does so no more."""
    draft.pop(_BLIND, None)


def drop(draft: dict[str, Any]) -> None:
    """The count of this draft is dropped with all that was seen: it starts again from nothing."""
    end(draft)
    draft.pop("begun", None)
    if draft.get("step") in _UNDER_WAY:
        draft.update(step=DROPPED, seen=[], unlisted=[])


def stands(trail: Iterable[Step]) -> bool:
    """Whether a blind count stands on this trail."""
    return any(_BLIND in args.get("draft", {}) for _, args in trail)


def drop_beneath(trail: list[Step]) -> None:
    """Drop every blind count that the last screen of the trail shows figures over."""
    at = len(trail) - 1
    while at > 0 and trail[at][0] in _TELLS_NOTHING:
        at -= 1
    for _, args in trail[:at]:
        if _BLIND in args.get("draft", {}):
            drop(args["draft"])
