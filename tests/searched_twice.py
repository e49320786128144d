"""Every place where something missing could be, searched by one person and again by another, as a release asks."""

from __future__ import annotations

from collections.abc import Iterator

from checklists import builders
from checklists.facts_measured import Searched
from checklists.searches import search_list
from checklists.state import Teardown


def searched_twice(t: Teardown, first: str, second: str, seen: str = "nothing") -> Iterator[tuple[Searched, str]]:
    """The searches and who makes each; round about the engine where it could be in no space of it."""
    for item in list(t.missing):
        places = [place.where for place in search_list(t, item) if place.candidate is not None]
        for where in places or ["round about the engine"]:
            for who, method in ((first, "magnet"), (second, "mirror")):
                yield builders.search(t, item.line, where, method, seen), who
