"""The second count through the screen: handed over, blind, place by place, side by side; alone after a pause."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.counting_phone import CountingPhone

from checklists import builders, places, second_count
from checklists.facts import SecondCounted
from checklists.times import clock_face, seconds_after
from mobileapp.widgets.running_tally import TallyCell


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """Before the inlet manifold goes back; Ada holds the phone and worked there last."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    act = phone.until("second count", closure="inlet-manifold")
    phone.go("second_count", closure=act.closure, who=act.who)
    return phone


def tally_of(phone: CountingPhone) -> list[int]:
    state = phone.desk.state
    return [state.quantity(*pair) for pair in second_count.count_list(state, "inlet-manifold")]


def count(phone: CountingPhone, figures: list[int]) -> None:
    """Count these figures, one pad after the other."""
    for figure in figures:
        phone.now = seconds_after(phone.now, 1)
        phone.tap_pad(figure)
        phone.act()


def hand_over(phone: CountingPhone) -> None:
    phone.act()
    phone.act()


def test_the_one_who_worked_there_last_is_not_asked_and_the_phone_changes_hands(phone: CountingPhone) -> None:
    assert phone.desk.who == ADA.name
    assert phone.says("Ada Berg worked there last")
    assert phone.screen.act_text == "Hand the phone to Jonas Wieland"
    phone.act()
    assert phone.desk.who == ADA.name
    assert phone.screen.act_text == "I am Jonas Wieland: start the count"
    phone.act()
    assert phone.desk.who == JONAS.name


def test_nothing_on_the_pads_depends_on_how_many_there_are(tmp_path: Path, kivy_window: Any) -> None:
    """The same walk over two jobs that differ in one port cap shows the same words and figures at every pad."""
    walks = []
    for name in ("whole", "one cap scrapped"):
        (tmp_path / name).mkdir()
        phone = CountingPhone(tmp_path / name)
        phone.begin("inlet-manifold-inline-four")
        act = phone.until("second count", closure="inlet-manifold")
        if name != "whole":
            phone.hands.record(builders.move("port-cap", 1, places.STORES, places.SCRAP), ADA.name)
        phone.go("second_count", closure=act.closure, who=act.who)
        hand_over(phone)
        walk = []
        for _ in tally_of(phone):
            phone.tap_pad(1)
            assert (phone.screen.blind.blind, phone.screen.blind.total) == (True, 0)
            walk.append(phone.texts())
            phone.act()
        walks.append(walk)
    assert walks[0] == walks[1]


def test_the_running_tally_keeps_its_figures_from_the_counter_and_gives_them_back_after(phone: CountingPhone) -> None:
    def figures() -> list[str]:
        return [cell.children[1].children[0].text for cell in touch.find_all(phone.screen, cls=TallyCell)]

    shown = figures()
    assert any(text != "0" for text in shown)
    hand_over(phone)
    assert figures() == ["–"] * 3
    count(phone, tally_of(phone))
    assert figures() == shown


def test_a_count_that_agrees_is_recorded_and_leads_on(phone: CountingPhone) -> None:
    hand_over(phone)
    count(phone, tally_of(phone))
    entry = phone.journal.entries(phone.desk.work.id)[-1]
    assert isinstance(entry.fact, SecondCounted)
    assert entry.who == JONAS.name
    assert [seen.quantity for seen in entry.fact.entries] == tally_of(phone)
    assert not entry.fact.alone
    every = len(tally_of(phone))
    assert phone.says(f"{every} of {every} counts agree")
    assert phone.says("A correct count is not proof of an empty engine.")
    phone.tap("Hand the phone back to Ada Berg")
    assert phone.desk.who == ADA.name
    phone.act()
    assert phone.name == "sign_off"


def test_none_here_is_a_count_too(phone: CountingPhone) -> None:
    hand_over(phone)
    assert phone.screen.act_text == "None here"
    phone.tap_pad(1)
    assert phone.screen.act_text == "1 here"
    phone.tap("Take back")
    assert phone.screen.act_text == "None here"
    phone.act()
    assert phone.desk.draft["seen"] == [], "so soon it is the second tap on the key that led here"
    phone.now = seconds_after(phone.now, 1)
    phone.act()
    assert phone.desk.draft["seen"] == [0]


def test_a_count_left_in_the_middle_is_dropped_and_the_phone_goes_back(phone: CountingPhone) -> None:
    before = len(phone.journal.entries(phone.desk.work.id))
    hand_over(phone)
    count(phone, tally_of(phone)[:2])
    phone.back()
    assert phone.says("Count dropped")
    assert phone.says("Ada Berg holds the phone now.")
    assert phone.desk.who == ADA.name
    phone.kill_and_start()
    assert phone.says("Count dropped")
    phone.act()
    assert (phone.name, phone.desk.who) == ("board", ADA.name)
    assert len(phone.journal.entries(phone.desk.work.id)) == before


def test_the_phones_own_back_key_drops_it_too_and_on_the_first_screen_leaves_the_app(phone: CountingPhone) -> None:
    hand_over(phone)
    assert phone.shell.on_key(None, 27)
    assert phone.says("Count dropped")
    assert phone.shell.on_key(None, 27)
    assert phone.name == "board"
    assert phone.shell.on_key(None, 27)
    assert phone.name == "teardowns"
    assert not phone.shell.on_key(None, 27), "left to the phone"
    assert not phone.shell.on_key(None, 13)


def test_what_differs_is_shown_side_by_side_and_leads_to_the_recount(phone: CountingPhone) -> None:
    hand_over(phone)
    seen = tally_of(phone)
    short = next(number for number, figure in enumerate(seen) if figure > 1)
    seen[short] -= 1
    count(phone, seen)
    assert phone.says(f"1 of {len(seen)} counts differ")
    assert phone.says(f"Counted {seen[short]}, the tally has {seen[short] + 1}. Settle it")
    phone.act()
    assert phone.name == "recount"
    line, place = second_count.count_list(phone.desk.state, "inlet-manifold")[short]
    assert (phone.screen.line, phone.screen.place) == (line, place)


def test_an_interrupted_count_starts_its_category_again_and_says_so(phone: CountingPhone) -> None:
    pairs = second_count.count_list(phone.desk.state, "inlet-manifold")
    first_in_tray = next(number for number, (_, place) in enumerate(pairs) if place == places.TRAY)
    hand_over(phone)
    count(phone, tally_of(phone)[: first_in_tray + 2])
    phone.tap_pad(1)
    phone.kill_and_start()
    assert phone.name == "second_count"
    assert phone.desk.who == JONAS.name
    assert len(phone.desk.draft["seen"]) == first_in_tray
    assert phone.screen.blind.counted == 0
    assert phone.says("The count was interrupted: the tray is counted again from the beginning.")


def test_a_movement_meanwhile_starts_the_whole_count_again(phone: CountingPhone) -> None:
    hand_over(phone)
    count(phone, tally_of(phone)[:2])
    phone.hands.record(builders.move("torch", 1, places.STORES, places.BENCH), ADA.name)
    phone.kill_and_start()
    assert phone.desk.draft["seen"] == []
    assert phone.says("Something was moved meanwhile: the count starts from the beginning.")


def test_alone_the_pause_runs_down_and_only_then_it_starts(tmp_path: Path, kivy_window: Any) -> None:
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four", people=(ADA,))
    act = phone.until("wait")
    phone.go("second_count", closure=act.closure, who=act.who)
    until = act.until
    assert phone.says(f"Pause until {clock_face(until)}")
    assert not phone.screen.act_ready
    phone.now = seconds_after(until, -65)
    phone.screen.tick()
    assert phone.says("1:05 to go")
    phone.now = until
    phone.screen.tick()
    assert phone.screen.act_text == "Start the re-inspection"
    phone.act()
    count(phone, tally_of(phone))
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, SecondCounted)
    assert fact.alone
    assert phone.says("counts agree")
