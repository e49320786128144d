"""Making facts from the state: what is asked for in a person's terms, with its movements worked out.

Nothing is decided here. A builder says what would happen; `judge` says whether it may.
"""

from __future__ import annotations

from collections.abc import Iterable

from checklists import places, second_count
from checklists.blind_walk import relief_stops, stops, walked
from checklists.facts import (
    Added,
    Checked,
    Cleared,
    Closed,
    Converted,
    Counted,
    Covered,
    Dropped,
    Entry,
    FindMatched,
    Found,
    Grown,
    Missed,
    Move,
    Person,
    Released,
    Renewed,
    Reversed,
    SecondCounted,
    Secured,
    Seen,
    Short,
    Signed,
    Started,
    Strokes,
    TookOver,
    Uncovered,
    Withdrawn,
    moves_of,
)
from checklists.facts_measured import Searched, Tightened
from checklists.ledger import opening_moves, turned_round
from checklists.reason_making import notes
from checklists.sheet import Line, Sheet
from checklists.state import Teardown, tally
from checklists.words import listing, out_of, within


def start(sheet: Sheet, machine: str, people: Iterable[Person], reason: str, found: str) -> Started:
    """Open a teardown: every line of the sheet comes onto the tally in its home place."""
    return Started(sheet, machine, tuple(people), reason, found, opening_moves(sheet))


def grow(part: Sheet) -> Grown:
    """Let the sheet gain what `part` holds; its lines come onto the tally."""
    return Grown(part, opening_moves(part))


def withdraw(line: str, quantity: int, place: str, why: str) -> Withdrawn:
    """Take off the tally what two phones both wrote onto the sheet."""
    return Withdrawn(why, (Move(line, quantity, place, places.ORIGIN),))


def move(line: str, quantity: int, source: str, target: str) -> Counted:
    """Count `quantity` of `line` from one place to another."""
    return Counted((Move(line, quantity, source, target),))


def count_out(teardown: Teardown, line: str, quantity: int = 1, to: str = "") -> Counted:
    """Count items out of their home: fasteners and parts to the tray, anything else to the bench, unless said."""
    home = home_of(teardown, line)
    place = to or (places.TRAY if places.family(home) == "fitted" else places.BENCH)
    return move(line, quantity, home, place)


def count_back(teardown: Teardown, line: str, quantity: int = 1, source: str = "") -> Counted:
    """Count items back home, from where they lie: off the floor first, then the tray, the bench, the engine."""
    return move(line, quantity, source or where_away(teardown, line), home_of(teardown, line))


def home_of(teardown: Teardown, line: str) -> str:
    """Where a line is at home; put away for one that nobody knows."""
    known = teardown.lines.get(line)
    return known.home if known else places.STORES


def where_away(teardown: Teardown, line: str) -> str:
    """The place from which a line would next be counted back. The tray when none of it is away."""
    order = (places.FLOOR, places.TRAY, places.BENCH, places.ENGINE, "on")
    away = [p for p in teardown.places_of(line) if places.family(p) in order]
    default = places.TRAY if places.family(home_of(teardown, line)) == "fitted" else places.BENCH
    return min(away, key=lambda p: order.index(places.family(p)), default=default)


def add(line: str, quantity: int, place: str, why: str) -> Added:
    """Bring more of a known line onto the tally before it is used."""
    return Added(why, (Move(line, quantity, places.ORIGIN, place),))


def undo(entry: Entry, why: str) -> Reversed:
    """Take an earlier entry's movements back by movements the other way; a tick of the tightening has none."""
    return Reversed(entry.device, entry.seq, why, turned_round(moves_of(entry.fact)))


def last_undoable(teardown: Teardown) -> Entry | None:
    """The newest count or tick that undo would take back; None when the last thing done was neither."""
    for entry in reversed(teardown.history):
        if isinstance(entry.fact, Counted | Added | Converted | Renewed | Tightened):
            if (entry.device, entry.seq) not in teardown.reversed:
                return entry
        elif not isinstance(entry.fact, Reversed):
            return None
    return None


def last_tick(teardown: Teardown, closure: str) -> Entry | None:
    """The newest tick of a closure's tightening that stands; it can be taken back whatever was done since."""
    marks = teardown.tightened.get(closure, {}).values()
    return teardown.history[max(mark.n for mark in marks) - 1] if marks else None


def short_at_start(teardown: Teardown, line: str, quantity: int, photo: str) -> Short:
    """Record that fewer were fitted than belong there."""
    home = home_of(teardown, line)
    return Short(places.named(home), photo, (Move(line, quantity, home, places.MISSING),))


def drop(
    teardown: Teardown, line: str, quantity: int, near: str, source: str = "", into: str = "", earlier: bool = False
) -> Dropped:
    """Log a drop: to the space it was seen to fall into, or to missing. `near` says where it happened.

    With `earlier` it did not fall just now: every opening that stood uncovered since it was last seen counts.
    """
    place = source or drop_source(teardown, line)
    return Dropped(near, (Move(line, quantity, place, places.inside(into) if into else places.MISSING),), earlier)


def drop_source(teardown: Teardown, line: str) -> str:
    """Where a dropped item most likely came from: off the machine, else its home."""
    off = [p for p in teardown.places_of(line) if places.family(p) in places.OUT_FAMILIES | places.ENGINE_FAMILIES]
    return where_away(teardown, line) if off else home_of(teardown, line)


def miss(teardown: Teardown, line: str, quantity: int, source: str, note: str = "") -> Missed:
    """Say that items which should be at `source` are not there."""
    return Missed(note, (Move(line, quantity, source, places.MISSING),))


def find_again(teardown: Teardown, line: str, quantity: int, where: str, to: str = "") -> Found:
    """Count a missing item found, and put it in the tray (or on the bench) or where `to` says."""
    fitted = places.family(home_of(teardown, line)) == "fitted"
    return Found(where, (Move(line, quantity, places.MISSING, to or (places.TRAY if fitted else places.BENCH)),))


def search(
    teardown: Teardown, line: str, where: str, method: str, seen: str, *,
    photo: str = "", found: int = 0, to: str = "", reached: bool = True,
) -> Searched:  # fmt: skip
    """Say that a place was searched for something missing, and with it count so many `found`, as `find_again` does."""
    moves = find_again(teardown, line, found, where, to).moves if found else ()
    return Searched(line, where, method, bool(found), seen, photo, moves, reached)


def convert(line: str, quantity: int, place: str, into: Iterable[tuple[Line, int]], how: str) -> Converted:
    """Turn items into new lines at the same place: a rag torn in two, a pack opened, a part broken."""
    new = tuple(into)
    moves = [Move(line, quantity, place, places.CONVERTED)]
    moves += [Move(made.id, number, places.ORIGIN, place) for made, number in new]
    return Converted(how, tuple(made for made, _ in new), tuple(moves))


def renew(line: str, quantity: int, place: str, why: str) -> Renewed:
    """Scrap items and take as many from new stock, to the same place."""
    return Renewed(
        why,
        (
            Move(line, quantity, place, places.SCRAP),
            Move(line, quantity, places.ORIGIN, places.NEW_STOCK),
            Move(line, quantity, places.NEW_STOCK, place),
        ),
    )


def check(line: str, place: str, quantity: int) -> Checked:
    """State how many of a line were counted at a place."""
    return Checked(Seen(line, place, quantity))


def secure(teardown: Teardown, note: str) -> Secured:
    """Leave the machine, with the tally as it is."""
    return Secured(note, tuple(tally(teardown)))


def cover(teardown: Teardown, opening: str, line: str, source: str = "") -> Covered:
    """Count one cover into an opening, from where it is put away unless said."""
    return Covered(opening, (Move(line, 1, source or places.STORES, places.cover_of(opening)),))


def uncover(teardown: Teardown, opening: str, to: str = places.STORES) -> Uncovered:
    """Count every cover out of an opening, to where covers are put away unless said."""
    place = places.cover_of(opening)
    return Uncovered(
        opening, tuple(Move(line, q, place, to) for (line, p), q in teardown.balances.items() if p == place)
    )


def cover_lines(teardown: Teardown, opening: str = "") -> list[str]:
    """Lines of which at least one is put away and can cover an opening: caps and plugs first, then rags.

    First of all those that the sheet names for `opening`: a coolant plug where it says "Coolant plug."
    """
    ready = [
        line
        for line in teardown.lines.values()
        if line.kind in ("cover", "rag") and teardown.quantity(line.id, places.STORES) > 0
    ]
    wanted = teardown.openings[opening].cover.lower() if opening else ""
    return [line.id for line in sorted(ready, key=lambda line: (line.name.lower() not in wanted, line.kind != "cover"))]


def second_counted(teardown: Teardown, closure: str, seen: Iterable[int]) -> SecondCounted:
    """A second count, its figures in the order of `second_count.count_list`."""
    pairs = second_count.count_list(teardown, closure)
    return counted_blind(teardown, closure, [Seen(*pair, number) for pair, number in zip(pairs, seen, strict=True)])


def counted_blind(teardown: Teardown, closure: str, seen: Iterable[Seen]) -> SecondCounted:
    """A second count of whole places: what was seen, wherever it was; whatever is not named there was not seen."""
    entries = second_count.figures(teardown, second_count.count_list(teardown, closure), seen)
    at = walked(stops(teardown))
    return SecondCounted(closure, second_count.works_alone(teardown), entries, at)


def take_over(teardown: Teardown, seen: Iterable[int], notes: str, signature: Strokes = ()) -> TookOver:
    """Taking a job over, the relief count's figures in the order of `second_count.relief_list`."""
    pairs = second_count.relief_list(teardown)
    counted = [Seen(*pair, number) for pair, number in zip(pairs, seen, strict=True)]
    return taken_blind(teardown, counted, notes, signature)


def taken_blind(teardown: Teardown, seen: Iterable[Seen], notes: str, signature: Strokes = ()) -> TookOver:
    """Taking a job over after a relief count of whole places, as for a second count."""
    entries = second_count.figures(teardown, second_count.relief_list(teardown), seen)
    return TookOver(entries, notes, signature, places=walked(relief_stops(teardown)))


def match_find(teardown: Teardown, find: str, line: str, quantity: int = 1) -> FindMatched:
    """Say that a find is one of ours that is missing: it is where the find lies, or once that is out, in the tray."""
    state = teardown.finds[find]
    inside = places.inside(state.logged.where) if state.logged.where and not state.removed else ""
    off = places.TRAY if places.family(home_of(teardown, line)) == "fitted" else places.BENCH
    return FindMatched(find, (Move(line, quantity, places.MISSING, inside or off),))


def clear_to_refit(teardown: Teardown, closure: str, head: str, signature: Strokes = ()) -> Cleared:
    """Sign a closure as cleared to refit, with a statement of the values behind it."""
    return Cleared(closure, clearance_statement(teardown, closure), head, signature)


def clearance_statement(teardown: Teardown, closure: str) -> str:
    """What is signed for, in figures: "12 of 12 fasteners off, 4 of 4 openings clear, second count agrees".

    What is missing elsewhere is said, with why it cannot be in there.
    """
    openings = teardown.ways.openings_of[closure]
    clear = sum(1 for o in openings if o in teardown.looks and teardown.looks[o][0].clear)
    parts = _off_parts(teardown, closure)
    parts += [f"{out_of(clear, len(openings), 'opening')} looked into and clear", "nothing left in the spaces below"]
    if teardown.closures[closure].second_count:
        count, holds = teardown.second_counts.get(closure), second_count.holds(teardown, closure)
        alone = count.fact.alone if count else second_count.works_alone(teardown)
        parts.append(("re-inspection" if alone else "second count") + (" agrees" if holds else " does not agree"))
    parts += _measured_parts(teardown, closure)
    return " ".join([f"{teardown.closures[closure].name}: {listing(parts)}.", *notes(teardown, closure)])


def _off_parts(teardown: Teardown, closure: str) -> list[str]:
    """How many of the closure's fasteners are off, of all that belong there; nothing where it has none."""
    home = places.fitted(closure)
    fasteners = [line for line in teardown.lines_of(closure) if teardown.lines[line].kind == "fastener"]
    belong = sum(teardown.required[line] for line in fasteners)
    off = belong - sum(teardown.quantity(line, home) for line in fasteners)
    return [f"{out_of(off, belong, 'fastener')} off"] if belong else []


def _measured_parts(teardown: Teardown, closure: str) -> list[str]:
    """Each demanded limit with its last reading, as typed."""
    limits = [(limit, teardown.measured.get((closure, limit.id))) for limit in teardown.closures[closure].limits]
    return [
        f"{within(limit.name)} {known[0].reading if known else 'not measured'} "
        f"({' to '.join(filter(None, (limit.least, limit.most)))})"
        for limit, known in limits
    ]


def sign(teardown: Teardown, closure: str, torque: str, head: str, signature: Strokes = ()) -> Signed:
    """Sign a closure as closed, with the torque used and a statement of the counts."""
    return Signed(closure, torque, closed_statement(teardown, closure), head, signature)


def closed_statement(teardown: Teardown, closure: str) -> str:
    """What is signed for, in figures: "10 of 10 M8 bolts home, 1 of 1 gasket home"."""
    home = places.fitted(closure)
    parts = [
        f"{out_of(teardown.quantity(line, home), teardown.required[line], teardown.lines[line].name)} home"
        for line in teardown.lines_of(closure)
    ]
    whole = teardown.closures[closure]
    if steps := len(whole.positions) * len(whole.passes):
        parts.append(f"{out_of(len(teardown.tightened.get(closure, ())), steps, 'tightening step')} ticked")
    return " ".join([f"{whole.name}: {listing(parts)}.", *notes(teardown, closure)])


def close(teardown: Teardown, head: str, signature: Strokes = ()) -> Closed:
    """Close the teardown, with a statement of the count. A correct count is not proof of an empty engine."""
    signed = sum(1 for s in teardown.closure_states.values() if s.signed)
    statement = (
        f"{out_of(signed, signed, 'opened closure')} signed, every item counted back. "
        "A correct count is not proof of an empty engine."
    )
    return Closed(statement, head, signature)


def release(reason: str, search: str, head: str, signature: Strokes = ()) -> Released:
    """End the teardown released, not clear: not a closure, and on record for good."""
    return Released(reason, search, head, signature)


def released(teardown: Teardown, reason: str, more: str, head: str, signature: Strokes = ()) -> Released:
    """The same, its search told from the searches on record; `more` is what the person adds in their own words."""
    from checklists.searches import search_summary  # needed only at such an end

    return release(reason, " ".join(filter(None, (search_summary(teardown), more.strip()))), head, signature)
