"""The board: how everything stands, and the one next act as the largest key."""

from pathlib import Path
from typing import Any

import pytest
from kept_photos import HAND
from screens import touch
from screens.at_the_desk import ADA, Hands, Phone

from checklists import builders
from checklists.next_act import next_act
from checklists.times import seconds_after
from mobileapp.screens.lead import way_to_act


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    return Phone(tmp_path)


def test_before_anything_else_the_cautions(phone):
    phone.begin("rocker-cover")
    phone.go("board")
    assert phone.screen.act_text == "Read the cautions"
    phone.act()
    assert phone.name == "cautions"


def test_the_large_key_says_the_next_act_and_leads_to_it(phone):
    phone.begin("rocker-cover")
    hands = Hands(phone)
    hands.until("count out")
    phone.go("board")
    act = next_act(phone.desk.state, phone.now)
    assert phone.screen.act_text == act.words
    assert way_to_act(act, phone.desk.state)[0] == "count_pad"
    phone.act()
    assert phone.name == "count_pad"
    assert phone.desk.trail[-1][1]["line"] == act.line


def test_closures_show_their_stage_and_how_many_fasteners_are_home(phone):
    phone.begin("rocker-cover")
    hands = Hands(phone)
    line = hands.until("count out").line
    hands.record(builders.count_out(phone.desk.state, line), ADA.name)
    phone.go("board")
    assert phone.says("loosened")
    assert phone.says("2 of 3 fasteners home")
    assert phone.says("since 08:00, Ada Berg")
    assert (phone.screen.out, phone.screen.in_engine, phone.screen.missing) == (1, 0, 0)


def test_an_uncovered_opening_runs_its_clock(phone):
    phone.begin("rocker-cover")
    Hands(phone).until("cover")
    phone.now = seconds_after(phone.now, 60)
    phone.go("board")
    assert phone.says("uncovered for 1:0")
    phone.now = seconds_after(phone.now, 3600)
    touch.settle(70)
    assert phone.says("uncovered for 1:01:0")


def test_alone_the_board_says_how_long_to_wait_and_when_it_is_over(phone):
    phone.begin("rocker-cover", people=(ADA,))
    act = Hands(phone).until("wait")
    phone.go("board")
    assert phone.screen.act_ready is False
    assert "min to go" in phone.screen.act_note
    phone.act()
    assert phone.name == "board"
    phone.now = act.until
    touch.settle(70)
    assert phone.screen.act_ready is True
    phone.act()
    assert phone.name == "second_count"


def test_why_it_cannot_be_closed_leads_to_every_reason(phone):
    phone.begin("rocker-cover")
    Hands(phone).until("count out")
    phone.go("board")
    phone.tap(text="Why can it not be closed?")
    assert phone.desk.trail[-1] == ("refusal", {"about": "close"})


@pytest.mark.parametrize(("word", "screen"), [
    ("Openings", "openings"), ("Items", "items"), ("Missing", "missing"), ("Finds", "find"),
    ("Add to sheet", "grow"), ("People", "people"), ("Workshop", "workshop"),
])
def test_every_way_from_the_board_has_a_key(phone, word, screen):
    phone.begin("rocker-cover")
    Hands(phone).until("count out")
    phone.go("board")
    phone.tap(text=word)
    assert phone.name == screen


def test_a_withdrawn_clearance_says_why_on_its_closure(phone):
    phone.begin("rocker-cover")
    hands = Hands(phone)
    act = hands.until("clear", 2)
    hands.do(act)
    rag = next(line.id for line in phone.desk.state.sheet.items if line.kind == "rag")
    space = phone.desk.state.openings[phone.desk.state.ways.openings_of[act.closure][0]].space
    hands.record(builders.move(rag, 1, "stores", "engine/" + space), ADA.name)
    phone.go("board")
    assert phone.says("Clearance withdrawn: a movement in its spaces after it was cleared.")


def test_a_closed_teardown_says_so_in_the_largest_type(phone):
    phone.begin("rocker-cover")
    Hands(phone).work()
    phone.go("board")
    _ends_as(phone, "CLOSED")


def test_a_released_teardown_is_not_called_closed(phone):
    phone.begin("rocker-cover")
    assert phone.desk.record(builders.release("a nut never found", "searched twice", "", HAND))
    phone.go("board")
    _ends_as(phone, "RELEASED, NOT CLEAR")
    assert "CLOSED" not in phone.texts()


def _ends_as(phone: Phone, word: str) -> None:
    label = touch.find(phone.shell, text=word)
    assert label.font_size == max(other.font_size for other in touch.labels(phone.shell))
    assert phone.says("A correct count is not proof of an empty engine")
    assert phone.screen.act_text == ""
    assert not phone.says("Log a drop")


def test_the_way_back_puts_the_teardown_down(phone):
    phone.begin("rocker-cover")
    phone.go("board")
    phone.back()
    assert phone.name == "teardowns"
    assert phone.desk.service is None


def test_a_killed_app_comes_back_to_the_board(phone):
    begun = phone.begin("rocker-cover")
    phone.go("board")
    phone.kill_and_start()
    assert (phone.name, phone.desk.work.id) == ("board", begun.id)


def test_the_board_says_who_holds_the_phone(phone):
    phone.begin("rocker-cover")
    phone.go("board")
    assert phone.says("Ada Berg holds the phone")
    phone.desk.hand_to("Jonas Wieland")
    phone.go("board")
    assert phone.says("Jonas Wieland holds the phone")
    assert not phone.says("Ada Berg holds")


@pytest.mark.parametrize("ending", ["closed", "released"])
def test_nothing_is_added_to_the_sheet_of_a_teardown_that_has_ended(phone, ending):
    phone.begin("rocker-cover")
    hands = Hands(phone)
    phone.go("board")
    touch.settle(10)
    assert "Add to sheet" in phone.texts()
    if ending == "closed":
        hands.until("ended")
    else:
        hands.record(builders.release("sold as it is", "everything", phone.desk.work.head), ADA.name)
    phone.go("board")
    touch.settle(10)
    assert "Closing sheet" in phone.texts()
    assert "Add to sheet" not in phone.texts()
