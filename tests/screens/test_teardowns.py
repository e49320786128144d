"""The first screen: nothing yet, several teardowns, and taking one in hand."""

from pathlib import Path
from typing import Any

import pytest
from kept_photos import HAND
from screens.at_the_desk import ADA, Hands, Phone

from checklists import builders


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    return Phone(tmp_path)


def test_an_empty_list_says_what_to_do_and_leads_there(phone):
    phone.show()
    assert phone.says("No teardown yet.")
    assert phone.says("Before the first bolt comes off")
    phone.act()
    assert phone.name == "start"


def test_each_teardown_shows_how_it_stands_in_words_and_figures(phone):
    phone.begin("rocker-cover", "Port engine")
    Hands(phone).until("lift")
    phone.begin("rocker-cover", "Starboard engine")
    assert phone.desk.record(builders.release("a nut never found", "searched twice", "", HAND))
    phone.now = "2026-03-04T09:30:00.000+01:00"
    phone.show()
    texts = phone.texts()
    assert texts[:6] == ["Teardowns", "Starboard engine", "Rocker cover off", "released, not clear",
                         "0 out, 0 in the engine, 0 missing", "last at 2026-03-02 08:00"]
    assert texts[6:9] == ["Port engine", "Rocker cover off", "open"]
    assert "3 out, 0 in the engine, 0 missing" in texts[9:]


def test_tapping_a_teardown_opens_its_board(phone):
    first = phone.begin("rocker-cover", "Port engine")
    phone.begin("rocker-cover", "Starboard engine")
    phone.show()
    assert phone.desk.service is None
    phone.tap(text="Port engine")
    assert phone.name == "board"
    assert phone.desk.work.id == first.id
    assert phone.desk.who == ADA.name


def test_a_long_list_comes_in_pieces_of_nine(phone):
    for number in range(11):
        phone.now = f"2026-03-02T08:{number:02}:00.000+01:00"
        phone.begin("rocker-cover", f"Engine {number}")
    phone.show()
    assert phone.says("Engine 10")
    assert "Engine 1" not in phone.texts()
    phone.tap(text="Show older ones")
    assert "Engine 0" in phone.texts()


def test_a_teardown_whose_entries_are_damaged_says_so(phone):
    phone.begin("rocker-cover", "Port engine")
    with phone.journal.transaction() as conn:
        conn.execute("DROP TRIGGER event_never_changed")
        conn.execute("UPDATE event SET body = '{}'")
    phone.desk.to_teardowns()
    phone.show()
    phone.tap(text="Port engine")
    assert phone.name == "trouble"
    assert phone.says("is damaged")
    phone.act()
    assert phone.name == "teardowns"


def test_starting_on_a_damaged_teardown_says_so_and_leads_to_the_list(phone):
    phone.begin("rocker-cover", "Port engine")
    phone.go("board")
    with phone.journal.transaction() as conn:
        conn.execute("DROP TRIGGER event_never_changed")
        conn.execute("UPDATE event SET body = '{}'")
    phone.kill_and_start()
    assert phone.name == "trouble"
    assert phone.says("is damaged")
    phone.back()
    assert phone.name == "teardowns"
    assert "Port engine" in phone.texts()
