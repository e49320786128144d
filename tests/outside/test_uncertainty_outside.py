"""Propagation of uncertainty against the guides' worked examples, Monte Carlo, and the reference library."""

from collections.abc import Callable, Sequence
from math import pi, sqrt
from random import Random
from statistics import fmean, stdev

import pytest
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.workshop.pieces import box, cylinder, expected_from_size, hexagon_bar, tube
from checklists.workshop.uncertainty import Estimate, Instrument, propagate

# GUM (JCGM 100:2008) H.1, end-gauge calibration: lengths in nm, temperatures in degrees C.
END_GAUGE = (
    Estimate(50_000_623, 25, 18),  # the standard, from its certificate
    Estimate(215, 9.7, 25.6),  # the difference measured
    Estimate(0, 0.58e-6, 50),  # difference of expansion coefficients
    Estimate(11.5e-6, 1.2e-6),  # expansion coefficient of the standard
    Estimate(-0.1, 0.41),  # temperature off 20 degrees
    Estimate(0, 0.029, 2),  # temperature difference
)


def end_gauge(standard, difference, alphas, alpha, off, between):
    return standard + difference - standard * (alphas * off + alpha * between)


def test_gum_h1_end_gauge():
    """GUM H.1: u = 32 nm with 16 degrees of freedom, U = 93 nm (99 %, t = 2.92); 34 nm with second order (H.1.7)."""
    first = propagate(end_gauge, END_GAUGE, order=1)
    assert first.value == pytest.approx(50_000_838)
    assert round(first.u) == 32
    assert int(first.freedom) == 16
    assert round(first.expanded(2.92)) == 93
    assert round(propagate(end_gauge, END_GAUGE, order=2).u) == 34


# JCGM 101:2008 9.3, mass calibration in mg; the last three are rectangular.
MASS = (
    Estimate(100_000.000, 0.050),
    Estimate(1.234, 0.020),
    Estimate(1.20, 0.10 / sqrt(3)),
    Estimate(8000, 1000 / sqrt(3)),
    Estimate(8000, 50 / sqrt(3)),
)


def mass(conventional, added, air, weight, reference):
    return (conventional + added) * (1 + (air - 1.2) * (1 / weight - 1 / reference)) - 100_000


def mass_draws(count: int) -> list[float]:
    lots = Random(20080)

    def flat(middle: float, half: float) -> float:
        return lots.uniform(middle - half, middle + half)

    return sorted(
        mass(
            lots.gauss(100_000, 0.05),
            lots.gauss(1.234, 0.02),
            flat(1.2, 0.1),
            flat(8000, 1000),
            flat(8000, 50),
        )
        for _ in range(count)
    )


def test_jcgm_101_9_3_mass_calibration_by_propagation():
    """JCGM 101 Table 6: first order u = 0.0539, second order 0.0750."""
    assert propagate(mass, MASS, order=1).u == pytest.approx(0.0539, abs=0.0001)
    assert propagate(mass, MASS, order=2).u == pytest.approx(0.0750, abs=0.0003)
    assert propagate(mass, MASS).value == pytest.approx(1.2340, abs=0.0001)


def test_jcgm_101_9_3_mass_calibration_by_monte_carlo():
    """JCGM 101 Table 6: mean 1.2341, u = 0.0754, a 95 % interval 0.299 wide. First order falls short of it."""
    draws = mass_draws(100_000)
    assert fmean(draws) == pytest.approx(1.2341, abs=0.001)
    assert stdev(draws) == pytest.approx(0.0754, abs=0.0007)
    assert draws[97_500] - draws[2_500] == pytest.approx(0.299, abs=0.004)
    assert propagate(mass, MASS).u == pytest.approx(stdev(draws), rel=0.01)


SIZES = st.floats(1, 100)
ERRORS = st.floats(0.0001, 0.01)
SOLIDS: list[tuple[Callable[..., Estimate], Callable[..., float], int]] = [
    (cylinder, lambda d, length: pi / 4 * d * d * length, 2),
    (box, lambda a, b, c: a * b * c, 3),
    (hexagon_bar, lambda s, length: sqrt(3) / 2 * s * s * length, 2),
    (expected_from_size, lambda v, rho: v * rho, 2),
    (
        lambda a, b, c: tube(Estimate(3 * a.value, a.u), b, c),
        lambda a, b, c: pi / 4 * (9 * a * a - b * b) * c,
        3,
    ),
]


@pytest.mark.parametrize(("ours", "formula", "count"), SOLIDS[:4], ids=["cylinder", "box", "hexagon", "mass"])
@given(st.data())
@settings(max_examples=40)
def test_solids_have_the_uncertainty_that_the_library_uncertainties_gives(ours, formula, count: int, data):
    values = [data.draw(SIZES) for _ in range(count)]
    us = [value * data.draw(ERRORS) for value in values]
    estimate = ours(*(Estimate(value, u) for value, u in zip(values, us, strict=True)))
    theirs = formula(*(uncertainties.ufloat(value, u) for value, u in zip(values, us, strict=True)))
    assert estimate.value == pytest.approx(theirs.nominal_value)
    assert estimate.u == pytest.approx(theirs.std_dev, rel=0.001)  # theirs is first order only


def test_a_tube_has_the_uncertainty_that_the_library_uncertainties_gives():
    ours = tube(Estimate(20, 0.02), Estimate(12, 0.05), Estimate(30, 0.1))
    outside, inside, length = (uncertainties.ufloat(*each) for each in ((20, 0.02), (12, 0.05), (30, 0.1)))
    theirs = pi / 4 * (outside * outside - inside * inside) * length
    assert (ours.value, ours.u) == (
        pytest.approx(theirs.nominal_value),
        pytest.approx(theirs.std_dev, rel=0.001),
    )


def _square(x: float) -> float:
    return x * x


@pytest.mark.parametrize("inputs", [(Estimate(0, 1),), (Estimate(3, 1),), (Estimate(0.1, 2),)])
def test_a_square_has_its_exact_uncertainty(inputs: Sequence[Estimate]):
    """For a normal x, var(x^2) = 4 x^2 u^2 + 2 u^4, exactly; first order alone would call u(0^2) nothing."""
    x, u = inputs[0].value, inputs[0].u
    assert propagate(_square, inputs).u == pytest.approx(sqrt(4 * x * x * u * u + 2 * u**4))


def test_reading_and_error_are_rectangular():
    """GUM F.2.2.1: a digital step of 1 has u = 0.29; 4.3.7: a largest error of 1 has u = 0.58."""
    scale = Instrument("scale", 1, 1)
    assert (round(scale.reading_u, 2), round(scale.error_u, 2)) == (0.29, 0.58)
