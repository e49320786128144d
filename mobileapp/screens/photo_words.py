"""What is said of a photo: what it belongs to, the moment, when it was taken and by whom it was kept. Pure."""

from __future__ import annotations

from checklists.facts import Photographed
from checklists.receipt import received_words, was_late
from checklists.state import Mark, Teardown
from checklists.words import sentence
from mobileapp.photos.exif import taken_words
from mobileapp.screens.stamps import when


def belongs_to(t: Teardown, about: str) -> str:
    """What a photo belongs to, by its name on the sheet."""
    kind, _, name = about.partition(":")
    if kind == "find" and name in t.finds:
        return f"Find: {t.finds[name].logged.what}"
    known = {"opening": t.openings, "closure": t.closures, "line": t.lines}.get(kind, {})
    if name in known:
        return sentence(str(known[name].name))
    return {"handover": "Handover", "teardown": "The whole machine", "piece": "Broken piece"}.get(kind, "Find")


def caption(t: Teardown, fact: Photographed) -> str:
    """What it belongs to, and the moment in the work."""
    return f"{belongs_to(t, fact.about)}: {fact.moment}"


def taken_and_kept(fact: Photographed, mark: Mark, now: str) -> str:
    """The camera's time, and when and by whom it was kept; when this phone had it, where that was not then."""
    kept = f"Kept {when(mark.at, now)}, {mark.who}."
    if was_late(fact.received, fact.received_by, mark.at):
        kept = f"{received_words(when(fact.received, now), fact.received_by)}. {kept}"
    return f"{sentence(taken_words(fact.taken))}. {kept}"


def short_name(name: str, most: int = 18) -> str:
    """A file's name with its middle left out if it is longer than `most` letters: its ends tell it from others."""
    if len(name) <= most:
        return name
    tail = (most - 1) // 2
    return f"{name[: most - 1 - tail]}…{name[-tail:]}"
