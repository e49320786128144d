"""What is measured, weighed, tightened and searched in a teardown, as frozen facts; `facts` names them with the rest.

Figures are kept as typed, with their unit: 0.525 in stays 0.525 in, with its three decimals.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from checklists.movement import Move


class Gauge(NamedTuple):
    """An instrument: its name, the step it reads to, and the largest error it may have, both as typed with a unit.

    Where no error is said, it is taken to be as large as one step.
    """

    name: str
    step: str
    error: str = ""


@dataclass(frozen=True, slots=True)
class Searched:
    """One place was searched for a missing item: a space of the sheet, or a spot in words, by which method.

    Where it was `found`, `moves` take it out of missing to where it was put: both are on record, or neither. `reached`
    is False where nobody could look into the place; `seen` then says what was in the way.
    """

    kind: ClassVar[str] = "searched"
    line: str
    where: str
    method: str
    found: bool
    seen: str
    photo: str = ""
    moves: tuple[Move, ...] = ()
    reached: bool = True


@dataclass(frozen=True, slots=True)
class PartBroken:
    """A part is broken, and its pieces must add up: what the whole should weigh, and on what ground.

    `line` is what broke. `before` says that it was broken before anything was opened. `mass` is that of an
    identical part weighed on `gauge`, or worked out from dimensions; `likeness` how far either can be off the part that
    broke, as a mass. `smallest` is the smallest piece that does harm, as a ball's diameter. `length` may be left empty;
    `length_within` is how far it can be off, either way (`broken_parts.LENGTH_WITHIN` where not said). `density` is
    its material's (steel's where not said), `worked_out` the sizes from which a mass from dimensions was worked out.
    `another` says that one more of the line broke: all their pieces must add up to all of them. Else what was said of
    the last one is said anew.
    """

    kind: ClassVar[str] = "part broken"
    line: str
    before: bool
    basis: str
    mass: str
    likeness: str
    smallest: str
    gauge: Gauge
    length: str = ""
    length_within: str = ""
    density: str = ""
    worked_out: str = ""
    another: bool = False


@dataclass(frozen=True, slots=True)
class PieceWeighed:
    """A piece of a broken part, weighed and measured. The same piece weighed again stands for the time before."""

    kind: ClassVar[str] = "piece weighed"
    line: str
    piece: str
    mass: str
    length: str
    gauge: Gauge
    photo: str
    length_within: str = ""


@dataclass(frozen=True, slots=True)
class WeighCounted:
    """So many of a line are at a place, counted by weight: a confirmation of the count, never a movement.

    `sample` is what `pieces` counted ones weigh together; `scatter` how much single ones differ, in percent.
    """

    kind: ClassVar[str] = "counted by weight"
    line: str
    place: str
    number: int
    gross: str
    tare: str
    sample: str
    pieces: int
    scatter: str
    gauge: Gauge


@dataclass(frozen=True, slots=True)
class Measured:
    """A limit that a closure demands was measured."""

    kind: ClassVar[str] = "limit measured"
    closure: str
    limit: str
    reading: str
    gauge: Gauge


@dataclass(frozen=True, slots=True)
class Tightened:
    """One fastener of a closure, by its number on the map, was tightened to a share of the torque in percent."""

    kind: ClassVar[str] = "fastener tightened"
    closure: str
    number: int
    percent: int
