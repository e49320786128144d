"""A fastener found in the tables from its specification: its shape, and what it should weigh with the stated error."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from checklists.workshop.fastener_mass import Mass, bolt_mass, either, nut_mass, socket_mass, stud_mass, washer_mass
from checklists.workshop.fastener_spec import Spec
from checklists.workshop.fasteners import Hexagon, SocketHead, Strength, Tables, Washer
from checklists.workshop.spec_standards import STANDARDS

Row = TypeVar("Row", Hexagon, Washer, SocketHead)


@dataclass(frozen=True, slots=True)
class Fastener:
    """A fastener: the shape its kind has (None where the tables do not hold it), strength, computed mass, and notes.

    `hexagons` are a bolt's head or a nut, as ISO has it first; the older DIN one too where it differs and no standard
    is said. So are `washers` of both series where none is said. `mass` covers them all; it is None where the shape, or
    a bolt's length, is not known.
    """

    spec: Spec
    hexagons: tuple[Hexagon, ...] = ()
    socket: SocketHead | None = None
    washers: tuple[Washer, ...] = ()
    strength: Strength | None = None
    mass: Mass | None = None
    notes: tuple[str, ...] = ()

    @property
    def hexagon(self) -> Hexagon | None:
        """The head or nut that is meant as far as is said; where nothing is, the one by ISO."""
        return self.hexagons[0] if self.hexagons else None

    @property
    def washer(self) -> Washer | None:
        """The washer that is meant as far as is said; where nothing is, the smaller."""
        return self.washers[0] if self.washers else None


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
        return _washer(spec, tables, notes)
    mass = (
        stud_mass(spec.thread, spec.length) if spec.kind == "stud" and spec.thread and spec.length else None
    )
    return Fastener(spec, strength=strength, mass=mass, notes=notes)


def _washer(spec: Spec, tables: Tables, notes: tuple[str, ...]) -> Fastener:
    """A metric washer stands in one series; an inch one of no stated series is a small (SAE) or a large (USS) one."""
    names = [f"ASME B18.21.1 {series}" for series in ((spec.series,) if spec.series else ("SAE", "USS"))]
    found = tuple(dict.fromkeys(row for name in names if (row := _row(spec, tables.washers, (name,)))))
    notes += _missing(spec, found[0] if found else None)
    if len(found) > 1:
        small, large = (f"{float(row.outside.high):.3g} mm" for row in found)
        notes += (f"{small} across in the SAE series; in the USS series it is {large}: measure it, or say SAE or USS.",)
    mass = either(*map(washer_mass, found)) if found else None
    return Fastener(spec, washers=found, mass=mass, notes=notes)


def _with_hexagon(spec: Spec, tables: Tables, strength: Strength | None, notes: tuple[str, ...]) -> Fastener:
    rows = tables.heads if spec.kind == "hex bolt" else tables.nuts
    wanted = _wanted(spec)
    meant = _row(spec, rows, wanted)
    older = () if _settled(spec) else tuple(row for row in rows if row.size == spec.size and row.standard == wanted[-1])
    found = tuple(dict.fromkeys((*((meant,) if meant else ()), *older)))
    notes += _missing(spec, meant) + _other_sizes(*found)
    weighs = [mass for row in found if (mass := _mass_of(row, spec)) is not None]
    return Fastener(spec, hexagons=found, strength=strength, mass=either(*weighs) if weighs else None, notes=notes)


def _mass_of(row: Hexagon, spec: Spec) -> Mass | None:
    if row.flange or not spec.thread:
        return None
    if spec.kind == "hex nut":
        return nut_mass(row, spec.thread)
    return bolt_mass(row, spec.thread, spec.length, spec.standard) if spec.length else None


def _settled(spec: Spec) -> bool:
    """Whether a standard of this very kind is said; one of strength or of a thread says nothing of its sizes."""
    return STANDARDS.get(spec.standard) == spec.kind


def _wanted(spec: Spec) -> tuple[str, ...]:
    """The standards whose row is meant, the first wish first; a DIN row is held only where it differs from ISO."""
    bolt = spec.kind == "hex bolt"
    if spec.flange:
        return ("EN 1665",) if bolt else ("EN 1661",)
    iso, din = ("ISO 4014/4017", "DIN 931/933") if bolt else ("ISO 4032", "DIN 934")
    if spec.thin and not bolt:
        iso, din = "ISO 4035", "DIN 439"
    if not _settled(spec):
        return iso, din
    return (din, iso) if spec.standard.startswith("DIN") else (iso,)


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


def _other_sizes(*found: Hexagon) -> tuple[str, ...]:
    """A note where a fastener of no stated standard has another width to the older DIN one, or else another height."""
    if len(found) < 2:
        return ()
    iso, din = found
    if iso.flats.high != din.flats.high:
        other = f"to the older DIN standard it is {din.flats.high:f} mm"
        return (f"{iso.flats.high:f} mm across flats by ISO; {other}: measure it.",)
    other = f"to the older DIN standard {din.height.high:f} mm"
    return (f"Up to {iso.height.high:f} mm thick by ISO; {other}: measure it.",)


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
