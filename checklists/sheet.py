"""The teardown sheet as frozen records: what there is to open, and what must be counted back.

A sheet is plain data. `sheet_reading` makes one from TOML and finds its
faults; `sheet_plain` takes it to a journal body and back.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from checklists import places

#: The clear size behind a cover is not known: whatever the thing in front is, once it is off anything might pass.
BEHIND_A_COVER = "behind a cover"
#: The clear shapes, each with the number of its sizes.
SHAPES = {"circle": 1, "rectangle": 2, "slot": 2, "oval": 2, BEHIND_A_COVER: 0}
LINE_KINDS = ("fastener", "rag", "cover", "tool", "part", "personal item", "consumable")
#: How an item gets along an inner passage.
WAYS = ("falls", "blows", "drains")


@dataclass(frozen=True, slots=True)
class Shape:
    """A clear shape: circle (diameter), rectangle, slot or oval (long and short way), all in mm; or behind a cover."""

    kind: str
    mm: tuple[Decimal, ...]

    def __str__(self) -> str:
        if not self.mm:
            return f"{self.kind}, size not known"
        sizes = f"{' x '.join(str(size) for size in self.mm)} mm"
        return f"round, {sizes}" if self.kind == "circle" else f"{self.kind} {sizes}"


@dataclass(frozen=True, slots=True)
class ItemSize:
    """An item's simple shape: a kind of `whereabouts.items.ITEM_KINDS` with the sizes that belong to it, in mm."""

    kind: str
    mm: tuple[Decimal, ...]

    def __str__(self) -> str:
        return f"{self.kind} {' x '.join(str(size) for size in self.mm)} mm"


@dataclass(frozen=True, slots=True)
class Limit:
    """A measurement that a closure demands: the least and the most allowed, as typed with their unit, or empty."""

    id: str
    name: str
    least: str
    most: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard that is read and acknowledged before work."""

    id: str
    text: str


@dataclass(frozen=True, slots=True)
class Space:
    """An inside where a stray item does harm; `harm` says which."""

    id: str
    name: str
    harm: str


@dataclass(frozen=True, slots=True)
class Passage:
    """A one-way inner way from one space to another. `clear` is None when its size is not known."""

    source: str
    target: str
    clear: Shape | None
    way: str


@dataclass(frozen=True, slots=True)
class Opening:
    """A way into `space`, sealed by `closure` when that is fitted. `cover` says how to protect it."""

    id: str
    name: str
    space: str
    clear: Shape
    closure: str
    cover: str


@dataclass(frozen=True, slots=True)
class Fastener:
    """Fasteners of one specification on one closure."""

    id: str
    spec: str
    quantity: int
    shape: ItemSize | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A part that comes off with a closure (a gasket, a bracket, the cover itself)."""

    id: str
    name: str
    quantity: int
    shape: ItemSize | None = None


@dataclass(frozen=True, slots=True)
class Closure:
    """The part that seals openings when refitted.

    `torque` is the maker's figure as typed, with its unit, or empty. `A.lies_over = ('B',)` says that A sits
    on top of B: A must be off before B can be lifted, and B must be closed again before A goes back.
    `positions` are where its fasteners sit, x to the right and y up (`y_down`: as on a photo), in one unit throughout;
    `passes` the shares of the torque in percent, each higher than the one before.
    """

    id: str
    name: str
    fasteners: tuple[Fastener, ...]
    parts: tuple[Part, ...]
    torque: str
    lies_over: tuple[str, ...]
    second_count: bool
    limits: tuple[Limit, ...] = ()
    positions: tuple[tuple[Decimal, Decimal], ...] = ()
    y_down: bool = False
    passes: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One kind of item with a quantity, and the place where it is at home. `shape` is None where it is not known."""

    id: str
    name: str
    kind: str
    quantity: int
    home: str
    shape: ItemSize | None = None


@dataclass(frozen=True)
class Sheet:
    """The plan of a teardown."""

    name: str
    machine: str
    cautions: tuple[Caution, ...] = ()
    spaces: tuple[Space, ...] = ()
    passages: tuple[Passage, ...] = ()
    openings: tuple[Opening, ...] = ()
    closures: tuple[Closure, ...] = ()
    items: tuple[Line, ...] = ()

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """Every line the sheet counts: fasteners and parts of closures first, then the expected items."""
        return tuple(line for closure in self.closures for line in closure_lines(closure)) + self.items


def line_id(closure: str, item: str) -> str:
    """The line of a fastener or part: `<closure>.<item>`, so that like bolts on two closures stay apart."""
    return f"{closure}.{item}"


def closure_lines(closure: Closure) -> tuple[Line, ...]:
    """The lines fitted to `closure`: its fasteners, then its parts."""
    home = places.fitted(closure.id)
    fasteners = [
        Line(line_id(closure.id, f.id), f.spec, "fastener", f.quantity, home, f.shape) for f in closure.fasteners
    ]
    parts = [Line(line_id(closure.id, p.id), p.name, "part", p.quantity, home, p.shape) for p in closure.parts]
    return tuple(fasteners + parts)


def with_shapes(sheet: Sheet, shapes: Mapping[str, ItemSize]) -> Sheet:
    """`sheet` with the shapes of fasteners by their specification, where it does not say one itself."""
    closures = tuple(
        replace(c, fasteners=tuple(replace(f, shape=f.shape or shapes.get(f.spec)) for f in c.fasteners))
        for c in sheet.closures
    )
    return replace(sheet, closures=closures)


def merge_sheets(sheet: Sheet, part: Sheet) -> Sheet:
    """`sheet` with everything that `part` adds. The first name and machine that say something stand."""
    return Sheet(
        name=sheet.name or part.name,
        machine=sheet.machine or part.machine,
        cautions=sheet.cautions + part.cautions,
        spaces=sheet.spaces + part.spaces,
        passages=sheet.passages + part.passages,
        openings=sheet.openings + part.openings,
        closures=sheet.closures + part.closures,
        items=sheet.items + part.items,
    )


def laid_over(sheet: Sheet, pairs: Iterable[tuple[str, str]]) -> Sheet:
    """`sheet` with each first closure of a pair lying over the second as well."""
    beneath: dict[str, list[str]] = {}
    for above, below in pairs:
        beneath.setdefault(above, []).append(below)
    closures = tuple(
        replace(c, lies_over=tuple(dict.fromkeys((*c.lies_over, *beneath.get(c.id, ()))))) for c in sheet.closures
    )
    return replace(sheet, closures=closures) if beneath else sheet
