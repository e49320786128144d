"""Everything that no closure asks for, and what became of items: torn, broken, renewed, added, dropped, lost, found."""

from __future__ import annotations

from checklists import places
from checklists.account.album import Album
from checklists.account.closures import count_table
from checklists.account.parts import Block, Section, Table, Words
from checklists.account.searching import searches
from checklists.account.walk import Walk
from checklists.account.writing import when, when_cell
from checklists.facts import (
    Added,
    Converted,
    Dropped,
    Fact,
    FindMatched,
    Found,
    Grown,
    Missed,
    Move,
    Renewed,
    Reversed,
    SheetSettled,
    Short,
    Withdrawn,
    WrittenTooHigh,
    moves_of,
)
from checklists.facts_measured import Tightened
from checklists.state import Mark, Teardown
from checklists.two_ways import KINDS, told
from checklists.withdrawing import written
from checklists.words import listing, sentence, within

Row = tuple[Mark, str, str]


def other_items(walk: Walk, album: Album) -> Section | None:
    """Tools, rags, covers, pieces and personal items: those that were used, and how many never were."""
    t = walk.teardown
    loose = [line for line in t.lines if places.family(t.lines[line].home) != "fitted"]
    used = [line for line in loose if line in walk.flows or line in t.line_moved]
    if not loose:
        return None
    blocks: list[Block] = [count_table(walk, used)] if used else [Words("None of them was used.")]
    if len(used) < len(loose):
        idle = [t.lines[line].name for line in loose if line not in used]
        blocks.append(Words(f"On the tally and never used: {listing(idle)}."))
    return Section("Tools, rags, covers and other items", tuple(blocks))


def changed_items(walk: Walk, album: Album) -> Section | None:
    """Conversions, renewals, and what joined the tally on the way; both sides of each."""
    rows = [*_converted(walk), *_renewed(walk), *_added(walk), *_grown(walk), *_withdrawn(walk), *_too_high(walk),
            *_settled(walk)]  # fmt: skip
    return _section("Torn, broken, renewed and added", rows, ("when", "who", "what"))


def _section(title: str, rows: list[Row], heads: tuple[str, str, str]) -> Section | None:
    if not rows:
        return None
    told = tuple((when_cell(mark.at), mark.who, f"{what} {remark}".strip()) for mark, what, remark in sorted(rows))
    return Section(title, (Table(heads, (17, 16, 67), told),))


def _undone(walk: Walk, mark: Mark) -> str:
    entry = walk.teardown.history[mark.n - 1]
    return "(taken back later)" if (entry.device, entry.seq) in walk.teardown.reversed else ""


def _items(t: Teardown, moves: list[Move]) -> str:
    return listing([t.say(move.line, move.quantity) for move in moves])


def _converted(walk: Walk) -> list[Row]:
    t, rows = walk.teardown, []
    for mark, fact in walk.of(Converted):
        used = _items(t, [move for move in fact.moves if move.target == places.CONVERTED])
        made = _items(t, [move for move in fact.moves if move.source == places.ORIGIN])
        rows.append((mark, f"{used} became {made}: {fact.how}.", _undone(walk, mark)))
    return rows


def _renewed(walk: Walk) -> list[Row]:
    t, rows = walk.teardown, []
    for mark, fact in walk.of(Renewed):
        old = _items(t, [move for move in fact.moves if move.target == places.SCRAP])
        words = f"{sentence(old)} renewed: the old to scrap, as many from the packet. Why: {fact.why}."
        rows.append((mark, words, _undone(walk, mark)))
    return rows


def _added(walk: Walk) -> list[Row]:
    t = walk.teardown
    return [
        (mark, f"{sentence(_items(t, list(fact.moves)))} came onto the tally: {fact.why}", _undone(walk, mark))
        for mark, fact in walk.of(Added)
    ]


def _grown(walk: Walk) -> list[Row]:
    rows = []
    for mark, fact in walk.of(Grown):
        part = fact.part
        names = [one.name for group in (part.spaces, part.openings, part.closures, part.items) for one in group]
        names += [f"caution: {caution.text}" for caution in part.cautions]
        rows.append((mark, f"The sheet grew by {listing(names) or 'a passage between spaces'}.", _undone(walk, mark)))
    return rows


def _withdrawn(walk: Walk) -> list[Row]:
    t, rows = walk.teardown, []
    for mark, fact in walk.of(Withdrawn):
        by = [f"{one.entry.who} ({one.quantity})" for one in written(t, fact.moves[0].line)]
        words = f"{sentence(_items(t, list(fact.moves)))} came off the tally: written down on two phones"
        rows.append((mark, f"{words}, by {listing(by)}. Why: {fact.why}", ""))
    return rows


def _too_high(walk: Walk) -> list[Row]:
    t, rows = walk.teardown, []
    for mark, fact in walk.of(WrittenTooHigh):
        line, _, place, _ = fact.moves[0]
        fitted = places.family(place) == "fitted"
        shown = "a photo shows no hole for it" if fitted else "nothing had been open yet"
        words = f"{sentence(_items(t, list(fact.moves)))} came off the tally, written down too high"
        there = f"{t.say(line, fact.counted)} counted {t.say_place(place)}, {shown}"
        rows.append((mark, f"{words}: {there}. Why: {fact.why}", ""))
    return rows


def _settled(walk: Walk) -> list[Row]:
    return [
        (mark, f"{sentence(KINDS[fact.what])} written down in two ways on two phones. Right is: {told(fact.part)}", "")
        for mark, fact in walk.of(SheetSettled)
    ]


# --- losses


def losses(walk: Walk, album: Album) -> Section | None:
    """The drop log, what was missing, and how it was found; what never was stands loud at the end."""
    rows = [*_dropped(walk), *_missed(walk), *_short(walk, album), *_found(walk), *_matched(walk)]
    rows += searches(walk, album)
    section = _section("Drops, missing items and searches", rows, ("when", "who", "what"))
    if section is None:
        return None
    t = walk.teardown
    left = [f"{t.say(item.line, item.quantity)}, last {t.say_place(item.source)}" for item in t.missing]
    words = Words(f"STILL MISSING: {listing(left)}.", True) if left else Words("Nothing is missing any more.")
    return Section(section.title, (*section.blocks, words, *album.shown()))


def _dropped(walk: Walk) -> list[Row]:
    t, rows = walk.teardown, []
    for mark, fact in walk.of(Dropped):
        source, target = fact.moves[0].source, fact.moves[0].target
        went = "nobody saw where" if target == places.MISSING else f"seen to go: {t.say_place(target)}"
        items = _items(t, list(fact.moves))
        words = f"DROPPED: {items}, last {t.say_place(source)}; {went}. Near: {fact.near or 'not said'}."
        rows.append((mark, words, _undone(walk, mark)))
    return rows


def _missed(walk: Walk) -> list[Row]:
    t = walk.teardown
    return [
        (mark, f"MISSING: {_items(t, list(fact.moves))}, last {t.say_place(fact.moves[0].source)}.",
         f"{f'Note: {fact.note}.' if fact.note else ''} {_undone(walk, mark)}".strip())
        for mark, fact in walk.of(Missed)
    ]  # fmt: skip


def _short(walk: Walk, album: Album) -> list[Row]:
    t, rows = walk.teardown, []
    for mark, fact in walk.of(Short):
        photo = album.name(fact.photo, f"Short at the start: {t.closures[fact.closure].name}")
        words = f"SHORT AT THE START: {_items(t, list(fact.moves))} not there when it was opened ({photo})."
        rows.append((mark, words, _undone(walk, mark)))
    return rows


def _found(walk: Walk) -> list[Row]:
    t = walk.teardown
    return [
        (mark, f"FOUND: {_items(t, list(fact.moves))}, {fact.where}; then {t.say_place(fact.moves[-1].target)}.",
         _undone(walk, mark))
        for mark, fact in walk.of(Found)
    ]  # fmt: skip


def _matched(walk: Walk) -> list[Row]:
    t = walk.teardown
    return [
        (mark, f"FOUND: {_items(t, list(fact.moves))}, known again in the find “{_what(t, fact.find)}”.", "")
        for mark, fact in walk.of(FindMatched)
    ]


def _what(t: Teardown, find: str) -> str:
    return t.finds[find].logged.what if find in t.finds else find


# --- what was taken back


def taken_back(walk: Walk, album: Album) -> Section | None:
    """Reversing movements: what was taken back, when, by whom and why. Nothing is ever edited."""
    t, rows = walk.teardown, []
    for mark, fact in walk.of(Reversed):
        step = walk.step(fact.device, fact.seq)
        what = _what_was_done(t, step.entry.fact) if step else ""
        of = f"entry {step.n} of {when(step.entry.at)}" if step else f"entry {fact.seq} of {fact.device}"
        rows.append((mark, f"Took back {of}: {what}.", f"Why: {fact.why}."))
    return _section("Counts and ticks taken back", rows, ("when", "who", "what"))


def _what_was_done(t: Teardown, fact: Fact) -> str:
    if isinstance(fact, Tightened):
        return f"number {fact.number} of the {within(t.closures[fact.closure].name)} tightened to {fact.percent} %"
    moves = moves_of(fact)
    return "; ".join(f"{t.say(m.line, m.quantity)}: {t.say_place(m.source)} → {t.say_place(m.target)}" for m in moves)
