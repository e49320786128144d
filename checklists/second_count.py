"""The blind second count: what is counted, in which order, by whom, and whether it still holds."""

from __future__ import annotations

from collections import Counter

from checklists import places
from checklists.state import Mark, Teardown
from checklists.times import seconds_after

#: Count order: near the opening, tray, bench, put away, scrap. From memory of count guidance.
_ORDER = ("cover", places.ENGINE, "on", places.TRAY, places.BENCH, places.STORES, places.SCRAP)

#: Alone, the same person looks again after this pause (seconds). Common practice, no source for the figure;
#: that the re-inspection is separated in time is EASA AMC4 145.A.48(b)(d).
PAUSE_SECONDS = 600.0


def count_list(teardown: Teardown, closure: str) -> tuple[tuple[str, str], ...]:
    """What a second counter counts before `closure` goes back: (line, place) pairs, in the fixed order.

    It names places to look at, never how many to expect there: the closure's own fasteners and parts off the machine,
    and every other item that was used on this teardown.
    """
    own = teardown.lines_of(closure)
    used = [line for line in teardown.lines if line in teardown.line_moved and not _at_home_on_closure(teardown, line)]
    pairs = {pair for line in own for pair in _own_places(teardown, line)}
    pairs.update(pair for line in used for pair in _used_places(teardown, line))
    order = {line: number for number, line in enumerate(teardown.lines)}
    return tuple(sorted(pairs, key=lambda pair: (_rank(pair[1]), pair[1], order[pair[0]])))


def _at_home_on_closure(teardown: Teardown, line: str) -> bool:
    return places.family(teardown.lines[line].home) == "fitted"


def _own_places(teardown: Teardown, line: str) -> list[tuple[str, str]]:
    """Where a fastener or part of the closure lies. The tray is always looked at, though nothing be expected there."""
    return [(line, places.TRAY)] + [(line, p) for p in teardown.places_of(line) if _rank(p) < _rank(places.SCRAP)]


def _used_places(teardown: Teardown, line: str) -> list[tuple[str, str]]:
    return [(line, places.STORES)] + [(line, p) for p in teardown.places_of(line) if _rank(p) < _rank(places.SCRAP)]


def _rank(place: str) -> int:
    family = places.family(place)
    return _ORDER.index(family) if family in _ORDER else len(_ORDER)


def last_work(teardown: Teardown, closure: str) -> Mark | None:
    """The last movement that a second count for `closure` must come after: of what is counted, or in the spaces."""
    return max(_work(teardown, closure), default=None)


def _work(teardown: Teardown, closure: str) -> list[Mark]:
    """The last movement of each line that is counted, and in each of the spaces."""
    lines = {line for line, _ in count_list(teardown, closure)}
    marks = [teardown.line_moved[line] for line in lines if line in teardown.line_moved]
    return marks + [teardown.touched[space] for space in teardown.spaces_of(closure) if space in teardown.touched]


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
    work = _work(teardown, closure)
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


def relief_list(teardown: Teardown) -> tuple[tuple[str, str], ...]:
    """What a person who takes over counts, blind: (line, place) of everything that is away from home, in order."""
    away = [
        (line, place)
        for (line, place), quantity in teardown.balances.items()
        if quantity > 0 and _rank(place) < _ORDER.index(places.STORES)
    ]
    order = {line: number for number, line in enumerate(teardown.lines)}
    return tuple(sorted(away, key=lambda pair: (_rank(pair[1]), pair[1], order[pair[0]])))
