"""A broken part and its pieces: they add up, one is missing, or the scale cannot tell."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.fastener_mass import STEEL
from checklists.workshop.pieces import (
    Account,
    account_for,
    account_for_length,
    ball_diameter,
    cylinder,
    expected_from_size,
    expected_from_twin,
    sum_of_pieces,
    together,
    tube,
    weighed,
)
from checklists.workshop.uncertainty import Estimate, Instrument

POCKET = Instrument("pocket scale", 0.01, 0.02)
KITCHEN = Instrument("kitchen scale", 1, 2)


def account(whole: float, pieces: list[float], smallest_mm: float, scale: Instrument = POCKET) -> Account:
    expected = expected_from_twin(weighed(scale, whole), likeness=0.002)
    return account_for(expected, sum_of_pieces(scale, pieces), smallest_mm)


def test_a_shear_bolt_broken_at_its_neck_adds_up():
    """A part designed to break at a neck is an ordinary case: head and shank against a whole one from stock."""
    head_and_shank = account(24.60, [20.14, 4.45], smallest_mm=4)
    assert head_and_shank.verdict == "adds up"
    assert head_and_shank.words == (
        "Adds up. Whole and pieces agree within 0.11 g (k = 2); nothing bigger than a steel ball of 3.1 mm "
        "could be hidden, and 4 mm is the smallest that matters.",
    )


def test_a_shear_bolt_with_a_splinter_gone_is_short():
    gone = account(24.60, [20.10, 3.90], smallest_mm=4)
    assert gone.verdict == "short"
    assert gone.short == pytest.approx(0.60)
    assert gone.words == (
        "Short by 0.60 ± 0.11 g (k = 2), as big as a steel ball of 5.3 mm (4.9 to 5.6 mm).",
        "A piece is missing: look for it.",
    )


def test_a_coarse_scale_cannot_tell_and_says_what_it_could_hide():
    kitchen = account(250, [200, 49], smallest_mm=4, scale=KITCHEN)
    assert kitchen.verdict == "cannot tell"
    assert kitchen.words == (
        "Cannot tell. Whole and pieces agree within 5.4 g (k = 2), but this weighing could hide a piece as big as "
        "a steel ball of 11.6 mm.",
        "Weigh on a finer scale, fit the pieces together, or look by a closeout inspection.",
    )


def test_pieces_that_weigh_more_than_the_part_are_not_all_its_own():
    heavy = account(24.60, [20.10, 5.10], smallest_mm=4)
    assert heavy.verdict == "too much"
    assert heavy.words[0] == "The pieces weigh 0.60 ± 0.11 g (k = 2) more than the part."


def test_a_pin_is_expected_from_its_size():
    pin = expected_from_size(cylinder(Estimate(6, 0.01), Estimate(40, 0.05)), Estimate(STEEL, 0.01 * STEEL))
    assert pin.value == pytest.approx(pi / 4 * 36 * 40 * STEEL)
    assert 0.01 < pin.u / pin.value < 0.012


def test_a_bush_is_a_tube_and_solids_go_together():
    outside, inside, length = Estimate(20, 0.02), Estimate(12, 0.02), Estimate(15, 0.05)
    by_parts = together([cylinder(outside, length)], minus=[cylinder(inside, length)])
    assert by_parts.value == pytest.approx(tube(outside, inside, length).value)


def test_a_piece_of_light_alloy_is_bigger_for_its_mass():
    light = account_for(Estimate(10, 0.01), Estimate(9, 0.01), 2, density=0.0027)
    assert light.ball == pytest.approx(ball_diameter(1.0) * (STEEL / 0.0027) ** (1 / 3))
    assert "ball of its material" in light.words[0]


def test_a_four_millimetre_steel_ball_weighs_a_quarter_of_a_gram():
    assert ball_diameter(0.263) == pytest.approx(4.0, abs=0.001)


def test_lengths_never_clear_a_part_by_themselves():
    whole, halves = Estimate(60, 0.05), [Estimate(35.1, 0.05), Estimate(24.9, 0.05)]
    assert account_for_length(whole, halves).words.endswith("splinters do not show in a length.")
    assert account_for_length(whole, halves[:1]).verdict == "short"
    assert account_for_length(whole, [*halves, Estimate(3, 0.05)]).verdict == "too much"


MASSES = st.floats(0.5, 200)
SCALES = st.builds(Instrument, st.just("scale"), st.floats(0.001, 1), st.floats(0, 2))


@given(MASSES, st.lists(MASSES, min_size=1, max_size=8), SCALES, st.floats(0.1, 20))
def test_what_adds_up_could_hide_nothing_that_matters(whole, pieces, scale, smallest):
    answer = account_for(weighed(scale, whole), sum_of_pieces(scale, pieces), smallest)
    hidden = ball_diameter(max(0, answer.short + answer.expanded))
    assert answer.hidden == pytest.approx(hidden)
    if answer.verdict == "adds up":
        assert hidden < smallest
    if answer.verdict == "short":
        assert answer.ball_range[0] > 0


@given(MASSES, st.lists(MASSES, min_size=1, max_size=8), SCALES)
def test_a_piece_too_many_weighings_never_make_it_surer(whole, pieces, scale):
    """Weighing the pieces together, in one go, is never less sure than one by one."""
    at_once, singly = weighed(scale, sum(pieces)), sum_of_pieces(scale, pieces)
    assert at_once.u <= singly.u * (1 + 1e-12)
    assert at_once.value == pytest.approx(singly.value)


@given(MASSES, st.floats(0.1, 5), SCALES, st.floats(0.1, 20))
def test_a_bigger_piece_missing_is_never_less_noticed(whole, gone, scale, smallest):
    rank = ["too much", "adds up", "cannot tell", "short"]
    fewer, more = (
        account_for(weighed(scale, whole), weighed(scale, whole - lost), smallest).verdict for lost in (gone / 2, gone)
    )  # fmt: skip
    assert rank.index(more) >= rank.index(fewer)
