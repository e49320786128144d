"""The second count through the screen: handed over, blind, place by place, side by side; alone after a pause."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from kept_photos import photo_first
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.blind_hand import walks
from screens.counting_phone import CountingPhone

from checklists import builders, places, second_count
from checklists.blind_walk import stops, walked
from checklists.facts import Dropped, FindLogged, Move, SecondCounted
from checklists.times import clock_face, seconds_after
from mobileapp.widgets.row import ChoiceRow
from mobileapp.widgets.running_tally import TallyCell


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """Before the inlet manifold goes back; Ada holds the phone and worked there last."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    act = phone.until("second count", closure="inlet-manifold")
    phone.go("second_count", closure=act.closure, who=act.who)
    return phone


def tally_of(phone: CountingPhone) -> dict[tuple[str, str], int]:
    state = phone.desk.state
    return {pair: state.quantity(*pair) for pair in second_count.count_list(state, "inlet-manifold")}


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


def test_nothing_on_the_walk_depends_on_what_the_tally_has_there(tmp_path: Path, kivy_window: Any) -> None:
    """The same walk over two jobs that differ in a scrapped cap and a rag shows the same words and figures; and so does
    what leads away from it, as logging a drop."""
    walks_seen = []
    for name in ("whole", "one cap scrapped"):
        (tmp_path / name).mkdir()
        phone = CountingPhone(tmp_path / name)
        phone.begin("inlet-manifold-inline-four")
        act = phone.until("second count", closure="inlet-manifold")
        phone.hands.record(builders.move("rag", 1, places.STORES, places.BENCH), ADA.name)
        if name == "whole":
            phone.hands.record(builders.move("rag", 1, places.BENCH, places.STORES), ADA.name)
        else:
            phone.hands.record(builders.move("port-cap", 1, places.STORES, places.SCRAP), ADA.name)
        phone.go("second_count", closure=act.closure, who=act.who)
        hand_over(phone)
        seen = []
        phone.tap("Log a drop")
        seen.append(sorted(phone.texts()))
        phone.tap("Port cap")
        seen.append(phone.texts())
        phone.back()
        phone.back()
        while phone.desk.draft["step"] == "count":
            seen.append(phone.texts())
            phone.now = seconds_after(phone.now, 1)
            phone.act()
        walks_seen.append(seen)
    assert len(walks_seen[0]) == 8
    assert walks_seen[0] == walks_seen[1]


def test_each_place_offers_every_line_and_ends_with_the_counters_own_statement(phone: CountingPhone) -> None:
    hand_over(phone)
    assert phone.says("Place 1 of 6")
    assert phone.says("In, on and over the engine")
    assert (phone.screen.act_text, phone.screen.act_note) == ("Nothing here", "then the tray")
    walks(phone, {}, until=1)
    names = []
    while any(text.endswith(" more") for text in phone.texts()):
        phone.tap(next(text for text in phone.texts() if text.endswith(" more")))
    rows = touch.find_all(phone.screen, cls=ChoiceRow)
    names = [row.text for row in rows]
    assert sorted(names) == sorted(line.name for line in phone.desk.state.lines.values())
    assert phone.desk.state.lines["inlet-manifold.bolt-m8"].name in names[:9]
    phone.tap("M8 x 45 flange bolt")
    phone.tap_pad(2)
    assert phone.screen.act_text == "2 here"
    phone.act()
    assert phone.says("2 counted")
    assert phone.screen.act_text == "That is all here"
    assert touch.find_all(phone.screen, cls=ChoiceRow) == rows  # the very same, not one of them made again
    assert [row.text for row in rows if row.chosen] == ["M8 x 45 flange bolt"]
    phone.tap("Torch")
    phone.back()
    assert [row.text for row in rows if row.chosen] == ["M8 x 45 flange bolt"]
    phone.tap("M8 x 45 flange bolt")
    phone.now = seconds_after(phone.now, 2)
    phone.act()
    assert not phone.says("2 counted")
    assert not any(row.chosen for row in rows)


def test_what_lies_in_a_port_is_entered_at_its_spot(phone: CountingPhone) -> None:
    hand_over(phone)
    walks(phone, {("torch", "engine/port-1"): 1})
    assert phone.desk.state.discrepancies["torch", "engine/port-1"].seen == 1
    assert phone.says("Misplaced: 1 torch in inlet port 1")
    assert phone.says("The tally has it put away. Move it on the tally")
    phone.tap(has="Misplaced: 1 torch")
    assert (phone.name, phone.screen.source, phone.screen.target) == ("count_pad", places.STORES, "engine/port-1")
    phone.tap_pad(1)
    assert ("torch", "engine/port-1") not in phone.desk.state.discrepancies


def test_something_on_no_list_is_noted_blind_and_logged_once_the_counts_are_compared(phone: CountingPhone) -> None:
    """Nothing is said of what is expected; it is left as it lies, for a find is photographed before it is touched."""
    hand_over(phone)
    lies = {pair: number for pair, number in tally_of(phone).items() if number}
    walks(phone, {pair: number for pair, number in lies.items() if pair[1] != places.FLOOR}, until=4)
    assert phone.says("The floor")
    phone.tap("Something that is on no list")
    assert phone.says("Noted. Leave it as it lies: after the count it is logged")
    assert touch.faults(phone.shell) == []
    phone.tap("Something that is on no list")
    assert phone.says("Touch here to note it"), "a second touch takes it back"
    phone.tap("Something that is on no list")
    assert phone.screen.act_text == "That is all here"
    assert phone.desk.state.finds == {}
    walks(phone, {pair: number for pair, number in lies.items() if pair[1] == places.STORES})
    assert phone.says("counts agree")
    assert phone.says("Something on no list, on the floor")
    assert phone.screen.act_text == "Log what is on no list"
    assert touch.faults(phone.shell) == []
    phone.act()
    assert (phone.name, phone.screen.title) == ("find", "Log a find")
    for fact in photo_first(phone.desk.state, FindLogged("f1", "a washer", "", "lies.jpg"), phone.now):
        phone.hands.record(fact, JONAS.name)
    phone.back()
    assert not phone.says("Something on no list")
    assert phone.screen.act_text != "Log what is on no list"


def figures(phone: CountingPhone) -> list[str]:
    return [cell.children[1].children[0].text for cell in touch.find_all(phone.screen, cls=TallyCell)]


def test_a_count_that_agrees_is_recorded_and_leads_on(phone: CountingPhone) -> None:
    """In few taps beside one for each item: two for each line that lies somewhere, one for each place, a few for more
    of the list. The running tally keeps its figures from the counter meanwhile."""
    shown = figures(phone)
    assert any(text != "0" for text in shown)
    phone.act()
    assert phone.says("You are not told what to expect.")
    assert figures(phone) == ["–"] * 3
    phone.act()
    assert figures(phone) == ["–"] * 3
    lies = {pair: number for pair, number in tally_of(phone).items() if number}
    taps = walks(phone, lies)
    assert taps - sum(lies.values()) <= 2 * len(lies) + 6 + 6
    assert figures(phone) == shown
    entry = phone.journal.entries(phone.desk.work.id)[-1]
    assert isinstance(entry.fact, SecondCounted)
    assert entry.who == JONAS.name
    assert {(seen.line, seen.place): seen.quantity for seen in entry.fact.entries} == tally_of(phone)
    assert entry.fact.places == walked(stops(phone.desk.state))
    assert not entry.fact.alone
    every = len(tally_of(phone))
    assert phone.says(f"{every} of {every} counts agree")
    assert phone.says("A correct count is not proof of an empty engine.")
    phone.tap("Hand the phone back to Ada Berg")
    assert phone.desk.who == ADA.name
    phone.act()
    assert phone.name == "sign_off"


def test_nothing_here_is_a_statement_and_not_a_double_tap(phone: CountingPhone) -> None:
    hand_over(phone)
    phone.act()
    assert phone.desk.draft["stop"] == 0, "so soon it is the second tap on the key that led here"
    walks(phone, {}, until=2)
    phone.tap("Port cap")
    phone.tap_pad(1)
    phone.tap("Take back")
    assert phone.screen.act_text == "None here"
    phone.now = seconds_after(phone.now, 1)
    phone.act()
    assert phone.screen.act_text == "Nothing here"
    phone.tap("Port cap")
    phone.back()
    assert phone.says("The bench"), "one step back is to the place, the count goes on"


def test_a_count_left_in_the_middle_is_dropped_and_the_phone_goes_back(phone: CountingPhone) -> None:
    before = len(phone.journal.entries(phone.desk.work.id))
    hand_over(phone)
    walks(phone, {}, until=2)
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
    had = tally_of(phone)
    walks(phone, {})
    short = [pair for pair, figure in had.items() if figure]
    assert phone.says(f"{len(short)} of {len(had)} counts differ")
    assert phone.says(f"Counted 0, the tally has {had[short[0]]}. Settle it")
    phone.act()
    assert phone.name == "recount"
    assert (phone.screen.line, phone.screen.place) == short[0]


def test_an_interrupted_count_starts_its_place_again_and_says_so(phone: CountingPhone) -> None:
    hand_over(phone)
    walks(phone, {}, until=1)
    phone.tap("M8 x 45 flange bolt")
    phone.tap_pad(1)
    phone.kill_and_start()
    assert phone.name == "second_count"
    assert phone.desk.who == JONAS.name
    assert phone.desk.draft["stop"] == 1
    assert [place for _, place, _ in phone.desk.draft["seen"] if place == places.TRAY] == []
    assert phone.says("The count was interrupted: the tray is counted again from the beginning.")


def test_a_movement_meanwhile_starts_the_whole_count_again(phone: CountingPhone) -> None:
    hand_over(phone)
    walks(phone, {}, until=1)
    phone.hands.record(builders.move("torch", 1, places.STORES, places.BENCH), ADA.name)
    phone.kill_and_start()
    assert (phone.desk.draft["stop"], phone.desk.draft["seen"]) == (0, [])
    assert phone.says("Something was recorded meanwhile: the count starts from the beginning.")


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
    walks(phone, {})
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, SecondCounted)
    assert fact.alone


def test_a_drop_is_logged_from_the_count_in_two_taps_and_no_figure_is_told(phone: CountingPhone) -> None:
    """The place it came from is the likeliest; then the count starts again, for something moved."""
    hand_over(phone)
    walks(phone, {}, until=1)
    phone.tap("Log a drop")
    assert figures(phone) == ["–"] * 3
    assert not any(words in phone.words() for words in ("in the tray", "put away", "on the bench", "covering"))
    phone.tap("M8 x 45 flange bolt")
    assert figures(phone) == ["–"] * 3
    assert not phone.says("How many fell"), "how far it goes would tell how many there are"
    phone.tap("Nobody saw where it went")
    entry = phone.journal.entries(phone.desk.work.id)[-1]
    bolt = "inlet-manifold.bolt-m8"
    assert (entry.fact, entry.who) == (Dropped("", (Move(bolt, 1, places.TRAY, places.MISSING),)), JONAS.name)
    phone.kill_and_start()
    assert phone.says("Stop")
    assert figures(phone) == ["–"] * 3
    phone.tap("Back to the count")
    assert phone.says("Something was recorded meanwhile: the count starts from the beginning.")
    assert phone.says("Place 1 of 6")


def test_searching_for_what_fell_ends_the_count(phone: CountingPhone) -> None:
    """The search shows what the tally has: whoever saw that does not go on counting as if they had not."""
    hand_over(phone)
    walks(phone, {}, until=1)
    phone.tap("Log a drop")
    phone.tap("M8 x 45 flange bolt")
    phone.tap("Nobody saw where it went")
    assert phone.screen.act_note == "the count ends"
    phone.act()
    assert (phone.name, phone.desk.who) == ("missing", JONAS.name)
    assert figures(phone) != ["–"] * 3
    phone.back()
    assert phone.says("Count dropped")
    phone.tap("Hand the phone back to Ada Berg")
    assert phone.desk.who == ADA.name


def test_a_drop_that_the_tally_refuses_ends_the_count_too(phone: CountingPhone) -> None:
    """The refusal says what the tally has."""
    caps = phone.desk.state.places_of("port-cap")
    for place, number in caps.items():
        phone.hands.record(builders.move("port-cap", number, place, places.SCRAP), ADA.name)
    phone.go("second_count", closure="inlet-manifold")
    hand_over(phone)
    phone.tap("Log a drop")
    phone.tap("Port cap")
    phone.tap("Nobody saw where it went")
    assert phone.name == "refusal"
    for _ in range(3):
        phone.back()
    assert phone.says("Count dropped")


def test_alone_with_the_clock_set_back_it_is_said_what_to_do(tmp_path: Path, kivy_window: Any) -> None:
    """In the evening the phone takes its time from a network far away: the pause would last into the morning."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four", people=(ADA,))
    act = phone.until("wait")
    phone.now = seconds_after(act.until, -8 * 3600 - 600)
    phone.go("board")
    assert phone.says("Set the clock right, or 8 h 10 min to go")
    phone.go("second_count", closure=act.closure)
    assert phone.says("The clock was set back: the last work is written down at")
    assert phone.says(f"Set the clock right. If it is right, let the pause run by it, until {clock_face(act.until)}.")
    assert not phone.screen.act_ready
    assert touch.faults(phone.shell) == []
    phone.now = seconds_after(act.until, -30)
    phone.screen.tick()
    assert not phone.says("The clock was set back"), "the clock is right again"
    phone.now = act.until
    phone.screen.tick()
    assert phone.screen.act_ready
