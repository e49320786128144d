"""The blind second count: what is counted, in which order, by whom, and whether it still holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from checklists import places
from checklists.blind_walk import Stop, in_order, relief_stops, stops, walked
from checklists.clock_back import LEAST
from checklists.facts import Seen
from checklists.state import Mark, Teardown
from checklists.times import seconds_after, seconds_between

#: Alone, the same person looks again after this pause (seconds). Common practice, no source for the figure;
#: that the re-inspection is separated in time is EASA AMC4 145.A.48(b)(d).
PAUSE_SECONDS = 600.0

Pair = tuple[str, str]


def count_list(teardown: Teardown, closure: str) -> tuple[Pair, ...]:
    """What must have a figure in a second count before `closure` goes back: (line, place) pairs, in the fixed order.

    The closure's own fasteners and parts off the machine, every other item that was used on this teardown, and what
    lies off from other closures. The counter is never shown this list: it is what "that is all here" is held against.
    """
    return in_order(teardown, _must_have(teardown, closure))


def _must_have(teardown: Teardown, closure: str) -> set[Pair]:
    own = set(teardown.lines_of(closure))
    used = {line for line in teardown.line_moved if not _belongs_on_a_closure(teardown, line)}
    walk = set(walked(stops(teardown)))
    pairs = {(line, places.TRAY) for line in own} | {(line, places.STORES) for line in used}
    return pairs | {
        (line, place)
        for (line, place), quantity in teardown.balances.items()
        if quantity > 0 and place in walk and (line in own or line in used or _belongs_on_a_closure(teardown, line))
    }


def _belongs_on_a_closure(teardown: Teardown, line: str) -> bool:
    return places.family(teardown.lines[line].home) == "fitted"


def likely_lines(teardown: Teardown, closure: str = "") -> frozenset[str]:
    """The lines a counter is offered first at any place: the closure's own and whatever was ever moved."""
    return frozenset(teardown.line_moved) | frozenset(teardown.lines_of(closure))


def figures(teardown: Teardown, pairs: Iterable[Pair], seen: Iterable[Seen]) -> tuple[Seen, ...]:
    """What was seen, and none of everything else that must have a figure, in the fixed order."""
    counted = dict.fromkeys(pairs, 0)
    for line, place, quantity in seen:
        if quantity or (line, place) in counted:
            counted[line, place] = counted.get((line, place), 0) + quantity
    return tuple(Seen(line, place, counted[line, place]) for line, place in in_order(teardown, counted))


def is_whole(pairs: Iterable[Pair], entries: Iterable[Seen], at: tuple[str, ...], walk: Iterable[Stop]) -> bool:
    """Whether a count went to every place of its walk, and gives one figure and no more for all that must have it."""
    counted = [(seen.line, seen.place) for seen in entries]
    once = len(set(counted)) == len(counted)
    return once and at == walked(walk) and set(pairs) <= set(counted) and {place for _, place in counted} <= set(at)


def last_work(teardown: Teardown, closure: str) -> Mark | None:
    """The last movement that a second count for `closure` must come after: of what is counted, or in the spaces."""
    lines = {line for line, _ in _must_have(teardown, closure)}
    return max(_marks(teardown, closure, lines), default=None)


def _marks(teardown: Teardown, closure: str, lines: set[str]) -> list[Mark]:
    """The last movement of each of these lines, and in each of the spaces."""
    marks = [teardown.line_moved[line] for line in lines if line in teardown.line_moved]
    return marks + [teardown.touched[space] for space in teardown.spaces_of(closure) if space in teardown.touched]


def _work_there(teardown: Teardown, closure: str) -> list[Mark]:
    """The last movement of each of the closure's own lines and of each item used, and in each of the spaces."""
    loose = {line for line in teardown.lines if not _belongs_on_a_closure(teardown, line)}
    return _marks(teardown, closure, loose | set(teardown.lines_of(closure)))


def last_worker(teardown: Teardown, closure: str) -> Mark | None:
    """Who worked on `closure` last, and when."""
    return max(_work_there(teardown, closure), default=None)


def holds(teardown: Teardown, closure: str) -> bool:
    """Whether a second count for `closure` agreed and nothing it counted has moved since."""
    count = teardown.second_counts.get(closure)
    work = last_work(teardown, closure)
    return count is not None and count.agreed and (work is None or work.n < count.mark.n)


def works_alone(teardown: Teardown) -> bool:
    """Whether one person is on the job, so that a re-inspection after a pause stands for the second count."""
    return len(teardown.people) < 2


def who_may(teardown: Teardown, closure: str) -> list[str]:
    """Who may make the second count: whoever had no hand in the work there; where everybody had, whoever had least.

    Hands are counted by lines and spaces: who moved each of them last. Where all had as many, it is not the one who
    worked there last. Alone, that same person. That it is a person who was not involved is EASA AMC4 145.A.48(b); what
    is done where everybody was is our own rule, no source.
    """
    names = [person.name for person in teardown.people]
    work = _work_there(teardown, closure)
    if not work or works_alone(teardown):
        return names
    hands = Counter(mark.who for mark in work)
    least = min(hands[name] for name in names)
    may = [name for name in names if hands[name] == least]
    return may if len(may) < len(names) else [name for name in names if name != max(work).who]


def not_before(teardown: Teardown, closure: str) -> str:
    """Alone: the time stamp from which the re-inspection may be made; empty where no pause is due."""
    work = last_work(teardown, closure)
    return seconds_after(work.at, PAUSE_SECONDS) if work and works_alone(teardown) else ""


def pause_is_ahead(until: str, now: str) -> bool:
    """Alone: whether the clock stands before the work after which the pause is due, for it was set back since."""
    return seconds_between(now, until) > PAUSE_SECONDS + LEAST


def relief_list(teardown: Teardown) -> tuple[Pair, ...]:
    """What must have a figure when a person takes over: (line, place) of everything away from home, in the order."""
    walk = set(walked(relief_stops(teardown)))
    away = {(line, place) for (line, place), quantity in teardown.balances.items() if quantity > 0 and place in walk}
    return in_order(teardown, away)
