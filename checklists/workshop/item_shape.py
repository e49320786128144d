"""The simple body of a fastener, by its specification, for asking what it passes through.

Every body lies within the real one: the smallest sizes the standard allows, a round head by the hexagon inside it, a
flanged one without its flange, a bolt of unknown length by its head alone; the smaller of the ISO and the older DIN
one where no standard is said. So it may be said to pass where it does
not, never the other way round.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import ROUND_FLOOR, Decimal

from checklists.sheet import ItemSize
from checklists.workshop.fastener import Fastener, find_fastener
from checklists.workshop.fastener_spec import Kind, Spec, read_spec
from checklists.workshop.fasteners import Tables

_STEP = Decimal("0.01")
#: A hexagon inside a circle has flats this much of its diameter.
_HEXAGON_INSIDE = Decimal("0.866")
#: Some shanks are turned down to the thread's pitch diameter; where the thread is not settled, so much is allowed.
_THIN_SHANK = Decimal("0.85")


def shapes_of(specs: Iterable[str], tables: Tables) -> dict[str, ItemSize]:
    """The shapes of those specifications that the tables settle. One of a shape they do not hold is left out."""
    found = {spec: shape_of_spec(spec, tables) for spec in dict.fromkeys(specs)}
    return {spec: shape for spec, shape in found.items() if shape is not None}


def shape_of_spec(text: str, tables: Tables) -> ItemSize | None:
    """The shape that a specification as typed settles; None where it does not, or is not understood."""
    reading = read_spec(text, tables)
    if reading.spec is None or not reading.understood:
        return None
    shape = shape_of(find_fastener(reading.spec, tables), tables)
    for kind in reading.spec.could_be:
        shape = shape and _smaller(shape, _as_if(reading.spec, kind, tables))
    return shape


def _as_if(spec: Spec, kind: Kind, tables: Tables) -> ItemSize | None:
    """The shape it has if it is of that kind; its flange, if it has one, comes on top of that."""
    return shape_of(find_fastener(replace(spec, kind=kind, flange=False, thin=False), tables), tables)


def _smaller(shape: ItemSize, other: ItemSize | None) -> ItemSize | None:
    """The smaller of each size, or the one without a head: which of them it is was not said.

    None where the tables do not hold the other.
    """
    if other is None or other.kind == "rod":
        return other
    return ItemSize(shape.kind, tuple(map(min, shape.mm, other.mm)))


def shape_of(fastener: Fastener, tables: Tables) -> ItemSize | None:
    """The shape of a fastener; None where the tables do not hold it."""
    spec = fastener.spec
    if fastener.washers:
        outside = min(row.outside.low for row in fastener.washers)
        return _size("washer", outside, min(row.height.low for row in fastener.washers))
    if fastener.socket:
        return _headed(fastener, tables, fastener.socket.head.low * _HEXAGON_INSIDE, fastener.socket.height.low)
    if fastener.hexagons:
        flats = min(row.flats.low for row in fastener.hexagons)
        height = min(row.height.low for row in fastener.hexagons)
        return _size("nut", flats, height) if spec.kind == "hex nut" else _headed(fastener, tables, flats, height)
    if spec.kind == "stud" and spec.length:
        return _size("rod", _shank(spec, tables), spec.length)
    return None


def _headed(fastener: Fastener, tables: Tables, flats: Decimal, height: Decimal) -> ItemSize:
    if not fastener.spec.length:
        return _size("nut", flats, height)
    return _size("bolt", flats, height, _shank(fastener.spec, tables), fastener.spec.length)


def _shank(spec: Spec, tables: Tables) -> Decimal:
    if spec.thread:
        return Decimal(spec.thread.pitch_diameter)
    return tables.threads_of(spec.size)[0].diameter * _THIN_SHANK


def _size(kind: str, *mm: Decimal) -> ItemSize:
    return ItemSize(kind, tuple(size.quantize(_STEP, ROUND_FLOOR) for size in mm))
