"""Limits: inside, outside, too close to call, in the unit that was typed; of the sheet's limits it is recorded."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.shop_hand import AtTheBench

from checklists.facts_measured import Gauge, Measured
from mobileapp.shelf import load_sheet
from mobileapp.widgets.band import Band, Scale, apart, guarded


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    return AtTheBench(tmp_path, load_sheet("lift-pump-and-side-cover"))


def reads(work: AtTheBench, reading: str, step: str = "0.0005 in") -> None:
    work.types("Reading", reading)
    work.types("Instrument", "depth micrometer")
    work.types("Instrument reads to", step)
    work.act()


def alone(work: AtTheBench) -> None:
    work.put_down()
    work.opens("limits")
    work.types("Least allowed (may be left empty)", "0.522 in")
    work.types("Most allowed (may be left empty)", "0.525 in")


def test_a_reading_well_inside_is_inside_and_keeps_its_three_decimals(work):
    alone(work)
    reads(work, "0.5235 in")
    assert work.says("Inside")
    band = touch.find(work.shell, cls=Band)
    assert (band.scale.low_text, band.scale.high_text) == ("0.522 in", "0.525 in")
    assert band.scale.guard > 0
    assert work.says("Nothing is recorded.")


def test_a_reading_on_the_limit_is_too_close_to_call(work):
    alone(work)
    reads(work, "0.525 in")
    assert work.says("Too close to call")
    assert work.says("inside with a probability of 50.0 %")
    assert work.says("Measure again with a finer instrument")


def test_an_instrument_that_can_never_say_inside_is_told_apart_from_a_reading_too_close(work):
    alone(work)
    reads(work, "0.523 in", step="1/64 in")
    assert work.says("Too close to call")
    assert work.says("no reading this coarse can be called inside")
    assert work.says("with this no reading can ever be called inside.")
    assert work.says("one that reads to 0.0005 in, and is right within that.")
    assert touch.faults(work.shell) == []


def test_the_words_of_two_limits_close_together_stand_side_by_side():
    assert apart((100, 300), (60, 60), (0, 400), 10) == (79, 261)
    for ends in ((195, 205), (200, 200), (5, 12), (390, 395)):
        left, right = apart(ends, (80, 90), (0, 400), 10)
        assert left >= 0
        assert left + 80 + 10 <= right <= 400 - 90


def test_guard_bands_that_overlap_are_drawn_as_one():
    scale = Scale(10, 12, "", "", (11, 11), "", guard=3)
    assert guarded(scale) == [(7, 15)]
    assert guarded(replace(scale, guard=0.5)) == [(9.5, 10.5), (11.5, 12.5)]
    assert guarded(replace(scale, low=None)) == [(9, 15)]
    assert guarded(replace(scale, guard=0)) == []


def test_millimetres_against_inch_limits(work):
    alone(work)
    reads(work, "14.2 mm")
    assert work.says("Outside")
    assert work.says("14.2 mm (")


def test_a_missing_unit_is_said_at_its_field(work):
    alone(work)
    reads(work, "0.5235")
    assert work.says("The unit is missing; write it like 0.525 in or 13.3 mm.")
    assert work.says("Not worked out yet")


def test_a_limit_of_the_sheet_is_measured_and_recorded(work):
    work.opens("limits", closure="lift-pump", limit="proud")
    assert work.says("0.522 in to 0.525 in")
    reads(work, "0.5235 in")
    assert work.says("Inside")
    assert work.screen.act_text == "Record the measurement"
    work.act()
    assert work.last == Measured("lift-pump", "proud", "0.5235 in", Gauge("depth micrometer", "0.0005 in", ""))
    assert work.name == "workshop"
    work.opens("limits")
    assert work.says("Lift pump: inside")
