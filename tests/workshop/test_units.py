"""Figures as people type them: the unit, the exact value, and the resolution that stays."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.units import (
    IN,
    LBF_FT,
    LBF_IN,
    MM,
    N_M,
    UNITS,
    Figure,
    NotUnderstood,
    read_figure,
    unit_named,
)


def read(text: str, kind: str) -> Figure:
    figure = read_figure(text, kind)
    assert isinstance(figure, Figure), figure
    return figure


def refusal(text: str, kind: str) -> str:
    figure = read_figure(text, kind)
    assert isinstance(figure, NotUnderstood)
    return figure.words


def test_a_push_rod_of_0_525_in_stays_0_525_in():
    rod = read("0.525 in", "length")
    assert rod.text == rod.shown_in(IN) == "0.525 in"
    assert rod.si == Fraction("13.335")
    assert rod.step_si == Fraction("0.0254")
    assert read("0.5250 in", "length").step_si == Fraction("0.00254")


@pytest.mark.parametrize(
    ("typed", "millimetres"),
    [
        ("13.3 mm", "13.3"), ("13,3mm", "13.3"), ('17/32"', "13.49375"), ("1 1/2 in", "38.1"), ("1-1/2 in", "38.1"),
        ("1½ in", "38.1"), ("⅜ in", "9.525"), (".5 in", "12.7"), ("5 thou", "0.127"), ("5 µm", "0.005"),
        ("-5.4 mm", "-5.4"), ("−5.4 mm", "-5.4"), ("2 inches", "50.8"), ("1.2 cm", "12"),
    ],
)  # fmt: skip
def test_lengths_as_people_type_them(typed: str, millimetres: str):
    assert read(typed, "length").si == Fraction(millimetres)


@pytest.mark.parametrize(
    ("typed", "unit"),
    [
        ("9 lbf.ft", "lbf.ft"), ("9 ft-lb", "lbf.ft"), ("9 ft lbs", "lbf.ft"), ("9 lb·ft", "lbf.ft"),
        ("9 lb-in", "lbf.in"), ("9 in.lbs", "lbf.in"), ("9 inch-pounds", "lbf.in"), ("9 INLB", "lbf.in"),
        ("9 inch lbs", "lbf.in"), ("9 inch-lb", "lbf.in"), ("9 inch lbf", "lbf.in"), ("9 lbs inch", "lbf.in"),
        ("9 foot lbs", "lbf.ft"), ("9 foot-lb", "lbf.ft"), ("9 feet lbs", "lbf.ft"), ("9 pounds feet", "lbf.ft"),
        ("9 inch oz", "ozf.in"), ("9 newton metres", "N.m"),
        ("9 Nm", "N.m"), ("9 N m", "N.m"), ("9 N·m", "N.m"), ("9 N⋅m", "N.m"), ("9 n-m", "N.m"), ("9 N*m", "N.m"),
        ("9 kgf.m", "kgf.m"), ("9 kgm", "kgf.m"), ("9 mkp", "kgf.m"), ("9 kg-cm", "kgf.cm"), ("9 kgf·cm", "kgf.cm"),
        ("9 oz-in", "ozf.in"),
    ],
)  # fmt: skip
def test_torque_units_as_people_type_them(typed: str, unit: str):
    assert read(typed, "torque").unit.name == unit
    assert read(typed, "torque").text == typed


def test_a_conversion_shows_the_digits_that_the_written_ones_resolve():
    assert read("8 lbf.ft", "torque").shown_in(LBF_IN) == "96 lbf.in"
    assert read("10 N.m", "torque").shown_in(LBF_FT) == "7.4 lbf.ft"
    assert read("10.0 N.m", "torque").shown_in(LBF_FT) == "7.38 lbf.ft"
    assert read("0.525 in", "length").shown_in(MM) == "13.34 mm"


def test_what_is_wrong_is_said_with_what_to_write():
    assert refusal("24", "torque") == "The unit is missing; write it like 24 N.m."
    assert refusal("9 lb", "torque") == "lb measures mass, and a torque is wanted here; write it like 24 N.m."
    assert "'lbf.fr' is not a unit known here; did you mean 'lbf.ft'?" in refusal("9 lbf.fr", "torque")
    assert refusal("about ten", "length").startswith("'about ten' is not a number with a unit")


@pytest.mark.parametrize(
    "text", ["", "in", "1/0 in", "1/2/3 in", "9" * 5000 + " in", "1..2 mm", "x\0", "0x10 mm", "1e3 mm"]
)
def test_what_is_no_figure_is_refused_and_never_guessed(text: str):
    assert refusal(text, "length")


def test_the_unit_may_be_understood_from_the_place():
    figure = read_figure("24", "torque", default=N_M)
    assert isinstance(figure, Figure)
    assert (figure.text, figure.si) == ("24 N.m", 24)


def test_a_length_is_no_torque():
    with pytest.raises(ValueError, match=r"in measures length; N\.m measures torque"):
        read("1 in", "length").to(N_M)


@given(st.sampled_from(UNITS), st.sampled_from(UNITS), st.decimals("0.001", "9999", places=3))
def test_there_and_back_again_loses_nothing(one, other, number):
    figure = read(f"{number} {one.name}", one.kind)
    if one.kind == other.kind:
        assert figure.to(other) * other.factor == figure.si == Fraction(number) * one.factor


@given(st.text(max_size=70), st.sampled_from(["length", "mass", "torque", "density"]))
def test_anything_typed_gets_a_figure_or_a_sentence(text: str, kind: str):
    read_to = read_figure(text, kind)
    assert isinstance(read_to, Figure) or read_to.words


def test_every_unit_is_known_by_its_own_name():
    assert [unit_named(unit.name) for unit in UNITS] == list(UNITS)


@pytest.mark.parametrize(
    ("typed", "kind", "asked"),
    [
        ("1,500 g", "mass", "can mean 1.500 or 1500"),
        ("8 gr", "mass", "can mean grams or grains"),
    ],
)
def test_what_can_mean_two_things_is_asked(typed: str, kind: str, asked: str):
    read = read_figure(typed, kind)
    assert isinstance(read, NotUnderstood)
    assert asked in read.words


def test_a_comma_that_can_only_be_a_decimal_comma_is_one():
    assert read_figure("0,525 in", "length").si == Fraction("13.335")
    assert read_figure("13,34 mm", "length").si == Fraction("13.34")


def test_a_near_miss_ends_its_sentence_once():
    read = read_figure("10 MN", "force")
    assert isinstance(read, NotUnderstood)
    assert ".." not in read.words
    assert "?." not in read.words
