"""The shape of an item, and the smallest outlines it can show to a hole. Lengths in mm.

Every outline here is symmetric about its centre, as is every hole, so an outline that fits a hole at all fits
it centred. Where an item has no such outline (a bolt seen from the side), outlines that lie within it stand for
it: it may then be said to pass where it does not, never the other way round.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, pi, sin

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Disc:
    """A round outline of diameter `d`."""

    d: float


@dataclass(frozen=True, slots=True)
class Polygon:
    """A convex outline, symmetric about the origin, by half of its corners (the other half lies opposite)."""

    corners: tuple[Point, ...]


Outline = Disc | Polygon
#: Outlines that must all pass at once, as seen from one direction.
View = tuple[Outline, ...]

#: What each kind of item is measured by.
ITEM_KINDS = {
    "ball": ("diameter",),
    "rod": ("diameter", "length"),
    "washer": ("outside diameter", "thickness"),
    "nut": ("across flats", "thickness"),
    "bolt": ("across flats", "head height", "shank diameter", "length under the head"),
    "box": ("length", "width", "height"),
    "wire": ("diameter", "length"),
    "soft": ("diameter when wrung tight",),
}

#: A regular hexagon's corners stand this much further apart than its flats.
CORNERS_PER_FLATS = 2 / 3**0.5


@dataclass(frozen=True, slots=True)
class ItemShape:
    """An item as a simple body: its kind and the sizes that ITEM_KINDS names, in mm."""

    kind: str
    mm: tuple[float, ...]

    def __post_init__(self) -> None:
        if self.kind not in ITEM_KINDS or len(self.mm) != len(ITEM_KINDS[self.kind]) or min(self.mm) <= 0:
            raise ValueError(f"{self.kind} with {self.mm} is not an item shape; see ITEM_KINDS")

    def scaled(self, factor: float) -> ItemShape:
        """A similar item, `factor` times as large."""
        return ItemShape(self.kind, tuple(size * factor for size in self.mm))


def rectangle(width: float, height: float) -> Polygon:
    """A rectangle about the origin."""
    return Polygon(((width / 2, height / 2), (width / 2, -height / 2)))


def hexagon(flats: float) -> Polygon:
    """A regular hexagon about the origin, by its width across flats."""
    radius = flats * CORNERS_PER_FLATS / 2
    return Polygon(tuple((radius * cos(k * pi / 3), radius * sin(k * pi / 3)) for k in range(3)))


def views(item: ItemShape) -> tuple[View, ...]:
    """The directions from which an item may go through a hole, each by the outlines that then have to pass."""
    return _VIEWS[item.kind](*item.mm)


def _ball(d: float) -> tuple[View, ...]:
    return ((Disc(d),),)


def _rod(d: float, length: float) -> tuple[View, ...]:
    return (Disc(d),), (rectangle(d, length),)


def _wire(d: float, length: float) -> tuple[View, ...]:
    # It bends, so only its thickness stands in the way.
    return ((Disc(d),),)


def _nut(flats: float, thickness: float) -> tuple[View, ...]:
    return (hexagon(flats),), (rectangle(flats, thickness),)


def _bolt(flats: float, head: float, shank: float, length: float) -> tuple[View, ...]:
    from_the_end = (hexagon(flats), Disc(shank))
    from_the_side = (rectangle(flats, head), rectangle(shank, head + length))
    return from_the_end, from_the_side


def _box(*sides: float) -> tuple[View, ...]:
    a, b, c = sorted(sides)
    return (rectangle(a, b),), (rectangle(a, c),), (rectangle(b, c),)


_VIEWS: dict[str, Callable[..., tuple[View, ...]]] = {
    "ball": _ball,
    "rod": _rod,
    "washer": _rod,
    "nut": _nut,
    "bolt": _bolt,
    "box": _box,
    "wire": _wire,
    "soft": _ball,
}
