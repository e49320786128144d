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
    never_inside,
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


RULE = Instrument("steel rule", 0.5, 0.5)


def test_limits_closer_together_than_two_guard_bands_are_said_to_be_beyond_the_instrument():
    """Common practice, no source: 0.522 to 0.525 in cannot be judged with a half-millimetre rule, whatever it reads."""
    close = limits("0.522 in", "0.525 in")
    judged = judge("13.3 mm", close, RULE)
    assert judged.verdict == "too close to call"
    assert judged.words[2:] == (judged.never, judged.remedy) == (
        "The limits are 0.003 in apart, and two guard bands are 0.051 in: "
        "with this no reading can ever be called inside.",
        "Take a finer instrument: one that reads to 0.0005 in, and is right within that.",
    )  # fmt: skip
    fine = Instrument("micrometer", float(length("0.0005 in").si), float(length("0.0005 in").si))
    assert judge("0.5235 in", close, fine).verdict == "inside"
    outside = judge("14.0 mm", close, RULE)
    assert (outside.verdict, outside.remedy) == ("outside", judged.remedy)


def test_a_reading_written_too_coarsely_is_written_out_before_a_finer_instrument_is_bought():
    fine = Instrument("micrometer", 0.001, 0.001)
    told = judge("0.3 mm", limits("0.28 mm", "0.33 mm"), fine).remedy
    assert told == "Write the reading to the last place that the micrometer shows."
    assert judge("0.300 mm", limits("0.28 mm", "0.33 mm"), fine).verdict == "inside"


def test_with_one_limit_a_reading_can_be_inside_with_any_instrument_unless_it_must_be_less_than_nothing():
    assert judge("30 mm", limits("0.28 mm"), RULE).verdict == "inside"
    assert judge("0.5 mm", limits("0.28 mm"), RULE).remedy.startswith("Measure again with a finer instrument")
    assert judge("0.0 mm", limits("", "0.05 mm"), RULE).words[2:] == (
        "The guard band is 0.65 mm, wider than all that is allowed: only less than nothing could be called inside.",
        "Take a finer instrument: one that reads to 0.01 mm, and is right within that.",
    )
    assert judge("0.0 mm", limits("", "-0.05 mm"), RULE).remedy.startswith("Measure again")


def test_a_limit_with_no_room_at_all_is_a_question_for_the_maker():
    none = limits("0.30 mm", "0.30 mm")
    assert judge("0.30 mm", none).remedy == "No instrument can do it: ask the maker by how much it may differ."
    told = judge("0.30 mm", none, PERFECT).remedy
    assert told == "Write the reading to the last place that the perfect gauge shows."


@given(st.decimals("0.001", "5", places=3), st.decimals("0", "5", places=3), st.floats(0.001, 2), st.floats(0, 2))
def test_it_is_said_exactly_where_no_reading_is_ever_inside(wide, least, step, error):
    close, gauge = limits(f"{least} mm", f"{least + wide} mm"), Instrument("gauge", step, error)
    middle = f"{least + wide / 2} mm"
    beyond, _ = never_inside(length(middle), gauge, close)
    assert (judge(middle, close, gauge).verdict == "inside") == (not beyond)  # the middle is inside if anything is


@given(st.decimals("0.001", "5", places=3), st.booleans())
def test_the_finer_instrument_that_is_named_can_do_it(wide, both):
    close = limits("1 mm", f"{1 + wide} mm") if both else limits("", f"{wide} mm")
    _, told = never_inside(length("0.5 mm"), Instrument("rule", 10, 10), close)
    step = length(told.partition("reads to ")[2].partition(",")[0])
    named = Instrument("named", float(step.si), float(step.si))
    middle = Figure("middle", 1 + Fraction(wide) / 2 if both else Fraction(0), MM, step.step)
    assert judge_measurement(middle, named, close).verdict == "inside"


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
