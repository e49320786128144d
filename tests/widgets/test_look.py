"""Colours do what the look promises, by WCAG's own formula."""

from __future__ import annotations

import itertools

import pytest

from mobileapp import look

PLATES = ("orange", "sky", "yellow", "bone")


def test_black_on_white_is_twenty_one_to_one() -> None:
    assert look.contrast((0, 0, 0), (1, 1, 1)) == pytest.approx(21)
    assert look.contrast((1, 1, 1), (0, 0, 0)) == pytest.approx(21)
    assert look.contrast((0.3, 0.4, 0.5), (0.3, 0.4, 0.5)) == pytest.approx(1)


@pytest.mark.parametrize(("shade", "published"), [(look.YELLOW, 15.9), (look.ORANGE, 9.3), (look.SKY, 9.1)])
def test_the_three_hues_reach_their_published_contrast_against_black(shade: look.Colour, published: float) -> None:
    assert look.contrast(shade, (0, 0, 0)) == pytest.approx(published, abs=0.05)


@pytest.mark.parametrize("name", look.TONES)
def test_words_on_every_plate_reach_seven_to_one(name: str) -> None:
    tone = look.TONES[name]
    assert look.contrast(tone.words, tone.face) >= 7


@pytest.mark.parametrize("name", PLATES)
def test_a_pressed_plate_shows_its_colour_on_the_ground(name: str) -> None:
    assert look.contrast(look.TONES[name].face, look.GROUND) >= 7


@pytest.mark.parametrize("words", [look.PALE, look.DIM, look.YELLOW])
@pytest.mark.parametrize("behind", [look.GROUND, look.STEEL])
def test_words_on_ground_and_steel_reach_seven_to_one(words: look.Colour, behind: look.Colour) -> None:
    assert look.contrast(words, behind) >= 7


@pytest.mark.parametrize("name", look.TONES)
def test_every_key_can_be_made_out_against_the_ground(name: str) -> None:
    """By its lip at least, where the face is nearly as dark as the ground."""
    assert look.contrast(look.TONES[name].lip, look.GROUND) >= 3


def test_dashes_and_outlines_reach_three_to_one() -> None:
    assert look.contrast(look.EDGE, look.GROUND) >= 3
    assert look.contrast(look.EDGE, look.STEEL) >= 3


def test_no_colour_is_red_or_green() -> None:
    """Neither channel stands alone: what a red-green blind eye sees differs in lightness or in blue."""
    for one, other in itertools.combinations([look.ORANGE, look.SKY, look.YELLOW], 2):
        apart_in_blue = abs(one[2] - other[2])
        assert apart_in_blue > 0.2 or look.contrast(one, other) > 1.5
