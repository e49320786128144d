"""Torque at the bench: a plausible figure, a slip, what cannot be told, an angle, and a word that is not understood."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.shop_hand import AtTheBench

from mobileapp.shelf import load_sheet
from mobileapp.widgets.band import Band

FIGURE = "Maker's figure, with its unit"


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    work = AtTheBench(tmp_path)
    work.put_down()
    work.opens("torque")
    return work


def checks(work: AtTheBench, spec: str, figure: str) -> None:
    work.types("Fastener", spec)
    work.types(FIGURE, figure)
    work.act()


def test_a_plausible_figure_stands_in_the_band_and_the_makers_figure_wins(work):
    checks(work, "M8x25 8.8", "24 N.m")
    assert work.says("Plausible")
    band = touch.find(work.shell, cls=Band)
    assert band.scale.low < band.scale.figure[0] < band.scale.high
    assert band.scale.figure_text == "24 N.m"
    assert work.says("The maker's figure wins.")
    assert work.says("Nothing is recorded.")


def test_what_cannot_be_told_is_said(work):
    checks(work, "M8x25 8.8", "24 N.m")
    assert work.says("cannot be told from friction")


def test_inch_pounds_typed_as_foot_pounds_is_caught_in_words(work):
    checks(work, "1/4-28 x 1 gr 5", "96 lbf.ft")
    assert work.says("Looks like a slip")
    assert work.says("Was it 96 lbf.in")


def test_a_figure_in_two_units_is_held_against_itself_and_of_stages_the_last_one_counts(work):
    checks(work, "M8x25 8.8", "20 Nm (15 lbf.in)")
    assert work.says("Looks like a slip")
    assert work.says("20 N.m and 15 lbf.in are not the same torque: 20 N.m is 177 lbf.in. Was it 15 lbf.ft?")
    checks(work, "M8x25 8.8", "8 Nm (6 lbf.ft), 16 Nm (12 lbf.ft), 24 Nm (18 lbf.ft)")
    assert work.says("Plausible")
    assert work.says("The last stage, 24 N.m, is plausible")
    assert touch.find(work.shell, cls=Band).scale.figure_text == "24 N.m"
    assert touch.faults(work.shell) == []


def test_an_angle_passes_through_as_it_is_written(work):
    checks(work, "", "30 N.m + 90 deg")
    assert work.says("30 N.m + 90 deg: tightened by angle, exactly as the maker writes it.")
    assert touch.find_all(work.shell, cls=Band) == []


def test_a_near_miss_is_offered_and_taken_with_one_tap(work):
    checks(work, "M8x25 8.8 washr", "24 N.m")
    assert work.says("'washr' is not understood; did you mean 'washer'?")
    assert work.says("Not worked out yet")
    work.tap(text="Take M8x25 8.8 washer")
    assert work.fields("Fastener")[0].text == "M8x25 8.8 washer"
    assert not work.says("did you mean")


def test_a_near_miss_takes_the_place_of_the_word_it_is_for(work):
    checks(work, "M8x8 8", "24 N.m")
    work.tap(text="Take M8x8 8.8")
    assert work.fields("Fastener")[0].text == "M8x8 8.8"


def test_stainless_without_its_class_is_not_judged_and_that_is_said(work):
    checks(work, "M8x25 A2", "24 N.m")
    assert work.says("Not judged")
    assert work.says("A2 says the steel, not how strong it is")


def test_a_changed_figure_dims_the_answer_until_it_is_checked_again(work):
    checks(work, "M8x25 8.8", "24 N.m")
    work.types(FIGURE, "240 N.m")
    assert work.screen.said.opacity < 0.5
    work.act()
    assert work.screen.said.opacity == 1
    assert not work.says("Plausible")


def test_the_fastener_and_figure_of_a_closure_are_taken_from_the_sheet(kivy_window, tmp_path):
    work = AtTheBench(tmp_path, load_sheet("lift-pump-and-side-cover"))
    work.opens("torque")
    work.tap(text="1/4-28 x 1 hex bolt gr 5")
    assert work.fields(FIGURE)[0].text == "8 to 10 lbf.ft"
    assert work.says("Plausible")
