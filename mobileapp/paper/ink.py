"""What can be printed, as plain records: placed in millimetres from the left and the top. Shades: 0 black, 1 white."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple


class Text(NamedTuple):
    """One line of text; `y` is its baseline."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    shade: float = 0.0


class Slanted(NamedTuple):
    """A text turned about its middle, for the draft mark."""

    x: float
    y: float
    text: str
    size: float
    angle: float
    shade: float


class Bar(NamedTuple):
    """A filled box."""

    x: float
    y: float
    width: float
    height: float
    shade: float = 0.0


class Frame(NamedTuple):
    """The outline of a box; `dash` mm long pieces where it is dashed."""

    x: float
    y: float
    width: float
    height: float
    thick: float = 0.3
    dash: float = 0.0


class Rule(NamedTuple):
    """A straight line."""

    x: float
    y: float
    to_x: float
    to_y: float
    thick: float = 0.2
    shade: float = 0.0


class Photo(NamedTuple):
    """A prepared photo, by its hash."""

    x: float
    y: float
    width: float
    height: float
    sha: str


class Bookmark(NamedTuple):
    """An entry of the reader's table of contents."""

    x: float
    y: float
    title: str


Ink = Text | Slanted | Bar | Frame | Rule | Photo | Bookmark


@dataclass(slots=True)
class Slab:
    """A piece of the sheet that stays on one page. `inks` are placed from its own top left corner.

    `keep`: it never stands last on a page. `head`: what is said again above it where it comes first on a page.
    """

    height: float
    inks: list[Ink] = field(default_factory=list)
    keep: bool = False
    head: Slab | None = None


def moved(ink: Ink, x: float, y: float) -> Ink:
    """The same, so much further right and down."""
    if isinstance(ink, Rule):
        return ink._replace(x=ink.x + x, y=ink.y + y, to_x=ink.to_x + x, to_y=ink.to_y + y)
    return ink._replace(x=ink.x + x, y=ink.y + y)


def stacked(slabs: list[Slab]) -> Slab:
    """Slabs one below the other as one that is not parted."""
    height, inks = 0.0, []
    for slab in slabs:
        inks += [moved(ink, 0, height) for ink in slab.inks]
        height += slab.height
    return Slab(height, inks)
