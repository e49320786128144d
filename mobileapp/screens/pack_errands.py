"""Running what a pack needs: it is done to its end whatever screen is shown, and what came of it is always said."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from mobileapp.desk import Desk
from mobileapp.errand import Errand
from mobileapp.journal.errors import JournalError
from mobileapp.packs.errors import PackError, PhotoLost
from mobileapp.screens import pack_files
from mobileapp.screens.aside import work_aside

FAULTS = (PackError, JournalError, OSError)
PACKING, TAKING_IN = "Packing…", "Taking it in…"
#: The keys of the draft in which an outcome is kept.
SAID = ("fault", "stopped", "lost", "done", "said", "written", "shared", "brought")
_STOPPED = {
    PACKING: "The app was stopped before the pack was written. Nothing half written counts as a pack: pack it again.",
    TAKING_IN: "The app was stopped while the pack was taken in. It came in whole or not at all: take it in again, "
    "what is known already changes nothing.",
}


def give(desk: Desk, words: str, act: Callable[[], pack_files.Packed]) -> None:
    """Write a pack; `words` is what is said when it is written."""
    _begin(desk, Errand(PACKING), act, partial(_given, words))


def take_in(desk: Desk, pack: str) -> None:
    """Take a pack in."""
    act = partial(pack_files.take_in, Path(pack), Path(desk.journal.path))
    _begin(desk, Errand(TAKING_IN, pack), act, _taken)


def running(desk: Desk) -> Errand | None:
    """What is being done at this moment."""
    return desk.errand if desk.errand is not None and desk.errand.runs else None


def learn(desk: Desk, pack: str) -> None:
    """Put into the present draft what came of it, if that was not said yet, or that the app was stopped meanwhile."""
    errand, stopped = desk.errand, desk.draft.pop("doing", "")
    if errand is not None and errand.outcome is not None and pack in ("", errand.pack):
        _put(desk, errand.outcome)
        desk.errand = None
    elif stopped and errand is None:
        _put(desk, {"stopped": _STOPPED.get(stopped, "")})
    else:
        return
    desk.keep()


def refused_words(fault: Exception) -> dict[str, Any]:
    """What is said of a fault."""
    words = f"The storage did not take it ({fault}). Free some space, then try again."
    return {"fault": words if isinstance(fault, OSError) else str(fault), "lost": isinstance(fault, PhotoLost)}


def _put(desk: Desk, outcome: dict[str, Any]) -> None:
    for key in SAID:
        desk.draft.pop(key, None)
    desk.draft.update(outcome)


def _begin(desk: Desk, errand: Errand, act: Callable[[], Any], say: Callable[[Any], dict[str, Any]]) -> None:
    desk.errand = errand
    _put(desk, {"doing": errand.doing})
    work_aside(act, partial(_came, desk, errand, say), FAULTS, long=True)
    desk.again()


def _came(desk: Desk, errand: Errand, say: Callable[[Any], dict[str, Any]], done: Any) -> None:
    if isinstance(done, Exception):
        desk.signals.refused()
        errand.outcome = refused_words(done)
    else:
        errand.outcome = say(done)
    changed = bool(errand.pack) and not isinstance(done, Exception)
    if changed and not _read_again(desk):
        return  # the journal's trouble is shown
    if changed or desk.trail[-1][0] == "packs":
        desk.again()  # the screen that is there now shows what came in


def _read_again(desk: Desk) -> bool:
    """The teardown in hand may have been merged with what another phone recorded."""
    if desk.service is not None:
        try:
            desk.open(desk.work.id, desk.who)
        except JournalError as fault:
            desk.go("trouble", words=str(fault))
            return False
    return True


def _given(words: str, done: pack_files.Packed) -> dict[str, Any]:
    return {"done": words, "said": pack_files.packed_words(done), "written": str(done.path)}


def _taken(done: pack_files.Unpacked) -> dict[str, Any]:
    brought = [news.teardown for news in done.teardowns]
    return {"done": "Taken in", "said": pack_files.unpacked_words(done), "brought": brought}
