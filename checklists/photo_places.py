"""What a photo that an act names belongs to, and when in the work it is taken."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checklists import places
from checklists.facts import Fact, FindLogged, FindRemoved, Lifted, Looked, Short, WrittenTooHigh
from checklists.facts_measured import PieceWeighed, Searched

_PLACES: dict[type, Callable[[Any], tuple[str, str]]] = {
    Lifted: lambda fact: (f"closure:{fact.closure}", "lift check"),
    Short: lambda fact: (f"closure:{fact.closure}", "empty hole"),
    WrittenTooHigh: lambda fact: (f"closure:{places.named(fact.moves[0].source) if fact.moves else ''}", "other"),
    Looked: lambda fact: (f"opening:{fact.opening}", "closeout"),
    FindLogged: lambda fact: (f"find:{fact.find}", "before"),
    FindRemoved: lambda fact: (f"find:{fact.find}", "after"),
    Searched: lambda fact: (f"line:{fact.line}", "search"),
    PieceWeighed: lambda fact: (f"line:{fact.line}", "piece"),
}


def place_of_photo(fact: Fact) -> tuple[str, str] | None:
    """(about, moment) as `Photographed` has them, for an act that names a photo; None for one that names none."""
    place = _PLACES.get(type(fact))
    return place(fact) if place and getattr(fact, "photo", "").strip() else None
