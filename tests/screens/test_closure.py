"""One closure: what can be done with it at each stage, and where."""

from pathlib import Path
from typing import Any

import pytest
from screens.at_the_desk import ADA, Hands, Phone

from checklists import builders
from mobileapp.screens.closure_choices import choices


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    phone = Phone(tmp_path)
    phone.begin("rocker-cover")
    return phone


def offered(phone: Phone, closure: str) -> list[str]:
    return [choice.text for choice in choices(phone.desk.state, closure)]


def test_tapping_a_closure_on_the_board_opens_it(phone):
    Hands(phone).until("count out")
    phone.go("board")
    phone.tap(text="Breather pipe")
    assert phone.name == "closure"
    assert phone.screen.title == "Breather pipe"
    assert phone.says("3 of 3 fasteners home")


def test_what_can_be_done_follows_the_stage(phone):
    hands = Hands(phone)
    line = hands.until("count out").line
    closure = "breather-pipe"
    assert offered(phone, closure) == [
        "Count out 2 M6 x 16 flange bolts", "Count out 1 × hose clip 25 mm", "Lift check, then lift it",
        "Add to this closure",
    ]
    hands.record(builders.count_out(phone.desk.state, line), ADA.name)
    assert offered(phone, closure)[:2] == ["Count out 1 M6 x 16 flange bolt", "Count out 1 × hose clip 25 mm"]
    assert "Count back 1 M6 x 16 flange bolt" in offered(phone, closure)
    hands.until("cover")
    assert "Sign it as cleared to refit" in offered(phone, closure)
    assert not any(text.startswith("Count back") for text in offered(phone, closure))


def test_a_choice_says_how_many_reasons_stand_against_it(phone):
    Hands(phone).until("cover")
    phone.go("closure", closure="breather-pipe")
    assert phone.texts().count("1 reason against it now") == 1, "the key that signs does not say it again"
    assert "not yet" in phone.texts()
    phone.tap(text="Why can it not be closed?")
    assert phone.desk.trail[-1] == ("refusal", {"about": "closure", "closure": "breather-pipe"})


def test_counting_out_leads_to_the_count_pad_of_that_line(phone):
    line = Hands(phone).until("count out").line
    phone.go("closure", closure="breather-pipe")
    phone.tap(text="Count out 2 M6 x 16 flange bolts")
    assert phone.name == "count_pad"
    args = phone.desk.trail[-1][1]
    assert (args["line"], args["source"], args["target"]) == (line, "fitted/breather-pipe", "tray")


def test_the_next_act_is_offered_only_on_its_own_closure(phone):
    Hands(phone).until("count out")
    phone.go("closure", closure="breather-pipe")
    assert phone.screen.act_text.startswith("Count out 2")
    phone.go("closure", closure="rocker-cover")
    assert phone.screen.act_text == ""


def test_nothing_is_offered_once_the_teardown_has_ended(phone):
    Hands(phone).work()
    phone.go("closure", closure="rocker-cover")
    assert offered(phone, "rocker-cover") == []
    assert phone.says("This teardown is closed: nothing more is done on it.")


def test_that_the_work_is_finished_can_be_said_while_the_board_asks_for_something_else(phone):
    hands = Hands(phone)
    hands.until("cover")
    hands.record(builders.miss(phone.desk.state, "rag", 1, "stores"), ADA.name)
    phone.go("closure", closure="breather-pipe")
    phone.tap("The work is finished: start closing up")
    phone.act()
    assert phone.desk.state.work_done is not None
    assert "The work is finished: start closing up" not in offered(phone, "breather-pipe")
