"""What a whole part should weigh by its shape, sizes and density; held against the `uncertainties` package."""

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from checklists.gauges import grams_of
from checklists.workshop.expected_mass import MATERIALS, SHAPES, WorkedOut, work_out
from checklists.workshop.units import Figure, read_figure

STEEL = ("7.85 g/cm3", "0.05 g/cm3")
BY_HAND = {
    "cylinder": lambda d, length: pi / 4 * d**2 * length,
    "tube": lambda a, b, length: pi / 4 * (a**2 - b**2) * length,
    "box": lambda a, b, c: a * b * c,
    "hexagon bar": lambda s, length: sqrt(3) / 2 * s**2 * length,
}
SIZES = {"cylinder": (12, 64), "tube": (12, 8, 64), "box": (12, 5, 30), "hexagon bar": (13, 40)}


@pytest.mark.parametrize("name", SHAPES)
def test_mass_and_uncertainty_are_those_of_a_reference_library(name):
    found = work_out(SHAPES[name], [f"{each} mm" for each in SIZES[name]], "0.1 mm", *STEEL)
    assert isinstance(found, WorkedOut)
    sizes = [ufloat(each, 0.1 / sqrt(3)) for each in SIZES[name]]
    wanted = BY_HAND[name](*sizes) * ufloat(0.00785, 0.00005 / sqrt(3))
    assert found.estimate.value == pytest.approx(wanted.nominal_value, rel=1e-9)
    assert found.estimate.u == pytest.approx(wanted.std_dev, rel=1e-3)  # the library leaves out the second order


def test_inches_and_pounds_give_the_same_mass():
    metric = work_out(SHAPES["cylinder"], ["25.4 mm", "50.8 mm"], "0.1 mm", *STEEL)
    inches = work_out(SHAPES["cylinder"], ["1 in", "2 in"], "0.1 mm", "0.28360 lb/in3", "0.0018 lb/in3")
    assert inches.estimate.value == pytest.approx(metric.estimate.value, rel=1e-4)


def test_without_its_uncertainty_a_figure_is_as_good_as_its_last_place():
    bare = work_out(SHAPES["cylinder"], ["12.0 mm", "64.0 mm"], "", "7.85 g/cm3", "")
    said = work_out(SHAPES["cylinder"], ["12.0 mm", "64.0 mm"], "0.1 mm", "7.85 g/cm3", "0.01 g/cm3")
    assert bare.estimate == said.estimate
    assert "each within one in its last place" in bare.given


@given(d=st.decimals("0.5", "300", places=1), length=st.decimals("0.5", "900", places=1),
       off=st.decimals("0.01", "0.4", places=2))  # fmt: skip
def test_what_is_filled_in_says_no_less_uncertainty_than_was_worked_out(d, length, off):
    found = work_out(SHAPES["cylinder"], [f"{d} mm", f"{length} mm"], f"{off} mm", *STEEL)
    within, mass = grams_of(found.within), grams_of(found.mass)
    assert within / sqrt(3) >= found.estimate.u * (1 - 1e-9)
    assert within / sqrt(3) <= found.estimate.u * 1.11
    assert abs(mass - found.estimate.value) <= within * 0.06


@pytest.mark.parametrize(
    ("sizes", "within", "density", "faults"),
    [
        (["12 mm", ""], "", STEEL, {"size 2"}),
        (["12 mm", "0 mm"], "", STEEL, {"size 2"}),
        (["-12 mm", "4 g"], "", STEEL, {"size 1", "size 2"}),
        (["12 mm", "4 mm"], "0 mm", STEEL, {"size within"}),
        (["12 mm", "4 mm"], "", ("7.85", ""), {"density"}),
        (["12 mm", "4 mm"], "", ("0 g/cm3", ""), {"density"}),
        (["12 mm", "4 mm"], "", ("7.85 g/cm3", "1 mm"), {"density within"}),
        (["12 mm"], "", STEEL, {"size 1"}),
    ],
)
def test_what_cannot_be_used_is_said_by_field(sizes, within, density, faults):
    assert set(work_out(SHAPES["cylinder"], sizes, within, *density)) == faults


def test_a_tube_is_hollow():
    assert set(work_out(SHAPES["tube"], ["8 mm", "8 mm", "4 mm"], "", *STEEL)) == {"size 2"}


@pytest.mark.parametrize("material", MATERIALS.values(), ids=lambda each: each.name)
def test_every_material_can_be_read(material):
    density, within = (read_figure(text, "density") for text in (material.density, material.within))
    assert isinstance(density, Figure)
    assert isinstance(within, Figure)
    assert 0 < within.si < density.si / 10
