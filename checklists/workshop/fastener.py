"""A fastener found in the tables from its specification: its shape, and what it should weigh with the stated error."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from checklists.workshop.fastener_mass import Mass, bolt_mass, nut_mass, socket_mass, stud_mass, washer_mass
from checklists.workshop.fastener_spec import Spec
from checklists.workshop.fasteners import Hexagon, SocketHead, Strength, Tables, Washer

Row = TypeVar("Row", Hexagon, Washer, SocketHead)


@dataclass(frozen=True, slots=True)
class Fastener:
    """A fastener: the shape its kind has (None where the tables do not hold it), strength, computed mass, and notes.

    `hexagon` is a bolt's head or a nut. `mass` is None where the shape, or a bolt's length, is not known.
    """

    spec: Spec
    hexagon: Hexagon | None = None
    socket: SocketHead | None = None
    washer: Washer | None = None
    strength: Strength | None = None
    mass: Mass | None = None
    notes: tuple[str, ...] = ()


def find_fastener(spec: Spec, tables: Tables) -> Fastener:
    """The fastener that a specification means, as far as the tables hold it."""
    strength, notes = _strength(spec, tables)
    if spec.other_shape:
        return Fastener(spec, strength=strength, notes=notes)
    if spec.kind in ("hex bolt", "hex nut"):
        return _with_hexagon(spec, tables, strength, notes)
    if spec.kind == "socket head":
        socket = _row(spec, tables.sockets, ())
        mass = (
            socket_mass(socket, spec.thread, spec.length) if socket and spec.thread and spec.length else None
        )
        return Fastener(
            spec, socket=socket, strength=strength, mass=mass, notes=notes + _missing(spec, socket)
        )
    if spec.kind == "washer":
        washer = _row(spec, tables.washers, ("ASME B18.21.1 USS" if spec.wide else "ASME B18.21.1 SAE",))
        mass = washer_mass(washer) if washer else None
        return Fastener(spec, washer=washer, mass=mass, notes=notes + _missing(spec, washer))
    mass = (
        stud_mass(spec.thread, spec.length) if spec.kind == "stud" and spec.thread and spec.length else None
    )
    return Fastener(spec, strength=strength, mass=mass, notes=notes)


def _with_hexagon(spec: Spec, tables: Tables, strength: Strength | None, notes: tuple[str, ...]) -> Fastener:
    bolt = spec.kind == "hex bolt"
    rows = tables.heads if bolt else tables.nuts
    found = _row(spec, rows, _wanted(spec))
    notes += _missing(spec, found) + _other_width(spec, rows, found)
    mass = None
    if found and not found.flange and spec.thread:
        mass = nut_mass(found, spec.thread) if not bolt else None
        if bolt and spec.length:
            mass = bolt_mass(found, spec.thread, spec.length, spec.standard)
    return Fastener(spec, hexagon=found, strength=strength, mass=mass, notes=notes)


def _wanted(spec: Spec) -> tuple[str, ...]:
    """The standards whose row is meant, the first wish first; a DIN row is held only where it differs from ISO."""
    bolt, din = spec.kind == "hex bolt", spec.standard.startswith("DIN")
    if spec.flange:
        return ("EN 1665",) if bolt else ("EN 1661",)
    if bolt:
        return ("DIN 931/933", "ISO 4014/4017") if din else ("ISO 4014/4017",)
    if spec.thin:
        return ("DIN 439", "ISO 4035") if din else ("ISO 4035",)
    return ("DIN 934", "ISO 4032") if din else ("ISO 4032",)


def _row(spec: Spec, rows: Sequence[Row], wanted: tuple[str, ...]) -> Row | None:
    """The row of that size and the first of the wanted standards; inch sizes stand in one series only."""
    of_size = [row for row in rows if row.size == spec.size]
    for standard in wanted:
        for row in of_size:
            if row.standard == standard:
                return row
    if spec.flange or spec.thin:
        return None
    inch = not spec.size.startswith("M")
    single = [row for row in of_size if inch or not wanted or isinstance(row, Washer)]
    return single[0] if single else None


def _other_width(spec: Spec, rows: Sequence[Hexagon], found: Hexagon | None) -> tuple[str, ...]:
    """A note where older DIN fasteners of this size have another width across flats and no standard is said."""
    if spec.standard or not found or spec.flange:
        return ()
    others = {row.flats.high for row in rows if row.size == spec.size and row.standard.startswith("DIN")}
    wider = sorted(others - {found.flats.high})
    if not wider:
        return ()
    return (
        f"{found.flats.high:f} mm across flats by ISO; to the older DIN standard it is {wider[0]:f} mm: measure it.",
    )


def _missing(spec: Spec, row: object) -> tuple[str, ...]:
    if row is not None:
        return ()
    flanged = "flanged " if spec.flange else "thin " if spec.thin else ""
    return (f"The tables hold no {flanged}{spec.kind} of size {spec.size}: measure it.",)


def _strength(spec: Spec, tables: Tables) -> tuple[Strength | None, tuple[str, ...]]:
    if not spec.strength or spec.kind in ("hex nut", "washer"):
        return None, ()
    diameter = tables.threads_of(spec.size)[0].diameter
    found = tables.strength(spec.strength, diameter)
    if found is None:
        return None, (f"The standard gives no proof strength for {spec.strength} at {spec.size}.",)
    return found, ()
