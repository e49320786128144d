"""The fastener tables as records, and how a row is found. The text of the tables comes from outside.

Everything inside is millimetre, square millimetre and megapascal, exact as Decimal: 0.438 in is 11.1252 mm.
The tables' files say at their head which standard they follow and how it was read.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from math import pi, sqrt

TABLE_NAMES = ("threads", "hex_heads", "hex_nuts", "washers", "socket_heads", "strength")
_INCH = Decimal("25.4")
_KSI = Decimal("6.894757293168")  # MPa; rounded, see the unit factors
#: No hexagon is wider across its corners than this times its flats.
HEXAGON = Decimal(str(round(2 / sqrt(3), 9)))


@dataclass(frozen=True, slots=True)
class Span:
    """The smallest and the largest size a standard allows, in mm."""

    low: Decimal
    high: Decimal

    @property
    def middle(self) -> float:
        """Half-way between, for computing a mass."""
        return float(self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread. `diameter` and `pitch` in mm, `stress_area` in mm2 as the standard rounds it.

    `per_inch` is its threads per inch, 0 where it is metric.
    """

    system: str
    size: str
    series: str
    diameter: Decimal
    pitch: Decimal
    per_inch: int
    stress_area: Decimal

    @property
    def name(self) -> str:
        """As it is written: M8x1.25, 1/4-28."""
        return f"{self.size}-{self.per_inch}" if self.per_inch else f"{self.size}x{self.pitch.normalize():f}"

    @property
    def pitch_diameter(self) -> float:
        """Basic pitch diameter in mm: a cylinder of it weighs what the thread weighs."""
        return float(self.diameter) - 3 * sqrt(3) / 8 * float(self.pitch)


@dataclass(frozen=True, slots=True)
class Hexagon:
    """A hex head or nut: across flats, across corners, height, all in mm. `flange` is 0 where it has none."""

    standard: str
    size: str
    flats: Span
    corners: Span
    height: Span
    flange: Decimal


@dataclass(frozen=True, slots=True)
class Washer:
    """A plain washer: hole, outside diameter and thickness in mm."""

    standard: str
    size: str
    hole: Span
    outside: Span
    height: Span


@dataclass(frozen=True, slots=True)
class SocketHead:
    """A socket head: diameter (up to the knurled one, and the plain one), height, key and key engagement in mm."""

    standard: str
    size: str
    head: Span
    plain: Decimal
    height: Span
    key: Decimal
    engagement: Decimal


@dataclass(frozen=True, slots=True)
class Strength:
    """A class or grade: proof strength in MPa for diameters over `over` and up to `to`, in mm."""

    standard: str
    name: str
    over: Decimal
    to: Decimal
    proof: Decimal


@dataclass(frozen=True)
class Tables:
    """All fastener tables."""

    threads: tuple[Thread, ...]
    heads: tuple[Hexagon, ...]
    nuts: tuple[Hexagon, ...]
    washers: tuple[Washer, ...]
    sockets: tuple[SocketHead, ...]
    strengths: tuple[Strength, ...]

    def threads_of(self, size: str) -> tuple[Thread, ...]:
        """Every thread of a size ("M8", "1/4", "No.10"), coarse first."""
        return tuple(thread for thread in self.threads if thread.size == size)

    def strength(self, name: str, diameter: Decimal) -> Strength | None:
        """The class or grade of that name where its standard covers the diameter (mm)."""
        fits = (s for s in self.strengths if s.name == name and s.over < diameter <= s.to)
        return next(fits, None)


def read_tables(texts: Mapping[str, str]) -> Tables:
    """The tables from the text of their CSV files, by the names in TABLE_NAMES."""
    return Tables(
        threads=tuple(_thread(row) for row in _rows(texts["threads"])),
        heads=tuple(_hexagon(row) for row in _rows(texts["hex_heads"])),
        nuts=tuple(_hexagon(row) for row in _rows(texts["hex_nuts"])),
        washers=tuple(_washer(row) for row in _rows(texts["washers"])),
        sockets=tuple(_socket(row) for row in _rows(texts["socket_heads"])),
        strengths=tuple(_strength(row) for row in _rows(texts["strength"])),
    )


def proof_load(thread: Thread, strength: Strength) -> float:
    """Proof load in N: stress area times proof strength."""
    return float(thread.stress_area * strength.proof)


def stress_area_by_formula(diameter: float, pitch: float, metric: bool) -> float:
    """Tensile stress area by the standards' formula, in the square of the unit that goes in (ISO 898-1, ASME B1.1)."""
    return pi / 4 * (diameter - (0.9382 if metric else 0.9743) * pitch) ** 2


def _rows(text: str) -> Iterable[dict[str, str]]:
    return csv.DictReader([line for line in text.splitlines() if line and not line.startswith("#")])


def _thread(row: dict[str, str]) -> Thread:
    given, area = Decimal(row["pitch"]), Decimal(row["stress_area"])
    if row["system"] == "metric":
        return Thread("metric", row["size"], row["series"], Decimal(row["diameter"]), given, 0, area)
    diameter = Decimal(row["diameter"]) * _INCH
    return Thread(
        "inch", row["size"], row["series"], diameter, _INCH / given, int(given), area * _INCH * _INCH
    )


def _hexagon(row: dict[str, str]) -> Hexagon:
    flats = _span(row, "flats")
    bound = (flats.high * HEXAGON).quantize(Decimal("0.0001"), ROUND_FLOOR)
    top = _mm(row, "corners_max") if row["corners_max"] else bound
    corners = Span(_mm(row, "corners_min"), top)
    flange = _mm(row, "flange_max") if row["flange_max"] else Decimal(0)
    return Hexagon(row["standard"], row["size"], flats, corners, _span(row, "height"), flange)


def _washer(row: dict[str, str]) -> Washer:
    return Washer(
        row["standard"], row["size"], _span(row, "hole"), _span(row, "outside"), _span(row, "height")
    )


def _socket(row: dict[str, str]) -> SocketHead:
    head, height = _span(row, "head"), _span(row, "height")
    plain, key, engagement = (_mm(row, name) for name in ("plain_max", "key", "engagement"))
    return SocketHead(row["standard"], row["size"], head, plain, height, key, engagement)


def _strength(row: dict[str, str]) -> Strength:
    inch = row["unit"] == "ksi"
    over, to = (Decimal(row[f"diameter_{end}"]) * (_INCH if inch else 1) for end in ("over", "to"))
    return Strength(row["standard"], row["name"], over, to, Decimal(row["proof"]) * (_KSI if inch else 1))


def _span(row: dict[str, str], name: str) -> Span:
    return Span(_mm(row, f"{name}_min"), _mm(row, f"{name}_max"))


def _mm(row: dict[str, str], column: str) -> Decimal:
    return Decimal(row[column]) * (1 if row["size"].startswith("M") else _INCH)
