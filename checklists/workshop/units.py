"""Figures with units as people type them, exact: inch and pound are defined factors, and resolution is kept.

Inside everything is millimetre, gram, newton-metre, newton, megapascal and g/mm3. A `Figure` remembers what was
typed: 0.525 in stays 0.525 in with its three decimals; its value in mm is the exact fraction 13.335.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from checklists.sheet_fault import near_miss, shown

#: Exact by definition (inch, pound, standard gravity): NIST SP 811, App. B.
INCH = Fraction("25.4")  # mm
POUND = Fraction("453.59237")  # g
GRAVITY = Fraction("9.80665")  # m/s2
POUND_FORCE = POUND / 1000 * GRAVITY  # N
KILOGRAM_FORCE = GRAVITY  # N


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it is written, what it measures, and its exact size in the inside unit of that kind."""

    name: str
    kind: str
    factor: Fraction


MM = Unit("mm", "length", Fraction(1))
IN = Unit("in", "length", INCH)
GRAM = Unit("g", "mass", Fraction(1))
N_M = Unit("N.m", "torque", Fraction(1))
LBF_FT = Unit("lbf.ft", "torque", POUND_FORCE * 12 * INCH / 1000)
LBF_IN = Unit("lbf.in", "torque", POUND_FORCE * INCH / 1000)
KGF_M = Unit("kgf.m", "torque", KILOGRAM_FORCE)
KGF_CM = Unit("kgf.cm", "torque", KILOGRAM_FORCE / 100)

UNITS = (
    MM, IN, GRAM, N_M, LBF_FT, LBF_IN, KGF_M, KGF_CM,
    Unit("cm", "length", Fraction(10)),
    Unit("um", "length", Fraction(1, 1000)),
    Unit("thou", "length", INCH / 1000),
    Unit("kg", "mass", Fraction(1000)),
    Unit("mg", "mass", Fraction(1, 1000)),
    Unit("lb", "mass", POUND),
    Unit("oz", "mass", POUND / 16),
    Unit("daN.m", "torque", Fraction(10)),
    Unit("ozf.in", "torque", POUND_FORCE * INCH / 16000),
    Unit("N", "force", Fraction(1)),
    Unit("kN", "force", Fraction(1000)),
    Unit("lbf", "force", POUND_FORCE),
    Unit("kgf", "force", KILOGRAM_FORCE),
    Unit("MPa", "stress", Fraction(1)),
    Unit("psi", "stress", POUND_FORCE / INCH**2),
    Unit("ksi", "stress", POUND_FORCE * 1000 / INCH**2),
    Unit("g/cm3", "density", Fraction(1, 1000)),
    Unit("kg/m3", "density", Fraction(1, 10**6)),
    Unit("lb/in3", "density", POUND / INCH**3),
)  # fmt: skip

#: What else people write for a unit. Compared without case, dots, spaces, hyphens and other multiplication signs.
_ALSO = {
    "mm": "millimetre millimetres millimeter millimeters",
    "in": '" inch inches ins',
    "cm": "centimetre centimeter",
    "um": "µm μm micron microns micrometre micrometer",
    "thou": "mil mils",
    "g": "gram grams gramme grammes",
    "kg": "kilogram kilograms kilo kilos",
    "lb": "lbs pound pounds",
    "oz": "ounce ounces",
    "N.m": "newtonmetre newtonmetres newtonmeter newtonmeters",
    "daN.m": "mdaN",
    "lbf.ft": "lbft ftlb ftlbs ftlbf lbsft footpound footpounds poundfoot poundfeet "
    "poundsfoot poundsfeet footlb footlbs footlbf feetlb feetlbs lbfoot lbsfoot lbffoot lbfeet lbsfeet",
    "lbf.in": "lbin inlb inlbs inlbf lbsin inchpound inchpounds poundinch poundinches "
    "poundsinch inchlb inchlbs inchlbf lbinch lbsinch lbfinch lbinches lbsinches",
    "ozf.in": "ozin inoz inchoz inchounce inchounces ozinch ounceinch",
    "kgf.m": "kgm mkg mkp kpm mkgf",
    "kgf.cm": "kgcm cmkg cmkp kpcm cmkgf",
    "kgf": "kp",
    "MPa": "N/mm2 N/mm²",
    "g/cm3": "g/cm³ kg/dm3 kg/dm³ g/ml kg/l",
    "kg/m3": "kg/m³",
    "lb/in3": "lb/in³ lbs/in3",
}


def _bare(word: str) -> str:
    return re.sub(r"[\s.·⋅•×*\-_]", "", word).casefold()


_BY_WORD = {_bare(unit.name): unit for unit in UNITS} | {
    _bare(word): unit for unit in UNITS for word in _ALSO.get(unit.name, "").split()
}


@dataclass(frozen=True, slots=True)
class NotUnderstood:
    """Something typed could not be read: what it is, and what to do about it."""

    text: str
    words: str


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its unit, as typed. `number` is exact; `step` is one in its last written place."""

    text: str
    number: Fraction
    unit: Unit
    step: Fraction

    @property
    def si(self) -> Fraction:
        """The value in the inside unit (mm, g, N.m, N, MPa, g/mm3), exact."""
        return self.number * self.unit.factor

    @property
    def step_si(self) -> Fraction:
        """The resolution it was written with, in the inside unit, exact."""
        return self.step * self.unit.factor

    def to(self, unit: Unit) -> Fraction:
        """The value in another unit of the same kind, exact."""
        if unit.kind != self.unit.kind:
            raise ValueError(f"{self.unit.name} measures {self.unit.kind}; {unit.name} measures {unit.kind}")
        return self.si / unit.factor

    def shown_in(self, unit: Unit) -> str:
        """The value in another unit, rounded no coarser than it was written: 0.525 in shows as 13.34 mm."""
        if unit == self.unit:
            return self.text
        return f"{decimal_text(self.to(unit), _places(self.step_si / unit.factor))} {unit.name}"


def unit_named(word: str) -> Unit | None:
    """The unit that `word` means, however it is written ("lb-ft", "Nm", "kgf·cm", '"'), or None."""
    return _BY_WORD.get(_bare(unicodedata.normalize("NFC", word)))


def read_figure(text: str, kind: str, default: Unit | None = None) -> Figure | NotUnderstood:
    """Read "0.525 in", "0,525 in", "17/32 in", "1 1/2 in" or "24 N.m" as a figure of that kind.

    Where no unit is written, `default` is taken if given; else that is said.
    """
    typed = " ".join(plain_fractions(text).split())
    found = re.fullmatch(rf"([-+−]?)({NUMBER})(?![0-9/])\s*(.*)", typed)
    if not found or len(typed) > LONGEST:
        return NotUnderstood(
            text, f"{shown(text)} is not a number with a unit; write it like {_example(kind)}."
        )
    unit = _unit(found[3], kind, default)
    if isinstance(unit, str):
        return NotUnderstood(text, unit)
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", found[2]):
        point, none = found[2].replace(",", "."), found[2].replace(",", "")
        return NotUnderstood(text, f"{shown(text)} can mean {point} or {none}; write the one you mean.")
    number, step = read_number(found[2])
    signed = -number if found[1] in ("-", "−") else number
    return Figure(typed if found[3] else f"{typed} {unit.name}", signed, unit, step)


def _unit(word: str, kind: str, default: Unit | None) -> Unit | str:
    """The unit of that kind, or why not."""
    if not word:
        return default or f"The unit is missing; write it like {_example(kind)}."
    unit = unit_named(word)
    known = [each.name for each in UNITS if each.kind == kind]
    if word.casefold().rstrip(".") == "gr":
        return "'gr' can mean grams or grains; write g for grams."
    if unit is None:
        near = near_miss(word, known) or "."
        return f"{shown(word)} is not a unit known here{near} Known for {kind}: {', '.join(known)}."
    if unit.kind != kind:
        return (
            f"{unit.name} measures {unit.kind}, and a {kind} is wanted here; write it like {_example(kind)}."
        )
    return unit


def _example(kind: str) -> str:
    return {"length": "0.525 in or 13.3 mm", "mass": "12.5 g", "torque": "24 N.m", "density": "7.85 g/cm3"}.get(
        kind, f"a number and a {kind} unit"
    )


#: A number as typed: 3, 3.25, 3,25, .5, 17/32, 1 1/2, 1-1/2.
NUMBER = r"[0-9]+[ -][0-9]+/[1-9][0-9]*|[0-9]+/[1-9][0-9]*|[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
#: A figure is short; anything longer is something else.
LONGEST = 60


def read_number(text: str) -> tuple[Fraction, Fraction]:
    """The exact value of a number as typed, and one in its last place (for 17/32: 1/32)."""
    text = text.replace(",", ".").replace("-", " ")
    if "/" in text:
        *whole, part = text.split()
        over, under = (int(each) for each in part.split("/"))
        return Fraction(int(whole[0]) if whole else 0) + Fraction(over, under), Fraction(1, under)
    decimals = len(text.partition(".")[2])
    return Fraction("0" + text if text.startswith(".") else text), Fraction(1, 10**decimals)


def plain_fractions(text: str) -> str:
    """Vulgar fractions and their like in plain signs: "1¼" becomes "1 1/4", "⅜" becomes "3/8"."""
    spaced = "".join(f" {c}" if unicodedata.decomposition(c).startswith("<fraction>") else c for c in text)
    return unicodedata.normalize("NFKC", spaced.replace("µ", "u").replace("μ", "u")).replace("⁄", "/").strip()


def decimal_text(value: Fraction, places: int) -> str:
    """An exact value as decimal text, rounded half to even at that many places."""
    scaled = round(value * 10**places)
    if places == 0:
        return str(scaled)
    sign, digits = ("-" if scaled < 0 else ""), str(abs(scaled)).rjust(places + 1, "0")
    return f"{sign}{digits[:-places]}.{digits[-places:]}"


def _places(step: Fraction) -> int:
    """Decimals that resolve `step`."""
    places = 0
    while step < 1 and places < 9:
        step, places = step * 10, places + 1
    return places
