"""What a whole part should weigh, worked out from its shape, its sizes as typed and its material's density.

Each size is as good as its reading is said to be, all values within that taken as equally likely (GUM 4.3.7); readings
and density are taken as independent of each other. What the shape leaves out (chamfers, grooves, holes) is not in the
answer: whoever knows of some widens how far the mass can be off.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10, sqrt

from checklists.workshop.pieces import box, cylinder, expected_from_size, hexagon_bar, tube
from checklists.workshop.uncertainty import USUAL_K, Estimate, said
from checklists.workshop.units import Figure, NotUnderstood, read_figure


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape by its name, what is measured of it, and its volume in mm3 from these in mm."""

    name: str
    sizes: tuple[str, ...]
    volume: Callable[..., Estimate]


@dataclass(frozen=True, slots=True)
class Material:
    """A material with its density and how far that can be off, both as typed."""

    name: str
    density: str
    within: str


SHAPES = {
    shape.name: shape
    for shape in (
        Shape("cylinder", ("diameter", "length"), cylinder),
        Shape("tube", ("outside diameter", "inside diameter", "length"), tube),
        Shape("box", ("length", "width", "height"), box),
        Shape("hexagon bar", ("across flats", "length"), hexagon_bar),
    )
}

#: Usual densities with the spread of the usual kinds; common practice, no source. Steel as `fastener_mass` takes it.
MATERIALS = {
    material.name: material
    for material in (
        Material("steel", "7.85 g/cm3", "0.05 g/cm3"),
        Material("stainless steel", "7.85 g/cm3", "0.15 g/cm3"),
        Material("grey cast iron", "7.15 g/cm3", "0.25 g/cm3"),
        Material("aluminium alloy", "2.72 g/cm3", "0.10 g/cm3"),
        Material("brass", "8.5 g/cm3", "0.25 g/cm3"),
        Material("tin bronze", "8.7 g/cm3", "0.2 g/cm3"),
        Material("copper", "8.93 g/cm3", "0.05 g/cm3"),
        Material("titanium alloy", "4.45 g/cm3", "0.08 g/cm3"),
    )
}


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """The mass of the whole: in g with its standard uncertainty, as text to fill in, and what it was worked out from.

    `within` is how far `mass` can be off, so that all values within it taken as equally likely give back `estimate.u`.
    """

    estimate: Estimate
    mass: str
    within: str
    density: str
    given: str
    note: str = "Chamfers, grooves and holes are not in it: widen how far it can be off where it has any."

    @property
    def words(self) -> tuple[str, ...]:
        """The answer in a sentence, and what is not in it."""
        mass = said(self.estimate.value, self.estimate.expanded(), "g")
        return f"The whole should weigh {mass} (k = {USUAL_K:g}).", self.note


#: What cannot be used, by the name of the field: "size 1" and so on, "size within", "density", "density within".
Faults = dict[str, str]


def work_out(
    shape: Shape, sizes: Sequence[str], within: str, density: str, density_within: str
) -> WorkedOut | Faults:
    """The mass of a shape, from text with units; where `within` or `density_within` is empty, one in the last place."""
    faults: Faults = {}
    lengths = [_read(faults, f"size {n}", text, "length", "size within", within) for n, text in enumerate(sizes, 1)]
    dense = _read(faults, "density", density, "density", "density within", density_within)
    known = [each for each in lengths if each is not None]
    if dense is None or len(known) < len(shape.sizes):
        return faults or {"size 1": "A size is missing."}
    if shape.name == "tube" and known[1].value >= known[0].value:
        return {"size 2": "The inside diameter is smaller than the outside diameter."}
    mass = expected_from_size(shape.volume(*known), dense)
    grams, off = as_typed(mass)
    off_words = within.strip() or "one in its last place"
    dense_off = density_within.strip() or "one in its last place"
    given = f"{shape.name} {' x '.join(each.strip() for each in sizes)}, each within {off_words}; "
    return WorkedOut(mass, grams, off, density.strip(), f"{given}density {density.strip()} within {dense_off}")


def _read(faults: Faults, name: str, text: str, kind: str, off_name: str, off_text: str) -> Estimate | None:
    """A figure above zero with how far it can be off; what is wrong goes to `faults`."""
    figure = read_figure(text, kind)
    off = read_figure(off_text, kind) if off_text.strip() else None
    for field, read in ((name, figure), (off_name, off)):
        if isinstance(read, NotUnderstood):
            faults[field] = read.words
        elif read is not None and read.number <= 0:
            faults[field] = f"{read.text} is not more than nothing."
    if name in faults or off_name in faults or not isinstance(figure, Figure):
        return None
    reach = off.si if isinstance(off, Figure) else figure.step_si
    return Estimate(float(figure.si), float(reach) / sqrt(3))


def as_typed(mass: Estimate) -> tuple[str, str]:
    """The mass and how far it can be off, as text in g: the latter rounded up to two figures, the mass to its place."""
    off = mass.u * sqrt(3)
    places = 1 - floor(log10(off)) if off else 6
    step = 10.0**places
    reach = ceil(round(off * step, 6)) / step
    shown = max(0, places)
    return f"{mass.value:.{shown}f} g", f"{reach:.{shown}f} g"
