"""Contrast against published figures for WCAG's formula.

- 21:1 for black on white, 1:1 for like on like: the ends of the range in WCAG 2.2's definition of contrast ratio
  (https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio; from memory).
- 4.48:1 for #777777 on white: http://www.davidmacd.com/test/check-color.html, the page on which the working group's
  consensus of October 2016 is noted (no rounding up to 4.5). 4.54:1 for #767676 on white: from memory.
- Yellow, orange and sky of the Okabe-Ito palette against black, 15.9, 9.3 and 9.1: computed beforehand from the same
  formula for the design's notes, not published elsewhere that we know of.
"""

import pytest

from mobileapp.look import colour, contrast, luminance

WHITE, BLACK = colour("FFFFFF"), colour("000000")


@pytest.mark.parametrize(
    ("shade", "behind", "figure", "places"),
    [
        ("000000", "FFFFFF", 21.0, 2),
        ("777777", "FFFFFF", 4.48, 2),
        ("767676", "FFFFFF", 4.54, 2),
        ("FFFFFF", "FFFFFF", 1.0, 2),
        ("F0E442", "000000", 15.9, 1),
        ("E69F00", "000000", 9.3, 1),
        ("56B4E9", "000000", 9.1, 1),
    ],
)
def test_contrast_is_the_published_figure_whichever_way_round(shade, behind, figure, places):
    assert round(contrast(colour(shade), colour(behind)), places) == figure
    assert round(contrast(colour(behind), colour(shade)), places) == figure


def test_the_threshold_is_not_rounded_up_to():
    assert contrast(colour("777777"), WHITE) < 4.5 < contrast(colour("767676"), WHITE)


@pytest.mark.parametrize(("shade", "weight"), [("FF0000", 0.2126), ("00FF00", 0.7152), ("0000FF", 0.0722)])
def test_the_primaries_weigh_as_in_the_definition_of_relative_luminance(shade, weight):
    assert luminance(colour(shade)) == pytest.approx(weight)
    assert contrast(colour(shade), BLACK) == pytest.approx((weight + 0.05) / 0.05)
