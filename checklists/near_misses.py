"""Near misses across teardowns: what was dropped and missed, where, and how long it took to find."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from statistics import median

from checklists import places
from checklists.state import Loss, Teardown
from checklists.times import duration_words, seconds_between
from checklists.words import how_many, within


@dataclass(frozen=True, slots=True)
class NearMiss:
    """Something that was lost on a teardown, from where and when; and where it turned up, if it did.

    `how` is "dropped", "missing" or "short at the start". `seconds` is how long it was gone, None while it is; below
    zero where the clock was set back meanwhile, so that it cannot be told.
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
        return seconds_between(self.lost_at, self.found_at) if self.found_at else None


def near_misses(teardowns: Iterable[tuple[str, Teardown]]) -> tuple[NearMiss, ...]:
    """Every loss of these teardowns (id, folded state), the newest first."""
    lost = [loss for name, t in teardowns for loss in _losses(name, t)]
    return tuple(sorted(lost, key=lambda loss: loss.lost_at, reverse=True))


def _losses(name: str, t: Teardown) -> list[NearMiss]:
    """Each loss as the drop log and the tally have it; one of which only a part was found is split."""
    lost: list[NearMiss] = []
    for loss in t.losses:
        gone = _gone(name, t, loss)
        lost += [
            replace(gone, quantity=quantity, found_at=mark.at, found_by=mark.who, found_where=where)
            for quantity, mark, where in loss.findings
        ]
        if loss.quantity > loss.found:
            lost.append(replace(gone, quantity=loss.quantity - loss.found))
    return lost


def _gone(name: str, t: Teardown, loss: Loss) -> NearMiss:
    space = places.named(loss.into)
    return NearMiss(
        name, t.machine, loss.line, t.lines[loss.line].name, loss.quantity, loss.cause, loss.near,
        t.say_place(loss.source), t.spaces[space].name if space in t.spaces else "", loss.mark.at, loss.mark.who,
    )  # fmt: skip


def near_miss_words(lost: Iterable[NearMiss]) -> tuple[str, ...]:
    """What they come to: how many, how long they took, what is lost most. Told without names of people."""
    rows = list(lost)
    if not rows:
        return ("Nothing was dropped or missed so far.",)
    gone = [row for row in rows if row.seconds is None]
    times = [row.seconds for row in rows if row.seconds is not None and row.seconds >= 0]
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
