"""Where could it be: the map and the ranked places of a missing nut, a search on record, and an item typed alone."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import JONAS
from screens.at_work import BOLT, MANIFOLD, NUT
from screens.shop_hand import AtTheBench

from checklists import builders, places
from checklists.facts import Left, Move
from checklists.facts_measured import Searched
from checklists.times import seconds_after
from mobileapp.widgets.space_map import SpaceMap, name_in


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


def test_a_long_name_on_the_map_takes_two_lines_instead_of_tiny_letters(lost):
    drawn = touch.find(lost.shell, cls=SpaceMap)
    line = next(line for line in drawn.lines if line.name == "Exhaust manifold and turbine inlet")
    assert name_in(line, touch.mm(35))[0] == ["Exhaust manifold", "and turbine inlet"]
    assert name_in(line, touch.mm(300))[0] == [line.name]


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
    assert lost.says("Searched: borescope, Ada Berg. Due a second time.")
    assert lost.screen.act_note == "Inlet port 2"
    assert touch.find(lost.shell, cls=SpaceMap).chosen == 2, "the way to the next place is the one that is drawn thick"


def test_what_was_found_is_counted_found_by_the_same_tap(lost):
    lost.tap(text="2  Inlet port 2")
    lost.chooses("Magnet")
    lost.chooses("It was there")
    lost.types("What was seen", "the nut, on the valve")
    lost.chooses("On the bench")
    assert lost.screen.act_text == "Count 1 M8 flange nut found"
    lost.act()
    moves = (Move(NUT, 1, places.MISSING, places.BENCH),)
    assert lost.last == Searched(NUT, "port-2", "magnet", True, "the nut, on the valve", "", moves)
    assert lost.name == "missing"
    assert lost.says("Nothing is missing")


def test_one_look_into_a_port_is_on_record_for_both_that_are_missing(lost):
    lost.does(builders.drop(lost.state, BOLT, 1, "beside port 3", places.TRAY))
    lost.opens("whereabouts", line=NUT)
    lost.tap(text="2  Inlet port 2")
    lost.chooses("Mirror")
    lost.chooses("It was not there")
    lost.types("What was seen", "bare metal down to the valve")
    lost.act()
    assert lost.name == "search"
    assert lost.says("For 1 M8 x 45 flange bolt.")
    assert lost.says("It is missing as well, and you have just looked in here for 1 M8 flange nut. Was it there?")
    assert lost.last.line == NUT, "nothing is on record for the bolt before it is said"
    lost.act()
    assert lost.last == Searched(BOLT, "port-2", "mirror", False, "bare metal down to the valve")
    lost.waits()
    assert lost.name == "whereabouts"


def test_what_nobody_can_look_into_is_on_record_as_such(lost):
    lost.act()
    lost.chooses("I could not look into it")
    lost.chooses("Borescope")
    assert lost.screen.act_note == "First: what was in the way"
    lost.types("What was in the way", "the guide of the valve")
    lost.act()
    assert lost.last == Searched(NUT, "port-1", "borescope", False, "the guide of the valve", reached=False)
    lost.waits()
    assert lost.says("Searched: not looked into, borescope, Ada Berg.")


def test_once_every_place_was_searched_another_person_is_asked_for(lost):
    for space in lost.state.could_hold(lost.state.missing[0]):
        lost.does(builders.search(lost.state, NUT, space, "magnet", "nothing"))
    lost.opens("whereabouts")
    assert (lost.screen.act_ready, lost.screen.act_note) == (False, "A second time, by Jonas Wieland")


def test_alone_the_second_search_waits_for_the_pause(kivy_window, tmp_path):
    work = AtTheBench(tmp_path)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.does(Left(JONAS.name))
    for space in work.state.could_hold(work.state.missing[0]):
        work.does(builders.search(work.state, NUT, space, "magnet", "nothing"))
    work.opens("whereabouts")
    assert not work.screen.act_ready
    assert work.screen.act_note.startswith("Alone: a second time from 08:1")
    work.now = seconds_after(work.now, 10 * 60)
    work.screen.tick()
    assert work.screen.act_ready
    assert work.screen.act_note.startswith("second time: ")


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
