"""Where an item can be, written as short text that reads well in any SQLite tool.

`fitted/<closure>`  fastened where it belongs        `stores`      put away, where it lives
`tray`, `tray/<x>`  off the machine, in the tray     `bench`       laid out, in use or too big for a tray
`floor`             fallen or put there, off the machine        `engine`  in or over the open engine, spot not said
`engine/<space>`    in that space                    `on/<closure>` lying loose on that closure
`cover/<opening>`   protecting that opening          `missing`     nobody knows
`scrap`             thrown away, on record           `new stock`   fresh from the packet
`origin`            where a line's opening quantity comes from (the only place that runs below zero)
`converted`         what became something else (a torn rag, a broken part)
"""

from collections.abc import Collection

STORES = "stores"
TRAY = "tray"
BENCH = "bench"
FLOOR = "floor"
ENGINE = "engine"
MISSING = "missing"
SCRAP = "scrap"
NEW_STOCK = "new stock"
ORIGIN = "origin"
CONVERTED = "converted"

#: Families whose places name something of the sheet after the stroke.
_NAMED = ("fitted", "engine", "on", "cover", "tray")
_PLAIN = (STORES, TRAY, BENCH, FLOOR, ENGINE, MISSING, SCRAP, NEW_STOCK, ORIGIN, CONVERTED)

#: Off the machine and not yet home again: these make up the figure "out".
OUT_FAMILIES = frozenset({TRAY, BENCH, FLOOR})
#: In, on or over the open engine.
ENGINE_FAMILIES = frozenset({ENGINE, "on", "cover"})
#: An item here asks for nothing more before the machine closes.
RESTING_FAMILIES = frozenset({"fitted", STORES, SCRAP, NEW_STOCK, CONVERTED})


def fitted(closure: str) -> str:
    """The place of everything fastened to `closure`."""
    return "fitted/" + closure


def inside(space: str) -> str:
    """The place of an item known to be in `space`."""
    return "engine/" + space


def lying_on(closure: str) -> str:
    """The place of an item lying loose on `closure`."""
    return "on/" + closure


def cover_of(opening: str) -> str:
    """The place of the cover that protects `opening`."""
    return "cover/" + opening


def family(place: str) -> str:
    """What sort of place this is: the part before the stroke."""
    return place.partition("/")[0]


def named(place: str) -> str:
    """The space, opening, closure or tray a place names; empty where it names none."""
    return place.partition("/")[2]


def is_inside(place: str, spaces: Collection[str]) -> bool:
    """Whether a place is one of these spaces, by its name."""
    return family(place) == ENGINE and named(place) in spaces


def is_well_formed(place: str) -> bool:
    """Whether `place` is written as this page says."""
    if place in _PLAIN:
        return True
    return family(place) in _NAMED and bool(named(place))
