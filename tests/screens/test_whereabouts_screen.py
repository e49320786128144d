"""Where could it be: the map and the ranked places of a missing nut, a search on record, and an item typed alone."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_work import MANIFOLD, NUT
from screens.shop_hand import AtTheBench

from checklists import builders, places
from checklists.facts_measured import Searched
from checklists.times import seconds_after
from mobileapp.widgets.space_map import SpaceMap


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    return AtTheBench(tmp_path)


@pytest.fixture
def lost(work: AtTheBench) -> AtTheBench:
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.now = seconds_after(work.now, 13 * 60)
    work.opens("whereabouts")
    return work


def test_the_map_leads_from_the_openings_to_every_space_it_could_be_in(lost):
    lines = touch.find(lost.shell, cls=SpaceMap).lines
    port = next(line for line in lines if line.name == "Inlet port 2")
    assert lines[port.parent].parent == -1, "it hangs on an opening"
    assert port.rank == 2
    cylinder = next(line for line in lines if line.name == "Cylinder 2")
    assert lines[cylinder.parent] == port


def test_each_place_carries_its_reason_and_what_is_ruled_out_says_why(lost):
    assert lost.says("1  Inlet port 1")
    assert lost.says("Inlet port 1 at the head stood uncovered as it fell")
    assert lost.says("Ruled out")
    assert lost.says("No opening that leads to Coolant")


def test_a_search_is_recorded_and_the_next_place_offered(lost):
    lost.act()
    assert lost.name == "search"
    lost.chooses("Borescope")
    lost.chooses("It was not there")
    lost.types("What was seen", "valve and seat clean")
    lost.act()
    assert lost.last == Searched(NUT, "port-1", "borescope", False, "valve and seat clean")
    lost.waits()
    assert lost.name == "whereabouts"
    assert lost.says("Searched: borescope, Ada Berg.")
    assert lost.screen.act_note == "Inlet port 2"


def test_what_was_found_goes_on_to_be_counted_found(lost):
    lost.tap(text="2  Inlet port 2")
    lost.chooses("Magnet")
    lost.chooses("It was there")
    lost.types("What was seen", "the nut, on the valve")
    lost.act()
    assert lost.name == "missing"
    assert lost.says("Where it was found")


def test_an_item_typed_alone_on_a_shipped_sheet(work):
    work.put_down()
    work.opens("whereabouts")
    work.types("What is missing", "ball 6 mm")
    work.chooses("Lift pump and side cover")
    work.act()
    work.waits()
    assert work.says("Ball 6 mm") or work.says("ball 6 mm")
    assert work.says("Cam chamber")
    assert touch.find(work.shell, cls=SpaceMap).lines
    assert work.says("Nothing is recorded.")


def test_an_item_that_is_not_understood_says_how_to_write_it(work):
    work.put_down()
    work.opens("whereabouts")
    work.types("What is missing", "thingummy")
    work.chooses("Lift pump and side cover")
    work.act()
    assert work.says("give its sizes, like ball 6 mm")
