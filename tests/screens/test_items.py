"""Rags, covers, tools, own things, parts: where each is, and everything that can happen to it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_work import BOLT, MANIFOLD, AtWork

from checklists import builders, places
from checklists.facts import TO_BE_WEIGHED, Added, Converted, Counted, Move, Renewed
from checklists.next_act import next_act
from checklists.sheet import Line


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtWork:
    return AtWork(tmp_path)


def test_groups_come_in_pieces_and_say_where_each_is(work):
    work.shows("items")
    assert work.says("9 lines"), "tools"
    work.tap("Rags, covers, consumables")
    assert work.says("8 put away")
    work.tap("Rag")
    assert work.screen.title == "Rag"
    work.shows("items", group="parts")
    work.tap(has="M8 x 45 flange bolt, Inlet manifold")
    assert work.says("10 fitted to the inlet manifold")


def test_a_rag_into_use_torn_and_put_away(work):
    work.shows("items", line="rag")
    work.tap("Take into use")
    assert work.last == Counted((Move("rag", 1, places.STORES, places.BENCH),))
    assert work.says("7 put away and 1 on the bench")
    assert work.screen.out == 1
    work.tap("Tear in two")
    assert work.last == Converted(
        "torn in two",
        (Line("rag-piece", "Rag piece", "rag", 2, places.STORES),),
        (Move("rag", 1, places.BENCH, places.CONVERTED), Move("rag-piece", 2, places.ORIGIN, places.BENCH)),
    )
    work.tap("Tear in two")
    assert work.state.places_of("rag-piece") == {places.BENCH: 2, places.STORES: 2}
    work.shows("items", line="rag-piece")
    work.tap("Put away")
    work.tap("Put away")
    assert work.state.places_of("rag-piece") == {places.STORES: 4}


def test_what_lies_in_the_engine_is_taken_out_to_the_bench(work):
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.move("mirror", 1, places.STORES, places.inside("port-2")))
    work.shows("items", line="mirror")
    assert not work.says("Take into use")
    work.tap("Take it out, to the bench")
    assert work.last == Counted((Move("mirror", 1, places.inside("port-2"), places.BENCH),))


def test_taking_back_the_last_count_of_this_line(work):
    work.shows("items", line="rag")
    assert work.screen.take_back.disabled
    work.tap("Take into use")
    work.tap("Take back")
    assert work.state.places_of("rag") == {places.STORES: 8}
    assert work.says("8 put away")


def test_a_tool_over_the_open_engine_and_one_broken(work):
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.shows("items", line="mirror")
    work.tap("Put into or over the open engine")
    work.tap("Into Inlet port 2")
    work.act()
    assert work.last == Counted((Move("mirror", 1, places.STORES, places.inside("port-2")),))
    work.tap("Put away")
    work.tap("It broke")
    work.more(1)
    work.act()
    assert work.last == Converted(
        TO_BE_WEIGHED,
        (Line("inspection-mirror-piece", "Inspection mirror piece", "part", 3, places.STORES),),
        (Move("mirror", 1, places.STORES, places.CONVERTED),
         Move("inspection-mirror-piece", 3, places.ORIGIN, places.STORES)),
    )  # fmt: skip
    assert work.name == "pieces", "a broken part is accounted for at once"
    assert work.says("Broke: Inspection mirror")
    work.back()
    assert work.says("none left")


def test_what_broke_on_the_tally_is_led_to_the_weight_of_the_whole_and_then_its_pieces(work):
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.shows("items", line="mirror", do="break")
    work.act()
    assert next_act(work.state, work.now).do == "pieces", "walked away from, it is the next thing to do"
    assert touch.faults(work.screen) == []
    for label, text in (("Mass of the whole part", "84.6 g"), ("How far the one that broke can differ", "0.5 g"),
                        ("Scale reads to", "0.1 g")):  # fmt: skip
        work.types(label, text)
    work.act()
    work.act()
    assert work.last.kind == "part broken"
    assert work.last.line == "mirror"
    assert work.says("No piece is weighed yet")


def test_a_pack_opened_and_its_contents_counted(work):
    work.shows("items", line="wipe-pack")
    work.tap("Open a pack")
    work.types("What is inside, one of it", "Wipe")
    work.more(4)
    work.act()
    assert work.state.places_of("wipe") == {places.STORES: 5}
    assert work.state.lines["wipe"].kind == "consumable"


def test_bolts_renewed_and_more_added(work):
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.shows("items", line=BOLT)
    work.tap("Renew")
    work.more(1)
    work.types("Why", "thread damaged")
    work.act()
    assert isinstance(work.last, Renewed)
    assert work.last.moves[0] == Move(BOLT, 2, places.TRAY, places.SCRAP)
    assert work.state.places_of(BOLT) == {places.TRAY: 10, places.SCRAP: 2}
    work.tap("Add more of it")
    work.act()
    assert work.last == Added("", (Move(BOLT, 1, places.ORIGIN, places.TRAY),))


def test_scrap_and_nothing_left_to_do_it_with(work):
    work.shows("items", line="ratchet")
    work.tap("To scrap")
    assert work.state.places_of("ratchet") == {places.SCRAP: 1}
    assert {row for row, key in work.screen.rows.items() if not key.disabled} == {"add"}


def test_a_new_line_joins_the_tally_before_it_is_used(work):
    work.shows("items")
    work.tap("Add a new line")
    work.types("Name of one", "Borescope")
    work.types("How many", "1")
    work.tap("Tool")
    work.act()
    assert work.name == "items"
    assert work.state.places_of("borescope") == {places.STORES: 1}


def test_a_tap_on_a_line_changes_only_words(work):
    work.shows("items", line="rag")
    before = list(touch.visible(work.screen.body))
    key = work.key("Take into use")
    for _ in range(3):
        finger = touch.Finger(*touch.spot_of(key)).down()
        touch.settle(1)
        finger.up()
        touch.settle(20)
    assert list(touch.visible(work.screen.body)) == before
    assert work.says("5 put away and 3 on the bench")


def test_one_that_lies_in_two_places_is_taken_from_where_the_person_says(work):
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.shows("items", line="rag")
    work.tap("Take into use")
    work.tap("Put into or over the open engine")
    work.tap("Put away")
    work.tap("Into Inlet port 2")
    work.act()
    assert work.last == Counted((Move("rag", 1, places.STORES, places.inside("port-2")),))
