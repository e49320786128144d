"""Counting a bag of fasteners by its weight, and refusing to where the scale cannot tell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.uncertainty import Instrument
from checklists.workshop.weighing import Sample, WeighCount, count_by_mass, largest_count, scatter_of

POCKET = Instrument("pocket scale", 0.01, 0.02)
KITCHEN = Instrument("kitchen scale", 1, 2)
TEN_M6 = Sample(grams=28.05, pieces=10)


def count(
    gross: float, scatter: float = 0.01, sample: Sample = TEN_M6, scale: Instrument = POCKET
) -> WeighCount:
    return count_by_mass(gross, 12.10, sample, scale, scatter)


def test_a_bag_of_fifty_small_bolts_is_counted():
    bag = count(12.10 + 50 * 2.805)
    assert (bag.verdict, bag.number, bag.most) == ("counted", 50, 73)
    assert bag.words == ("50 pieces by weight, right with a probability of 99.6 %.",)


def test_a_bag_beyond_what_the_scale_can_tell_is_refused():
    bag = count(12.10 + 90 * 2.805)
    assert (bag.verdict, bag.number) == ("cannot tell", None)
    assert bag.words == (
        "Cannot tell: 90.0 ± 0.6 pieces (k = 2).",
        "This scale and sample tell up to 73 at a time: weigh smaller lots, or a larger sample.",
    )


def test_a_kitchen_scale_counts_no_small_bolts():
    bag = count(250, scale=KITCHEN, sample=Sample(28, 10))
    assert bag.number is None
    assert bag.words[-1] == "This scale is too coarse for these pieces: count them by hand."


def test_a_washer_among_the_bolts_is_noticed():
    bag = count(12.10 + 20 * 2.805 + 1.02, scatter=0.001)
    assert (bag.verdict, bag.number) == ("no whole number", None)
    assert "Something else is in the bag" in bag.words[1]


def test_an_empty_bag_holds_none():
    assert count(12.10).number == 0
    assert count(12.10 + 2.805).words[0].startswith("1 piece by weight")


@pytest.mark.parametrize("sample", [Sample(0, 10), Sample(28, 0), Sample(-1, 3)])
def test_a_sample_of_nothing_is_a_programmers_mistake(sample: Sample):
    with pytest.raises(ValueError, match="a sample is at least one piece"):
        count(100, sample=sample)


def test_scatter_is_measured_on_single_pieces():
    assert scatter_of([2.80, 2.80]) == 0
    assert scatter_of([2.78, 2.80, 2.82]) == pytest.approx(0.02 / 2.80)
    with pytest.raises(ValueError, match="two pieces"):
        scatter_of([2.80])


PIECES = st.integers(0, 400)
UNITS = st.floats(0.2, 50)
SCATTERS = st.floats(0, 0.03)
SCALES = st.builds(Instrument, st.just("scale"), st.floats(0.001, 1), st.floats(0, 1))


@given(PIECES, UNITS, st.integers(1, 50), SCATTERS, SCALES)
def test_true_masses_give_the_true_number_or_a_refusal(pieces, unit, sampled, scatter, scale):
    bag = count_by_mass(pieces * unit + 5, 5, Sample(unit * sampled, sampled), scale, scatter)
    assert bag.number in (pieces, None)
    assert (bag.verdict == "counted") == (pieces <= bag.most)
    if bag.number is not None:
        assert bag.confidence > 0.95


@given(UNITS, st.integers(1, 20), SCATTERS, SCALES)
def test_a_larger_sample_never_tells_fewer(unit, sampled, scatter, scale):
    few, many = (
        count_by_mass(unit, 0, Sample(unit * n, n), scale, scatter).most for n in (sampled, 2 * sampled)
    )  # fmt: skip
    assert many >= few


@given(st.floats(0.0001, 0.2), st.floats(1, 4))
def test_the_limit_shrinks_with_uncertainty_and_with_k(relative, k):
    assert largest_count(relative, k) == pytest.approx(1 / (2 * k * relative))
    assert largest_count(relative * 2, k) < largest_count(relative, k)
