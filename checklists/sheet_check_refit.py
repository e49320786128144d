"""What is wrong with the measures on a sheet: shapes of items, limits, positions of fasteners, passes.

Its parts of the workshop are imported only where a sheet says such a thing: few do, and the app's start waits for none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from checklists.sheet import Closure, ItemSize, Limit
from checklists.sheet_fault import choices, near_miss, shown

Finding = tuple[str, str]

#: Nobody numbers more fasteners than this on one flange.
MOST_POSITIONS = 200


def size_values(path: str, size: ItemSize | None) -> Iterator[Finding]:
    """The kind of an item's shape, and how many sizes it has."""
    if size is None:
        return
    from checklists.whereabouts.items import ITEM_KINDS

    if size.kind not in ITEM_KINDS:
        guess = near_miss(size.kind, ITEM_KINDS)
        yield f"{path}.shape.kind", f"{shown(size.kind)} is not known here; use {choices(ITEM_KINDS)}{guess}"
    elif len(size.mm) != len(ITEM_KINDS[size.kind]):
        wanted = ", ".join(ITEM_KINDS[size.kind])
        yield f"{path}.shape.mm", f"a {size.kind} is measured by {wanted}, in mm; number given here: {len(size.mm)}"


def refit_values(path: str, closure: Closure) -> Iterator[Finding]:
    """Limits, positions and passes of a closure."""
    for index, limit in enumerate(closure.limits):
        yield from _limit_values(f"{path}.limit[{index}]", limit)
    yield from _positions(f"{path}.positions", closure)
    if closure.passes:
        yield from _passes(f"{path}.passes", closure)


def _limit_values(path: str, limit: Limit) -> Iterator[Finding]:
    from checklists.workshop.limits import Limits
    from checklists.workshop.units import Figure, read_figure

    ends: list[Figure | None] = []
    for key, text in (("least", limit.least), ("most", limit.most)):
        figure = read_figure(text, "length") if text else None
        if figure is not None and not isinstance(figure, Figure):
            yield f"{path}.{key}", figure.words
            return
        ends.append(figure)
    for fault in Limits(*ends).faults():
        yield path, fault


def _positions(path: str, closure: Closure) -> Iterator[Finding]:
    fasteners = sum(fastener.quantity for fastener in closure.fasteners)
    places = closure.positions
    if places and len(places) > min(fasteners, MOST_POSITIONS):
        yield path, f"{len(places)} positions are too many; the most here is {min(fasteners, MOST_POSITIONS)}"
        return
    if not all(end.is_finite() and abs(end) <= 100_000 for place in places for end in place):
        yield path, "a position is two numbers of at most 100000"
    elif twice := _twice(places):
        yield path, f"two fasteners sit at [{twice[0]}, {twice[1]}]; give each its own place"


def _twice(places: Sequence[tuple[Decimal, Decimal]]) -> tuple[Decimal, Decimal] | None:
    return next((place for index, place in enumerate(places) if place in places[:index]), None)


def _passes(path: str, closure: Closure) -> Iterator[Finding]:
    from checklists.workshop.tightening import pass_faults

    if not closure.positions:
        yield path, "passes go with positions: say where each fastener sits"
    for fault in pass_faults(closure.passes):
        yield path, fault
