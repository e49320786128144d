"""Every place where something missing could be, searched by one person and again by another, as a release asks."""

from __future__ import annotations

from collections.abc import Iterator

from checklists import builders
from checklists.facts_measured import Searched
from checklists.lost_line import in_no_space, lost_lines
from checklists.searches import search_list
from checklists.state import Teardown


def searched_twice(t: Teardown, first: str, second: str, seen: str = "nothing") -> Iterator[tuple[Searched, str]]:
    """The searches and who makes each; round about the engine where it could be in no space of it."""
    for lost in lost_lines(t):
        spaces = [place.where for place in search_list(t, lost.line) if place.candidate is not None]
        for where in [*spaces, *(["round about the engine"] if in_no_space(t, lost) else [])]:
            for who, method in ((first, "magnet"), (second, "mirror")):
                yield builders.search(t, lost.line, where, method, seen), who
