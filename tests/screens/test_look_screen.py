"""The closeout look: nothing is chosen for the person; not clear leads on to the find."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens.keeping_phone import KeepingPhone

from checklists.facts import Looked
from mobileapp.screens.find import where_seen


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> KeepingPhone:
    """At the first look before a closure goes back."""
    phone = KeepingPhone(tmp_path)
    phone.begin()
    phone.take_photo()
    act = phone.until("look")
    phone.go("look", opening=act.opening)
    return phone


def last(phone: KeepingPhone) -> Looked:
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, Looked)
    return fact


def fill(phone: KeepingPhone, seen: str, clear: str) -> None:
    phone.tap(seen)
    phone.tap(has="Photo of the inside")
    phone.chooses_photo()
    if phone.screen.clear_or_not.value != clear.lower():
        phone.tap(clear)


def test_nothing_is_chosen_beforehand_and_the_key_says_what_is_still_due(phone: KeepingPhone) -> None:
    assert not phone.screen.act_ready
    assert phone.screen.act_note == "Still to say: what you see, a photo, clear or not"
    phone.tap("Clear")
    assert phone.screen.act_note == "Still to say: what you see, a photo"


def test_clear_is_recorded_with_words_and_photo_and_leads_on(phone: KeepingPhone) -> None:
    opening = phone.screen.opening
    fill(phone, "Clean and dry, nothing inside", "Clear")
    phone.act()
    fact = last(phone)
    assert (fact.opening, fact.clear, fact.seen) == (opening, True, "Clean and dry, nothing inside")
    assert phone.name_of(fact.photo) == "IMG_0001.jpg"
    assert phone.name in ("look", "openings", "second_count", "sign_off", "count_pad")


def test_not_clear_is_recorded_and_leads_to_the_find(phone: KeepingPhone) -> None:
    opening = phone.screen.opening
    fill(phone, "Something is in there", "Not clear")
    phone.act()
    assert not last(phone).clear
    assert phone.name == "find"
    assert phone.desk.draft["where"] == where_seen(phone.desk.state.openings[opening])
    assert phone.name_of(phone.desk.draft["photo"]) == "IMG_0001.jpg"


def test_a_half_filled_look_survives_a_kill(phone: KeepingPhone) -> None:
    phone.tap("A film of oil, nothing else inside")
    phone.kill_and_start()
    assert phone.name == "look"
    assert phone.screen.act_note == "Still to say: a photo"


def test_ready_words_say_whether_it_is_clear_and_the_key_leads_to_the_photo(phone: KeepingPhone) -> None:
    phone.tap("Something is in there")
    assert phone.screen.clear_or_not.value == "not clear"
    phone.tap("Clean and dry, nothing inside")
    assert phone.screen.clear_or_not.value == "clear"
    assert phone.screen.act_text == "Photograph the inside"
    phone.act()
    assert phone.name == "photos"
    phone.chooses_photo()
    assert phone.screen.act_text == "Record: clear"
    phone.act()
    assert (last(phone).clear, last(phone).seen) == (True, "Clean and dry, nothing inside")


def test_a_covered_opening_is_uncovered_first(tmp_path: Path, kivy_window: Any) -> None:
    (tmp_path / "second").mkdir()
    phone = KeepingPhone(tmp_path / "second")
    phone.begin()
    act = phone.until("uncover")
    phone.go("look", opening=act.opening)
    assert phone.says("Covered: nobody can look in")
    phone.act()
    assert phone.name == "openings"


def test_what_is_in_there_cannot_be_called_clear(phone: KeepingPhone) -> None:
    fill(phone, "Something is in there", "Clear")
    assert not phone.screen.act_ready
    assert phone.screen.act_note == "Something is in there, so it is not clear"
    phone.tap("Not clear")
    assert phone.screen.act_ready
