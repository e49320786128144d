"""What is missing: since when, by whom, where last, where it could be; found again; and the drop log."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from kivy.uix.label import Label
from screens import touch
from screens.at_the_desk import ADA
from screens.at_work import MANIFOLD, NUT, AtWork

from checklists import builders, places
from checklists.facts import Found, Missed, Move
from checklists.next_act import next_act
from checklists.times import seconds_after
from mobileapp.screens.aside import finish
from mobileapp.screens.lead import way_to_act


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtWork:
    work = AtWork(tmp_path)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    return work


def test_a_dropped_nut_with_every_space_it_could_be_in(work):
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.shows("missing")
    assert work.says("1 M8 flange nut")
    assert work.says(f"dropped, since 08:00, {ADA.name}")
    assert work.says("Last in the tray.")
    assert work.says("Near: beside port 2.")
    could = next(words for words in work.texts() if words.startswith("It could be in "))
    assert all(f"inlet port {n}" in could and f"cylinder {n}" in could for n in (1, 2, 3, 4))
    assert "oolant" not in could, "its openings were covered"


def test_found_again_it_is_struck_in_the_drop_log_with_the_time_it_took(work):
    work.does(builders.drop(work.state, NUT, 2, "beside port 2", places.TRAY))
    work.now = seconds_after(work.now, 13 * 60)
    work.shows("missing")
    work.tap("Found it")
    assert not work.screen.act_ready
    work.types("Where it was found", "under the starter")
    work.more(1)
    work.act()
    assert work.last == Found("under the starter", (Move(NUT, 2, places.MISSING, places.TRAY),))
    assert work.name == "missing"
    assert work.says("Nothing is missing")
    struck = [w.text for w in touch.visible(work.screen) if isinstance(w, Label) and w.strikethrough]
    assert len(struck) == 1
    assert struck[0].endswith("2 M8 flange nuts, beside port 2")
    assert work.says("found: under the starter, at 08:13 by Ada Berg, after 13 min")
    following = next_act(work.state, work.now)
    assert following.words.startswith(work.screen.act_text), "the way goes on to the next act"
    work.act()
    assert work.name == way_to_act(following, work.state)[0]


def test_the_next_act_searches_where_it_could_be_and_from_there_it_is_counted_found(work):
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.shows("board")
    work.act()
    assert (work.name, work.desk.trail[-1][1]["line"]) == ("whereabouts", NUT)
    finish()
    touch.settle()
    work.tap("All that is missing")
    assert work.name == "missing"
    assert work.says("It will not be found")
    work.back()
    work.tap("Found it")
    work.types("Where it was found", "in the bilge")
    work.act()
    assert isinstance(work.last, Found)
    assert work.says("Nothing is missing")
    work.back()
    assert work.name == "board"


def test_found_on_the_way_from_a_refusal_the_way_leads_back_to_it(work):
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.shows("refusal", about="closure", closure=MANIFOLD)
    work.act()
    assert work.name == "whereabouts"
    work.tap("Found it")
    work.types("Where it was found", "in the bilge")
    work.act()
    assert work.screen.act_text == "Back to what was refused"


def test_what_could_be_in_no_space_leads_to_the_list_of_what_is_missing(kivy_window, tmp_path):
    work = AtWork(tmp_path)
    work.works_until("count out")
    work.does(builders.miss(work.state, "rag", 1, places.STORES))
    work.shows("board")
    work.act()
    assert work.name == "missing"


def test_one_of_two_found_leaves_one_missing(work):
    work.does(builders.drop(work.state, NUT, 2, "", places.TRAY))
    work.shows("missing", line=NUT)
    work.tap("Found it")
    work.types("Where it was found", "in a pocket")
    work.tap("On the bench")
    work.act()
    assert work.last == Found("in a pocket", (Move(NUT, 1, places.MISSING, places.BENCH),))
    assert work.says("1 M8 flange nut")
    assert work.screen.missing == 1


def test_saying_that_something_is_not_where_it_should_be(work):
    work.shows("missing")
    work.tap("Say that something is missing")
    work.tap("M8 flange nut")
    work.types("What you noticed (may be left empty)", "tray knocked over")
    work.act()
    assert work.last == Missed("tray knocked over", (Move(NUT, 1, places.TRAY, places.MISSING),))
    assert work.name == "missing"
    assert work.says("missing, since 08:00, Ada Berg")


def test_a_killed_app_comes_back_to_half_a_finding(work):
    work.does(builders.drop(work.state, NUT, 1, "", places.TRAY))
    work.shows("missing")
    work.tap("Found it")
    work.types("Where it was found", "in the bilge")
    work.kill_and_start()
    assert work.fields("Where it was found")[0].text == "in the bilge"
    work.act()
    assert isinstance(work.last, Found)


def test_short_from_the_start_it_could_be_anywhere(kivy_window, tmp_path):
    work = AtWork(tmp_path)
    work.does(builders.short_at_start(work.state, "coolant-crossover.bolt-m6", 1, "photos/empty-hole.jpg"))
    work.shows("missing")
    assert work.says("short at the start, since 08:00, Ada Berg")
    assert work.says("It may have been inside all along, in any space.")
