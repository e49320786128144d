"""The way of a blind count: the places in their fixed order, each with the spots it takes in. It knows no figures.

The order is near the opening, tray, bench, bin, floor (practice of counting, from memory); then what is put away.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from checklists import places
from checklists.exposure import SEALED
from checklists.state import Teardown


class Stop(NamedTuple):
    """One place of the walk: how it is called, and the places of the tally that belong to it."""

    name: str
    spots: tuple[str, ...]


def stops(t: Teardown) -> tuple[Stop, ...]:
    """Every place that a blind count goes to, whether or not the tally has anything there."""
    return (
        Stop("in, on and over the engine", _near(t)),
        *(Stop(t.say_place(tray).replace("in ", "", 1), (tray,)) for tray in _trays(t)),
        Stop("the bench", (places.BENCH,)),
        Stop("the scrap bin", (places.SCRAP,)),
        Stop("the floor", (places.FLOOR,)),
        Stop("where things are put away", (places.STORES,)),
    )


def _near(t: Teardown) -> tuple[str, ...]:
    """The spots near the opening: covers, spot not said, open spaces, loose on a closure."""
    open_ones = [opening for opening in t.openings if t.opening_states[opening].state != SEALED]
    bare = t.exposure.not_sealed()
    spots = [*map(places.cover_of, open_ones), places.ENGINE]
    spots += [places.inside(space) for space in t.spaces if space in bare]
    spots += map(places.lying_on, t.closures)
    # An item can be on the books where all is sealed, once two phones met: it is looked for there too.
    spots += sorted({place for _, place in t.balances if places.family(place) in places.ENGINE_FAMILIES})
    return tuple(dict.fromkeys(spots))


def _trays(t: Teardown) -> list[str]:
    """The tray, and each named one that was ever used."""
    named = {place for _, place in t.moved if places.family(place) == places.TRAY}
    return sorted({places.TRAY} | named)


def relief_stops(t: Teardown) -> tuple[Stop, ...]:
    """The walk of whoever takes the job over: everywhere that something away from home can lie."""
    return tuple(stop for stop in stops(t) if not {places.STORES, places.SCRAP} & set(stop.spots))


def walked(walk: Iterable[Stop]) -> tuple[str, ...]:
    """All spots of a walk, one after the other."""
    return tuple(spot for stop in walk for spot in stop.spots)


def in_order(t: Teardown, pairs: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Lines and places as the walk comes to them; the lines of a place as the teardown names them."""
    spot = {place: number for number, place in enumerate(walked(stops(t)))}
    line = {name: number for number, name in enumerate(t.lines)}
    return tuple(sorted(pairs, key=lambda pair: (spot.get(pair[1], len(spot)), pair[1], line.get(pair[0], -1))))
