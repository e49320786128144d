"""What happened, in plain words: one sentence for a run of facts of the same kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from checklists import places
from checklists.facts import (
    Acknowledged,
    Added,
    Checked,
    Cleared,
    Closed,
    Converted,
    Covered,
    Dropped,
    Fact,
    FindLogged,
    FindMatched,
    FindRemoved,
    Found,
    Grown,
    HandedOver,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Missed,
    Move,
    Photographed,
    Refitted,
    Released,
    Renewed,
    Reversed,
    SecondCounted,
    Secured,
    SheetSettled,
    Short,
    Signed,
    Started,
    TookOver,
    Uncovered,
    Withdrawn,
    WorkDone,
    WrittenTooHigh,
    moves_of,
)
from checklists.facts_measured import Tightened
from checklists.state import Teardown
from checklists.story_words_measured import TOLD_MEASURED
from checklists.two_ways import told
from checklists.words import how_many, listing, within


def say(teardown: Teardown, facts: Sequence[Fact]) -> str:
    """What these facts of one kind did, as a sentence without its subject: "counts 10 × M8: fitted -> in the tray"."""
    if not facts:
        return ""
    fact = facts[-1]
    special = TOLD.get(type(fact))
    if special:
        return special(teardown, fact)
    return "counts " + _movements(teardown, facts)


def _movements(t: Teardown, facts: Iterable[Fact]) -> str:
    sums: dict[tuple[str, str, str], int] = {}
    for line, quantity, source, target in (move for fact in facts for move in moves_of(fact)):
        sums[line, source, target] = sums.get((line, source, target), 0) + quantity
    said = [_movement(t, Move(line, number, source, target)) for (line, source, target), number in sums.items()]
    return "; ".join(said)


def _movement(t: Teardown, move: Move) -> str:
    return f"{t.say(move.line, move.quantity)}: {t.say_place(move.source)} -> {t.say_place(move.target)}"


def _items(t: Teardown, fact: Any) -> str:
    return listing([t.say(move.line, move.quantity) for move in fact.moves])


def _started(t: Teardown, fact: Started) -> str:
    found = f" Found so far: {fact.found}" if fact.found else ""
    return f"opens a teardown of {fact.machine}. Why: {fact.reason}{found}"


def _grown(t: Teardown, fact: Grown) -> str:
    part = fact.part
    named = (part.spaces, part.openings, part.closures, part.items)
    gained = [one.name for records in named for one in records]
    gained += [caution.text for caution in part.cautions]
    return f"adds to the sheet: {listing(gained)}"


def _converted(t: Teardown, fact: Converted) -> str:
    used = listing([t.say(m.line, m.quantity) for m in fact.moves if m.target == places.CONVERTED])
    made = listing([t.say(m.line, m.quantity) for m in fact.moves if m.source == places.ORIGIN])
    return f"makes {made} of {used} ({fact.how})"


def _reversed(t: Teardown, fact: Reversed) -> str:
    entry = t.entry_of(fact.device, fact.seq)
    if entry is not None and isinstance(entry.fact, Tightened):
        tick = entry.fact
        step = f"number {tick.number} of the {t.closures[tick.closure].name} to {tick.percent} %"
        return f"takes back a tick ({fact.why}): {step}, which is due again"
    return f"takes back a count ({fact.why}): {_movements(t, [fact])}"


def _renewed(t: Teardown, fact: Renewed) -> str:
    old = fact.moves[0]
    return f"renews {t.say(old.line, old.quantity)}: the old to scrap, the new from the packet"


def _checked(t: Teardown, fact: Checked) -> str:
    seen = fact.seen
    return f"checks {t.say_place(seen.place)}: {t.say(seen.line, seen.quantity)} there"


def _photo(t: Teardown, named: str) -> str:
    """A photo by the name it came with; by the first letters of its hash where it had none."""
    return (t.photos[named][0].name or named[:12]) if named in t.photos else named


def _looked(t: Teardown, fact: Looked) -> str:
    verdict = "clear" if fact.clear else "NOT clear"
    return f"looks into {t.openings[fact.opening].name}: {verdict}; {fact.seen} (photo {_photo(t, fact.photo)})"


def _second_counted(t: Teardown, fact: SecondCounted) -> str:
    what = "looks again and counts after the pause" if fact.alone else "makes the second count"
    agreed = t.second_counts[fact.closure].agreed
    counts = how_many(len(fact.entries), "figure")
    return f"{what} for the {t.closures[fact.closure].name}: {counts}, {'all agree' if agreed else 'NOT all agree'}"


def _find_logged(t: Teardown, fact: FindLogged) -> str:
    where = f"in {t.spaces[fact.where].name}" if fact.where in t.spaces else "outside the openings"
    where += f", through {within(t.openings[fact.opening].name)}" if fact.opening in t.openings else ""
    big = f", {fact.size}" if fact.size else ""
    return f"logs a find {where}: {fact.what}{big} (photo {_photo(t, fact.photo)})"


def _dropped(t: Teardown, fact: Dropped) -> str:
    earlier = ", some time before this was logged" if fact.earlier else ""
    return f"logs a drop: {_movements(t, [fact])}; {fact.near}{earlier}"


#: How each kind of fact is told; a plain count is told by its movements.
TOLD: dict[type, Callable[[Teardown, Any], str]] = {
    Started: _started,
    Joined: lambda t, f: f"{f.person.name} ({f.person.role}) comes to the job",
    Left: lambda t, f: f"{f.name} leaves the job",
    Grown: _grown,
    Added: lambda t, f: f"adds {_items(t, f)} to the tally {t.say_place(f.moves[0].target)} ({f.why})",
    SheetSettled: lambda t, f: f"says which is right: {told(f.part)}",
    Withdrawn: lambda t, f: f"withdraws {_items(t, f)}, written down on two phones ({f.why})",
    WrittenTooHigh: lambda t, f: f"takes {_items(t, f)} off the tally again, written down too high ({f.why})",
    Acknowledged: lambda t, f: "reads and acknowledges the cautions",
    Reversed: _reversed,
    Short: lambda t, f: f"records {_items(t, f)} short at the start (photo {_photo(t, f.photo)})",
    Dropped: _dropped,
    Missed: lambda t, f: f"says missing: {_movements(t, [f])}" + (f"; {f.note}" if f.note else ""),
    Found: lambda t, f: f"finds {_items(t, f)} {f.where}: now {t.say_place(f.moves[0].target)}",
    Converted: _converted,
    Renewed: _renewed,
    Checked: _checked,
    Lifted: lambda t, f: f"lifts the {t.closures[f.closure].name} (photo {_photo(t, f.photo)})",
    Covered: lambda t, f: f"covers {t.openings[f.opening].name} with {_items(t, f)}",
    Uncovered: lambda t, f: f"uncovers {t.openings[f.opening].name}: {_movements(t, [f])}",
    FindLogged: _find_logged,
    FindRemoved: lambda t, f: f"takes out the find: {f.how}; kept {f.kept} (photo {_photo(t, f.photo)})",
    Looked: _looked,
    SecondCounted: _second_counted,
    WorkDone: lambda t, f: "says the work inside is done" + (f": {f.note}" if f.note else ""),
    Cleared: lambda t, f: f"signs it as cleared to refit. {f.statement}",
    Refitted: lambda t, f: f"sets the {t.closures[f.closure].name} down in its place",
    Signed: lambda t, f: f"signs it as closed{f', {f.torque}' if f.torque else ''}. {f.statement}",
    HandTurned: lambda t, f: f"turns the engine by hand: {f.statement}",
    FindMatched: lambda t, f: f"knows the find for one of ours: {_movements(t, [f])}",
    Photographed: lambda t, f: f"keeps the photo {f.name} ({f.about})",
    Secured: lambda t, f: "leaves the machine, every opening covered" + (f": {f.note}" if f.note else ""),
    HandedOver: lambda t, f: f"hands the job over to {f.to}: {f.notes}",
    TookOver: lambda t, f: f"takes the job over after a relief count of {how_many(len(f.entries), 'figure')}",
    Closed: lambda t, f: f"closes the teardown. {f.statement}",
    **TOLD_MEASURED,
    Released: lambda t, f: f"RELEASES IT, NOT CLEAR. Why: {f.reason} Search made: {f.search}",
}
