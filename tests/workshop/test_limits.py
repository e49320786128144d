"""A measurement with its instrument against limits: three answers, each with its guard band and probability."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.limits import (
    Judged,
    Limits,
    band_text,
    judge_measurement,
    percent,
    probability_of_conformity,
    verdict_for,
)
from checklists.workshop.uncertainty import Instrument
from checklists.workshop.units import IN, MM, Figure, read_figure

FEELER = Instrument("feeler gauge", 0.01, 0.01)
PERFECT = Instrument("perfect gauge", 0.0, 0.0)


def length(text: str) -> Figure:
    figure = read_figure(text, "length")
    assert isinstance(figure, Figure)
    return figure


def limits(least: str = "", most: str = "") -> Limits:
    return Limits(length(least) if least else None, length(most) if most else None)


def judge(text: str, against: Limits, gauge: Instrument = FEELER) -> Judged:
    return judge_measurement(length(text), gauge, against)


def test_the_answer_says_limits_guard_band_and_probability():
    judged = judge("0.35 mm", limits("0.30 mm", "0.40 mm"))
    assert judged.verdict == "inside"
    assert judged.words == (
        "0.35 mm is inside: 0.30 mm to 0.40 mm.",
        "Guard band 0.013 mm (k = 2); inside with a probability of over 99.9 %.",
    )


def test_too_close_to_call_says_what_to_do():
    judged = judge("0.40 mm", limits("0.30 mm", "0.40 mm"))
    assert judged.verdict == "too close to call"
    assert judged.conforms == pytest.approx(0.5)
    assert judged.words[-1] == "Measure again with a finer instrument, or have it measured by another person."


@pytest.mark.parametrize(
    ("reading", "least", "most", "verdict"),
    [
        ("0.45 mm", "0.30 mm", "0.40 mm", "outside"),
        ("0.45 mm", "0.30 mm", "", "inside"),
        ("0.25 mm", "0.30 mm", "", "outside"),
        ("0.295 mm", "", "0.30 mm", "too close to call"),
        ("0.012 in", "0.25 mm", "0.40 mm", "inside"),
        ("0.35 mm", "0.010 in", "0.016 in", "inside"),
    ],
)
def test_one_limit_or_two_inches_or_millimetres(reading: str, least: str, most: str, verdict: str):
    fine = Instrument("gauge", 0.001, 0.005)
    assert judge(reading, limits(least, most), fine).verdict == verdict


def test_a_limit_is_exact_across_units():
    """0.525 in is 13.335 mm to the last digit, so a perfect gauge finds neither more nor less."""
    exactly = limits("0.525 in", "0.525 in")
    for value, verdict in (("13.335", "inside"), ("13.3350001", "outside"), ("13.3349999", "outside")):
        assert verdict_for(Fraction(value), 0.0, exactly) == verdict
    assert str(exactly) == "0.525 in to 0.525 in"


def test_a_reading_written_coarsely_is_no_finer_for_a_fine_gauge():
    fine = Instrument("gauge", 0.001, 0.001)
    coarse, finer = (judge(text, limits("0.30 mm", "0.40 mm"), fine) for text in ("0.4 mm", "0.400 mm"))
    assert coarse.guard > 10 * finer.guard


def test_a_reading_in_the_other_unit_is_shown_in_that_of_the_limits():
    assert judge("13.30 mm", limits("0.522 in", "0.525 in")).words[0].startswith("13.30 mm (0.5236 in) is")


@pytest.mark.parametrize(
    ("least", "most", "fault"),
    [
        ("", "", "There is no limit; give the least, the most, or both."),
        ("0.40 mm", "0.30 mm", "0.40 mm is more than 0.30 mm; put the smaller first."),
    ],
)
def test_limits_that_are_none_are_said(least: str, most: str, fault: str):
    assert limits(least, most).faults() == (fault,)


def test_limits_of_two_kinds_are_said():
    grams = read_figure("3 g", "mass")
    assert isinstance(grams, Figure)
    assert Limits(length("1 mm"), grams).faults() == ("1 mm and 3 g do not measure the same.",)


def test_a_band_is_never_rounded_down():
    assert band_text(0.0211, MM) == "0.022 mm"
    assert band_text(0.0211, IN) == "0.00084 in"
    assert band_text(0.0, MM) == "0 mm"


def test_a_probability_is_never_said_to_be_certain():
    assert [percent(p) for p in (1.0, 0.9995, 0.5, 0.0)] == [
        "over 99.9 %",
        "over 99.9 %",
        "50.0 %",
        "under 0.1 %",
    ]


READINGS = st.decimals("0", "1", places=3)


@given(READINGS, st.floats(0, 0.2), st.floats(1, 3))
def test_a_wider_guard_band_never_clears_and_never_condemns_what_a_narrow_one_did_not(reading, guard, more):
    band = limits("0.300 mm", "0.600 mm")
    narrow, wide = (verdict_for(Fraction(reading), each, band) for each in (guard, guard * more))
    assert wide in (narrow, "too close to call")


@given(READINGS, st.floats(0.001, 0.05))
def test_what_is_called_inside_is_probably_inside_and_what_is_called_outside_is_not(reading, error):
    judged = judge(f"{reading} mm", limits("0.300 mm", "0.600 mm"), Instrument("gauge", 0.001, error))
    assert judged.verdict != "inside" or judged.conforms > 0.95
    assert judged.verdict != "outside" or judged.conforms < 0.05


@given(st.floats(-1, 1), st.floats(0.01, 1), st.floats(-1, 1), st.floats(0, 1))
def test_probability_is_one_and_parts_add_up(value, u, least, wide):
    below = probability_of_conformity(value, u, None, least)
    between = probability_of_conformity(value, u, least, least + wide)
    above = probability_of_conformity(value, u, least + wide, None)
    assert below + between + above == pytest.approx(1)


def test_a_perfect_gauge_is_either_sure_or_sure():
    assert judge("0.350 mm", limits("0.30 mm", "0.40 mm"), PERFECT).conforms > 0.999
    assert probability_of_conformity(0.5, 0, 0.3, 0.4) == 0
