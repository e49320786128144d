"""The shape of an item, and the smallest outlines it can show to a hole. Lengths in mm.

Every outline here is symmetric about its centre, as is every hole, so an outline that fits a hole at all fits
it centred. A bolt seen from the side is taken as the rectangle about it.

An item that goes straight through shows its whole outline to the hole (`views`). A bolt need not go straight: the
head goes through a slot on its edge, then the shank is swung upright and follows end on, and the whole outline never
lies in the hole at once. Whatever the motion, though, each convex part goes through by itself. So what must fit at
the very least is every part alone, in its own best position (`parts`): the head of a bolt, and its shank. Only where
one of these does not fit is a bolt said not to pass. Between the two it might.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from checklists.sheet import ItemSize


class Disc(NamedTuple):
    """A round outline of diameter `d`."""

    d: float


class Rectangle(NamedTuple):
    """A rectangular outline: its long side and its short one."""

    long: float
    short: float


class Hexagon(NamedTuple):
    """A regular hexagonal outline: its widths across corners and across flats."""

    corners: float
    flats: float


Outline = Disc | Rectangle | Hexagon
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


def body_of(size: ItemSize) -> ItemShape:
    """The body that a sheet's shape stands for."""
    return ItemShape(size.kind, tuple(map(float, size.mm)))


def rectangle(width: float, height: float) -> Rectangle:
    """A rectangle, whichever side is the longer."""
    return Rectangle(max(width, height), min(width, height))


def hexagon(flats: float) -> Hexagon:
    """A regular hexagon by its width across flats."""
    return Hexagon(flats * CORNERS_PER_FLATS, flats)


def views(item: ItemShape) -> tuple[View, ...]:
    """The directions from which an item may go straight through a hole, each by the outlines that have to pass."""
    return _VIEWS[item.kind](*item.mm)


def parts(item: ItemShape) -> tuple[ItemShape, ...]:
    """The convex parts of an item, each of which goes through wherever the item does; most items are one."""
    if item.kind != "bolt":
        return (item,)
    flats, head, shank, length = item.mm
    return ItemShape("nut", (flats, head)), ItemShape("rod", (shank, length))


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
    from_the_side = (rectangle(max(flats, shank), head + length),)
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
