"""Counting by weight: a number with its confidence, a refusal beyond what the scale can tell, and a count recorded."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import JONAS
from screens.shop_hand import AtTheBench

from checklists import builders, places
from checklists.facts_measured import WeighCounted
from mobileapp.shelf import load_sheet

BOLTS = "side-cover.bolt-1-4"


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    return AtTheBench(tmp_path, load_sheet("lift-pump-and-side-cover"))


def weighs(work: AtTheBench, sample: str, gross: str) -> None:
    work.types("Empty bag", "3.2 g")
    work.types("Counted pieces together", sample)
    work.types("Full bag", gross)
    work.types("Scale reads to", "0.1 g")
    work.act()


def test_forty_in_the_bag_and_how_sure_that_is(work):
    work.put_down()
    work.opens("weigh")
    weighs(work, "123 g", "495.4 g")
    assert work.says("40 in the bag")
    assert work.says("right with a probability of")
    assert work.says("Nothing is recorded.")


def test_beyond_what_the_scale_can_tell_it_does_not_answer(work):
    work.put_down()
    work.opens("weigh")
    weighs(work, "12.3 g", "495.4 g")
    assert work.says("The scale cannot tell")
    assert not work.says("in the bag,")


def test_what_cannot_be_read_is_said(work):
    work.put_down()
    work.opens("weigh")
    weighs(work, "123", "495.4 g")
    assert work.says("The unit is missing; write it like 12.5 g.")


def test_bolts_in_the_tray_are_counted_by_weight_on_record(work):
    acknowledged(work)
    work.does(builders.count_out(work.state, BOLTS, 8))
    work.opens("weigh", line=BOLTS, place=places.TRAY)
    weighs(work, "123 g", "101.6 g")
    assert work.says("8 in the bag")
    assert work.screen.act_text == "Record this count"
    assert work.screen.act_note == "by weight, NOT independent: by whoever put them there"
    assert work.says("One of them weighs 12.3 g")
    assert work.says("is it what it is said to be?")  # a 1/4-28 x 1 bolt weighs 8 g
    assert work.says("it is not among the counts that the residual risk is reckoned from")
    assert touch.faults(work.shell) == []
    work.desk.hand_to(JONAS.name)
    work.screen.work_out()
    assert work.screen.act_note == "by weight, independent of whoever put them there"
    work.act()
    assert work.entries[-1].who == JONAS.name
    assert isinstance(work.last, WeighCounted)
    assert (work.last.line, work.last.place, work.last.number) == (BOLTS, places.TRAY, 8)
    assert work.state.quantity(BOLTS, places.TRAY) == 8, "it moves nothing"


def acknowledged(work: AtTheBench) -> None:
    from checklists.facts import Acknowledged

    for caution in work.state.sheet.cautions:
        work.does(Acknowledged(caution.id))
