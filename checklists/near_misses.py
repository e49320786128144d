"""Near misses across teardowns: what was dropped and missed, where, and how long it took to find."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from statistics import median

from checklists import places
from checklists.facts import Counted, Dropped, Entry, Fact, FindMatched, Found, Missed, Move, Short, moves_of
from checklists.facts_measured import Searched
from checklists.state import SHORT_AT_START, Teardown
from checklists.times import duration_words, seconds_between
from checklists.words import how_many, within


@dataclass(frozen=True, slots=True)
class NearMiss:
    """Something that was lost on a teardown, from where and when; and where it turned up, if it did.

    `how` is "dropped", "missing" or "short at the start". `seconds` is how long it was gone, None while it is.
    """

    teardown: str
    machine: str
    line: str
    name: str
    quantity: int
    how: str
    near: str
    last_place: str
    space: str
    lost_at: str
    lost_by: str
    found_at: str = ""
    found_by: str = ""
    found_where: str = ""

    @property
    def seconds(self) -> float | None:
        """How long it was gone."""
        return max(0.0, seconds_between(self.lost_at, self.found_at)) if self.found_at else None


def near_misses(teardowns: Iterable[tuple[str, Teardown]]) -> tuple[NearMiss, ...]:
    """Every loss of these teardowns (id, folded state), the newest first."""
    lost = [loss for name, t in teardowns for loss in _losses(name, t)]
    return tuple(sorted(lost, key=lambda loss: loss.lost_at, reverse=True))


def _losses(name: str, t: Teardown) -> list[NearMiss]:
    lost: list[NearMiss] = []
    for entry in t.history:
        if isinstance(entry.fact, Dropped | Missed | Short):
            lost += [_loss(name, t, entry, move) for move in entry.fact.moves]
        elif (entry.device, entry.seq) in t.reversed:
            continue  # counted out of the engine by mistake, and taken back: it is still in there
        elif isinstance(entry.fact, Found | FindMatched | Counted | Searched):
            for move in moves_of(entry.fact):
                if places.family(move.source) in (places.MISSING, places.ENGINE):
                    lost = _turned_up(lost, t, entry, move)
    return lost


def _loss(name: str, t: Teardown, entry: Entry, move: Move) -> NearMiss:
    fact = entry.fact
    how, near = SHORT_AT_START, ""
    if isinstance(fact, Dropped):
        how, near = "dropped", fact.near
    elif isinstance(fact, Missed):
        how, near = "missing", fact.note
    space = places.named(move.target) if places.family(move.target) == places.ENGINE else ""
    return NearMiss(
        name, t.machine, move.line, t.lines[move.line].name, move.quantity, how, near, t.say_place(move.source),
        t.spaces[space].name if space in t.spaces else "", entry.at, entry.who,
    )  # fmt: skip


def _turned_up(lost: list[NearMiss], t: Teardown, entry: Entry, move: Move) -> list[NearMiss]:
    """The oldest open losses of this line are over; one of which only a part was found is split in two."""
    left, after = move.quantity, list[NearMiss]()
    inside = places.family(move.source) == places.ENGINE
    for loss in lost:
        same = loss.line == move.line and not loss.found_at and bool(loss.space) == inside
        found = min(left, loss.quantity) if same else 0
        if found:
            where = _spot(t, entry.fact) or t.say_place(move.source)
            over = replace(loss, quantity=found, found_at=entry.at, found_by=entry.who, found_where=where)
            after.append(over)
            left -= found
        if loss.quantity > found:
            after.append(replace(loss, quantity=loss.quantity - found))
    return after


def _spot(t: Teardown, fact: Fact) -> str:
    """Where it turned up, as far as that was said."""
    if isinstance(fact, FindMatched):
        return f"known again in the find “{t.finds[fact.find].logged.what}”" if fact.find in t.finds else "in a find"
    if not isinstance(fact, Found | Searched):
        return ""
    return t.spaces[fact.where].name if fact.where in t.spaces else fact.where


def near_miss_words(lost: Iterable[NearMiss]) -> tuple[str, ...]:
    """What they come to: how many, how long they took, what is lost most. Told without names of people."""
    rows = list(lost)
    if not rows:
        return ("Nothing was dropped or missed so far.",)
    gone, times = [row for row in rows if row.seconds is None], [row.seconds for row in rows if row.seconds is not None]
    teardowns = len({row.teardown for row in rows})
    words = [
        f"{how_many(sum(row.quantity for row in rows), 'item')} dropped or missed "
        f"on {how_many(teardowns, 'teardown')}; {sum(row.quantity for row in gone)} not found."
    ]
    if times:
        words.append(f"Half of those found took up to {duration_words(median(times))}, the longest "
                     f"{duration_words(max(times))}.")  # fmt: skip
    names = [row.name for row in rows]
    most = max(names, key=names.count)
    if names.count(most) > 1:
        words.append(f"Most often: {within(most)}, {names.count(most)} times.")
    return tuple(words)
