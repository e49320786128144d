"""Places as a person says them in a story: "in the tray", "on the Rocker cover", "in port-2"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Protocol

from checklists import places
from checklists.sheet import Closure, Opening, Space

_PLAIN = {
    "put away": places.STORES,
    "stores": places.STORES,
    "tray": places.TRAY,
    "in the tray": places.TRAY,
    "bench": places.BENCH,
    "on the bench": places.BENCH,
    "floor": places.FLOOR,
    "on the floor": places.FLOOR,
    "engine": places.ENGINE,
    "in the engine": places.ENGINE,
    "in or over the open engine": places.ENGINE,
    "missing": places.MISSING,
    "scrap": places.SCRAP,
    "in scrap": places.SCRAP,
    "in the bin": places.SCRAP,
    "new stock": places.NEW_STOCK,
}


class _Named(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def name(self) -> str: ...


class HasPlaces(Protocol):
    """What names places: a teardown."""

    @property
    def spaces(self) -> Mapping[str, Space]: ...
    @property
    def openings(self) -> Mapping[str, Opening]: ...
    @property
    def closures(self) -> Mapping[str, Closure]: ...


def read_place(words: str, here: HasPlaces) -> str:
    """The place that `words` name on this teardown; empty where they name none."""
    said = " ".join(words.split()).casefold()
    if said in _PLAIN:
        return _PLAIN[said]
    for opening_words, make, among in (
        ("fitted to ", places.fitted, here.closures.values()),
        ("lying on ", places.lying_on, here.closures.values()),
        ("on ", places.lying_on, here.closures.values()),
        ("covering ", places.cover_of, here.openings.values()),
        ("in tray ", None, ()),
        ("in ", places.inside, here.spaces.values()),
    ):
        if said.startswith(opening_words):
            name = said.removeprefix(opening_words)
            if make is None:
                return f"{places.TRAY}/{name}"
            known = _known(name, among)
            return make(known) if known else ""
    return ""


def _known(said: str, among: Iterable[_Named]) -> str:
    for one in among:
        if said.removeprefix("the ") in (one.id.casefold(), one.name.casefold()):
            return one.id
    return ""
