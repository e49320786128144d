"""May this photo be kept, this find be matched, this job be handed over? The rules for what makes a count provable."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable

from checklists import facts as f
from checklists import places, second_count
from checklists.blind_walk import relief_stops
from checklists.judge_counts import check_moves, check_seen
from checklists.reasons import Reason
from checklists.refusing import PASSED, Reasons, kept, no
from checklists.state import Teardown, tally
from checklists.words import listing, within

_SHA256 = re.compile(r"[0-9a-f]{64}")
#: When in the work a photo is taken.
MOMENTS = ("baseline", "lift check", "before", "after", "closeout", "empty hole", "handover", "search", "piece",
           "other")  # fmt: skip


def photographed(t: Teardown, fact: f.Photographed, at: str, who: str) -> Iterable[Reason]:
    """A photo names what it belongs to, and is named by its hash."""
    if not _SHA256.fullmatch(fact.photo):
        return no("not a photo", "The photo is not named by its hash.", "Take or choose it again.")
    if fact.photo in t.photos:
        return no("photo known", "That very photo is kept already.", "Take a new one.")
    if fact.moment not in MOMENTS or not _belongs(t, fact.about):
        return no(
            "belongs to nothing", "It is not said what the photo belongs to.", "Choose an opening, closure or find."
        )
    return PASSED


def _belongs(t: Teardown, about: str) -> bool:
    kind, _, name = about.partition(":")
    known: dict[str, Collection[str]] = {"opening": t.openings, "closure": t.closures, "line": t.lines}
    if kind == "find":
        return bool(name)  # a find is photographed before it is logged
    return name in known[kind] if kind in known else kind in ("handover", "teardown", "piece")


def find_matched(t: Teardown, fact: f.FindMatched, at: str, who: str) -> Iterable[Reason]:
    """A find that is one of ours: something missing, now where the find lies or is kept."""
    if fact.find not in t.finds:
        return no("no such find", "No such find is logged.", "Log it first.", find=fact.find)
    if len(fact.moves) != 1 or fact.moves[0].source != places.MISSING:
        return no("not missing", "Only what is missing can be matched to a find.", "Choose a missing item.")
    state, target = t.finds[fact.find], fact.moves[0].target
    if state.ours:
        known = listing([t.say(line, quantity) for line, quantity in state.ours])
        words = f"That find is known already: it is {known}."
        return no("matched already", words, "Log what else was found as a find of its own.", find=fact.find)
    inside = places.inside(state.logged.where) if state.logged.where and not state.removed else ""
    if target not in (inside, places.TRAY, places.BENCH, places.SCRAP) or (inside and target != inside):
        return no(
            "not there", "The item is where the find lies, until that is taken out.", "Match it there.", find=fact.find
        )
    return check_moves(t, fact.moves)


def covered(t: Teardown) -> Reasons:
    """A reason against leaving the machine while an opening stands uncovered."""
    bare = [within(t.openings[o].name) for o in t.exposure.uncovered(t.openings)]
    if not bare:
        return PASSED
    return no("uncovered", f"Standing uncovered: {', '.join(bare)}.", "Cover every opening before you leave it.")


def machine_secured(t: Teardown, fact: f.Secured, at: str, who: str) -> Iterable[Reason]:
    """Leaving the machine demands covers on (IAEA: secure all openings), and the tally as it is."""
    if fact.tally in ((), tuple(tally(t))):
        return covered(t)
    return [*covered(t), *no("not the tally", "The tally is not what it was read as.", "Read it again, then leave.")]


def handed_over(t: Teardown, fact: f.HandedOver, at: str, who: str) -> Iterable[Reason]:
    """A handover is offered by whoever holds the job, to somebody else, with every opening covered."""
    reasons = list(covered(t))
    if t.holder != who and t.holder in [person.name for person in t.people]:
        reasons += no("not the holder", f"{t.holder} holds the job, not {who}.", f"Let {t.holder} hand it over.")
    if fact.to == who or not fact.to.strip():
        reasons += no("same person", "A handover goes to another person.", "Say who takes over.")
    if fact.to not in [person.name for person in t.people]:
        reasons += no("not on the job", f"{fact.to} is not on this job.", "Add the person first.")
    for named in fact.photos:
        reasons += kept(t, named, "what is handed over")
    return reasons


def took_over(t: Teardown, fact: f.TookOver, at: str, who: str) -> Iterable[Reason]:
    """Taken by the other person's own act, after a relief count of everything away from home."""
    if t.offered is None or t.offered[0].to != who:
        return no("not offered", f"Nothing was handed over to {who}.", "Let the one who holds the job hand it over.")
    reasons = [*covered(t), *(reason for seen in fact.entries for reason in check_seen(t, seen))]
    if not second_count.is_whole(second_count.relief_list(t), fact.entries, fact.places, relief_stops(t)):
        reasons += no(
            "count not whole",
            "The relief count was interrupted or something moved meanwhile.",
            "Start it again from the beginning.",
        )
    return reasons
