"""Unit factors against the definitions (NIST SP 811, App. B) and against the reference library pint."""

from fractions import Fraction

import pint
import pytest
from outside_rows import outside_rows

from checklists.workshop.units import UNITS, Unit, unit_named

#: The table writes the products with a star, and a stress in Pa.
_PA = Unit("Pa", "stress", Fraction(1, 10**6))
_PINT = {
    "N.m": "newton*meter", "lbf.ft": "force_pound*foot", "lbf.in": "force_pound*inch", "kgf.m": "force_kilogram*meter",
    "kgf.cm": "force_kilogram*centimeter", "ozf.in": "force_ounce*inch", "um": "micrometer", "g": "gram",
    "thou": "thou", "in": "inch", "lb": "pound", "oz": "ounce", "lbf": "force_pound", "kgf": "force_kilogram",
    "MPa": "megapascal", "psi": "psi", "ksi": "ksi", "N": "newton", "kN": "kilonewton",
    "g/cm3": "gram/centimeter**3", "kg/m3": "kilogram/meter**3", "lb/in3": "pound/inch**3",
}  # fmt: skip
_INSIDE = {
    "length": "millimeter",
    "mass": "gram",
    "torque": "newton*meter",
    "force": "newton",
    "stress": "megapascal",
    "density": "gram/millimeter**3",
}


def _unit(name: str) -> Unit:
    unit = _PA if name == "Pa" else unit_named(name)
    assert unit
    return unit


@pytest.mark.parametrize("row", outside_rows("unit_exact"), ids=lambda row: f"{row['from']} to {row['to']}")
def test_factors_are_exact_by_definition(row: dict[str, str]):
    factor = _unit(row["from"]).factor / _unit(row["to"]).factor
    published = Fraction(row["factor"])
    if row["exact"] == "yes":
        assert factor == published
    else:
        assert abs(factor / published - 1) < Fraction(1, 10**10)


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.name)
def test_factors_are_those_of_pint(unit: Unit):
    registry = pint.UnitRegistry(non_int_type=Fraction)
    one = registry.Quantity(Fraction(1), _PINT.get(unit.name, unit.name))
    assert one.to(_INSIDE[unit.kind]).magnitude == unit.factor
