"""What was searched for a missing item, where and by whom, and what was not: for searching on, and for the record."""

from __future__ import annotations

from typing import NamedTuple

from checklists import places
from checklists.facts_measured import Searched
from checklists.state import Mark, MissingItem, Teardown
from checklists.times import day_and_clock
from checklists.whereabouts.migration import Candidate
from checklists.words import listing, sentence, within


class SearchPlace(NamedTuple):
    """One place to search: a space the item could be in (with its candidate) or a spot somebody searched besides.

    `passes` are the searches made there, oldest first; `independent` says that two people searched it.
    """

    where: str
    name: str
    candidate: Candidate | None
    passes: tuple[tuple[Searched, Mark], ...]

    @property
    def independent(self) -> bool:
        """Whether a second person searched there as well."""
        return len({mark.who for _, mark in self.passes}) > 1


def search_list(t: Teardown, item: MissingItem, now: str) -> tuple[SearchPlace, ...]:
    """Every place to search for a missing item, the likeliest first, then the other spots that were searched."""
    from checklists.where_it_could_be import whereabouts_of

    made = passes_of(t, item)
    found = whereabouts_of(t, item).candidates
    spaces = [SearchPlace(c.space, t.spaces[c.space].name, c, made.pop(c.space, ())) for c in found]
    return (*spaces, *(SearchPlace(where, _name(t, where), None, passes) for where, passes in made.items()))


def passes_of(t: Teardown, item: MissingItem) -> dict[str, tuple[tuple[Searched, Mark], ...]]:
    """The searches for a missing item since it went missing, by place, in the order of the first of each."""
    made: dict[str, tuple[tuple[Searched, Mark], ...]] = {}
    for search, mark in t.searches:
        if search.line == item.line and mark.n > item.mark.n:
            made[search.where] = (*made.get(search.where, ()), (search, mark))
    return made


def second_pass_due(t: Teardown, item: MissingItem, now: str) -> tuple[str, ...]:
    """Spaces it could be in that nobody, or only one person, has searched."""
    return tuple(
        place.where for place in search_list(t, item, now) if place.candidate is not None and not place.independent
    )


def search_summary(t: Teardown, now: str) -> str:
    """The searches for everything still missing, in plain words, with what was not searched; empty where nothing is."""
    return " ".join(sentence(_item_summary(t, item, now)) for item in t.missing)


def _item_summary(t: Teardown, item: MissingItem, now: str) -> str:
    listed = search_list(t, item, now)
    name = within(t.lines[item.line].name)
    done = [f"{within(place.name)} {_passes(place)}" for place in listed if place.passes]
    left = [within(place.name) for place in listed if not place.passes]
    twice = [within(place.name) for place in listed if place.independent]
    told = [f"{name}: searched {'; '.join(done)}." if done else f"{name}: no search is on record."]
    if twice:
        told.append(f"By a second person as well: {listing(twice)}.")
    if left:
        told.append(f"Not searched, though it could be there: {listing(left)}.")
    return " ".join(told)


def _passes(place: SearchPlace) -> str:
    return ", ".join(
        f"by {search.method} ({mark.who}, {day_and_clock(mark.at)}: {search.seen})" for search, mark in place.passes
    )


def _name(t: Teardown, where: str) -> str:
    return t.spaces[where].name if where in t.spaces else where


def is_missing(t: Teardown, line: str) -> bool:
    """Whether something of a line is missing, so that it can be searched for."""
    return t.quantity(line, places.MISSING) > 0
