"""A torque figure as a maker writes it: "24 N.m", "8 to 10 lbf.ft", "24 ± 3 N.m", "30 N.m + 90 deg"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from checklists.sheet_fault import shown
from checklists.workshop.units import (
    LONGEST,
    NUMBER,
    Figure,
    NotUnderstood,
    Unit,
    plain_fractions,
    read_figure,
    read_number,
)


@dataclass(frozen=True, slots=True)
class TorqueFigure:
    """A torque as typed: `low` and `high` in N.m, exact, equal where it is one number."""

    text: str
    number_text: str
    unit: Unit
    low: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True)
class AngleFigure:
    """Tightening by angle: kept word for word."""

    text: str


_ANGLE = re.compile(r"°|\bdeg|\bangle|\bturns?\b|(?<=\d)\s*deg", re.IGNORECASE)
_RANGE = re.compile(rf"\s*({NUMBER})\s*(-|–|—|\bto\b|\.\.\.?|…|±|\+/-)\s*({NUMBER})\s*(\D.*)")


def read_torque(text: str) -> TorqueFigure | AngleFigure | NotUnderstood:
    """Read a torque figure as typed; what mentions an angle is kept as it is."""
    if len(text) > LONGEST:
        return NotUnderstood(text, f"{shown(text)} is too long for a torque; write it like 24 N.m.")
    if _ANGLE.search(text):
        return AngleFigure(text.strip())
    found = _RANGE.fullmatch(plain_fractions(text))
    if found and not _is_fraction(found):
        return _range(text, found)
    figure = read_figure(text, "torque")
    if isinstance(figure, NotUnderstood):
        return figure
    if figure.number <= 0:
        return NotUnderstood(text, f"{shown(text)} tightens nothing; write it like 24 N.m.")
    return TorqueFigure(figure.text, _number_text(figure), figure.unit, figure.si, figure.si)


def _is_fraction(found: re.Match[str]) -> bool:
    """1-1/2 is one and a half, not a range."""
    return found[2] == "-" and "/" in found[3] and "/" not in found[1]


def _range(text: str, found: re.Match[str]) -> TorqueFigure | NotUnderstood:
    unit = read_figure(f"1 {found[4]}", "torque")
    if isinstance(unit, NotUnderstood):
        return NotUnderstood(text, unit.words)
    first, second = read_number(found[1])[0], read_number(found[3])[0]
    low, high = (first - second, first + second) if found[2] in ("±", "+/-") else (first, second)
    if not 0 < low <= high:
        return NotUnderstood(
            text, f"{shown(text)} does not run from small to large; write it like 8 to 10 lbf.ft."
        )
    factor, number = unit.unit.factor, f"{found[1]} {found[2]} {found[3]}"
    return TorqueFigure(text.strip(), number, unit.unit, low * factor, high * factor)


def _number_text(figure: Figure) -> str:
    """The number alone, as typed."""
    found = re.search(NUMBER, figure.text)
    return found[0] if found else ""
