"""Two nuts lost at different times: one screen to search for both, and every reason against a release leads to it."""

import json
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.at_work import MANIFOLD, NUT
from screens.shop_hand import AtTheBench

from checklists import builders, places
from checklists.facts import Missed
from checklists.searches import search_reasons
from mobileapp.cli import main
from mobileapp.screens.lead import way_to_mend
from mobileapp.widgets.space_map import SpaceMap


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    """Ports 1 to 3 are capped as a nut is seen to drop; then another one is not in the tray."""
    work = AtTheBench(tmp_path)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    for port in (1, 2, 3):
        work.does(builders.cover(work.state, f"inlet-{port}", builders.cover_lines(work.state, f"inlet-{port}")[0]))
    work.does(builders.drop(work.state, NUT, 1, "beside port 4", places.TRAY))
    work.does(builders.miss(work.state, NUT, 1, places.TRAY))
    return work


def test_the_command_line_tells_the_same_places_in_the_same_words(work, capsys):
    work.opens("whereabouts")
    journal = str(work.folder / "journal.sqlite")
    assert main(["whereabouts", "--journal", journal]) == 0
    head, *lines = capsys.readouterr().out.splitlines()
    assert head == "2 M8 flange nuts, 1 dropped and 1 missing:"
    assert [line.strip() for line in lines[: len(work.screen.answer.reasons)]] == list(work.screen.answer.reasons)
    assert main(["whereabouts", "--journal", journal, "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)["missing"]
    assert [(loss["quantity"], loss["cause"]) for loss in row["losses"]] == [(1, "dropped"), (1, "missing")]
    assert [each["space"] for each in row["could_be"]] == [each.space for each in work.screen.answer.found]


def searched(work: AtTheBench, *spaces: str) -> None:
    for space in spaces:
        for who in (ADA, JONAS):
            work.does(builders.search(work.state, NUT, space, "magnet", "nothing"), who.name)


def test_both_are_on_one_screen_and_no_port_is_ruled_out_that_either_could_be_in(work):
    work.opens("whereabouts")
    assert work.says("2 M8 flange nuts")
    assert work.says(f"1 dropped, since 08:00, {ADA.name}\n1 missing, since 08:00, {ADA.name}")
    names = {line.name for line in touch.find(work.shell, cls=SpaceMap).lines if line.rank}
    assert {f"Inlet port {port}" for port in (1, 2, 3, 4)} <= names
    assert work.says("Inlet port 4 at the head stood uncovered as it fell")
    assert not any("leads to Inlet port" in words for words in work.texts())
    work.tap("Found it")
    assert work.says("the one that could be in the fewest places counts as found")


def test_once_the_first_is_searched_for_every_reason_left_leads_to_the_places_of_the_other(work):
    dropped, other = work.state.missing
    searched(work, *work.state.could_hold(dropped))
    left = work.state.could_hold(other) - work.state.could_hold(dropped)
    assert {"port-1", "port-2", "port-3"} <= left
    (reason,) = search_reasons(work.state)
    name, args = way_to_mend(reason, work.state)
    work.opens(name, **args)
    assert (work.screen.act_text, work.screen.next_place in left) == ("Search there", True)
    searched(work, *left - {work.screen.next_place})
    work.act()
    work.chooses("Mirror")
    work.chooses("It was not there")
    work.types("What was seen", "bare metal")
    work.act()
    work.waits()
    assert (work.screen.act_ready, work.screen.act_note) == (False, f"A second time, by {JONAS.name}")
    work.does(builders.search(work.state, NUT, work.last.where, "magnet", "nothing"), JONAS.name)
    assert search_reasons(work.state) == ()


def test_one_that_can_be_in_no_space_leads_to_round_about(kivy_window, tmp_path):
    work = AtTheBench(tmp_path)
    work.works_until("count out")
    work.does(Missed("", builders.miss(work.state, "rag", 1, places.STORES).moves))
    (reason,) = search_reasons(work.state)
    name, args = way_to_mend(reason, work.state)
    work.opens(name, **args)
    assert work.screen.act_text == "Search round about"
    work.act()
    work.types("Where", "bilge below the starter")
    work.chooses("By eye")
    work.chooses("It was not there")
    work.types("What was seen", "dry and empty")
    work.act()
    work.waits()
    assert work.says("Say in words where. Searched: eye, Ada Berg. Due a second time.")
    assert work.screen.act_note == f"A second time, by {JONAS.name}"
