"""A rocker cover as somebody types it in who starts from a blank sheet."""

from __future__ import annotations

from decimal import Decimal

from screens.at_work import AtWork

from checklists.sheet import Closure, Fastener, ItemSize, Part

#: The size of what is not typed comes from the standard's tables.
#: Nothing says whether the head is a hexagon or a socket head: the body lies within both.
M6 = ItemSize("nut", (Decimal("8.46"), Decimal("3.85")))
ROCKER = Closure(
    "rocker-cover", "Rocker cover", (Fastener("m6-bolt", "M6 bolt", 8, M6), Fastener("m6-bolt-2", "M6 bolt", 2, M6)),
    (Part("gasket", "Gasket", 1),), "10 N.m", (), True,
)  # fmt: skip


def fill_in_rocker_cover(work: AtWork) -> None:
    work.types("Name of the closure", "Rocker cover")
    work.types("Specification", "M6 bolt")
    work.types("How many", "8", nth=0)
    work.tap("One more kind of fastener")
    work.types("Specification", "M6 bolt", nth=1)
    work.types("How many", "2", nth=1)
    work.types("Part", "Gasket")
    work.types("How many", "1", nth=2)
    work.types("Torque, the maker's figure (may be left empty)", "10 N.m")


def add_first_opening(work: AtWork) -> None:
    work.types("Name of the opening", "Top of the head")
    work.types("Name of the space", "Valve gear")
    work.types("What a stray item does there", "jams a valve")
    work.tap("Rectangle")
    work.types("Long way, mm", "400")
    work.types("Short way, mm", "120,5")
    work.types("How it is covered", "clean cloth")
