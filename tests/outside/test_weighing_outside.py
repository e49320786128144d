"""Weigh-count limits against the rule of the trade, and the stated confidence against many bags."""

from random import Random

import pytest
import uncertainties

from checklists.workshop.uncertainty import Instrument
from checklists.workshop.weighing import Sample, count_by_mass, largest_count, unit_mass


def test_the_limit_at_k_2_is_one_over_four_relative_uncertainties():
    """Weigh-count limit at k = 2: N < 1/(4 u_rel); 1 % unit-mass error serves up to 25 pieces (recomputed from GUM)."""
    assert largest_count(0.01) == pytest.approx(25)
    assert largest_count(0.005) == pytest.approx(50)


def test_the_unit_mass_has_the_uncertainty_that_the_library_uncertainties_gives():
    scale = Instrument("scale", 0.01, 0.02)
    ours = unit_mass(Sample(28.05, 10), scale, 0.01)
    reading = uncertainties.ufloat(28.05, 0.01 / 12**0.5) - uncertainties.ufloat(0, 0.01 / 12**0.5)
    error = uncertainties.ufloat(0, 0.02 / 3**0.5)
    pieces = sum(uncertainties.ufloat(0, 0.01 * 2.805) for _ in range(10))
    theirs = (reading + error + pieces) / 10
    assert (ours.value, ours.u) == (pytest.approx(theirs.nominal_value), pytest.approx(theirs.std_dev))


def _bag(lots: Random, pieces: int, scale: Instrument, scatter: float) -> int | None:
    """One bag weighed and counted by its weight, every piece and reading with its own error."""

    def read(true: float) -> float:
        off = lots.uniform(-scale.largest_error, scale.largest_error)
        return round((true + off) / scale.resolution) * scale.resolution

    sample = sum(lots.gauss(2.8, 2.8 * scatter) for _ in range(10))
    net = sum(lots.gauss(2.8, 2.8 * scatter) for _ in range(pieces))
    return count_by_mass(read(net + 12), read(12), Sample(read(sample), 10), scale, scatter).number


def test_the_answers_of_many_bags_are_right_as_often_as_is_said():
    """Monte Carlo, seeded: 2,000 bags of 60 pieces; what is answered is right in at least the stated share."""
    lots, scale = Random(60), Instrument("scale", 0.01, 0.02)
    numbers = [_bag(lots, 60, scale, 0.01) for _ in range(2000)]
    answered = [number for number in numbers if number is not None]
    stated = count_by_mass(60 * 2.8 + 12, 12, Sample(28.0, 10), scale, 0.01).confidence
    assert len(answered) > 1500
    assert sum(number == 60 for number in answered) / len(answered) >= stated - 0.02
