"""Cautions are read and acknowledged one by one, each on record with who did it."""

from pathlib import Path
from typing import Any

import pytest
from screens.at_the_desk import ADA, Phone

from checklists.times import seconds_after


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    phone = Phone(tmp_path)
    phone.begin("rocker-cover")
    phone.go("cautions")
    return phone


def reads(phone):
    """Long enough to have read it, then the key."""
    phone.now = seconds_after(phone.now, 0.4)
    phone.act()


def test_five_taps_in_one_spot_do_not_read_five_cautions(phone):
    reads(phone)
    for _ in range(4):
        phone.act()
    assert len(phone.desk.state.acknowledged) == 1
    assert phone.says("Caution 2 of")


def test_one_caution_at_a_time_until_the_board(phone):
    cautions = phone.desk.state.sheet.cautions
    for number, caution in enumerate(cautions, 1):
        assert phone.says(f"Caution {number} of {len(cautions)}")
        assert phone.says(caution.text)
        assert phone.says("The maker's manual, the local rules and licensed practice come first.") == (number == 1)
        assert all(later.text not in phone.texts() for later in cautions[number:])
        reads(phone)
    assert phone.name == "board"
    kinds = [entry.fact.kind for entry in phone.journal.entries(phone.desk.work.id)]
    assert kinds == ["started"] + ["caution acknowledged"] * len(cautions)
    assert {mark.who for mark in phone.desk.state.acknowledged.values()} == {ADA.name}


def test_what_is_acknowledged_says_when_and_by_whom(phone):
    reads(phone)
    assert phone.says("Acknowledged at 08:00 by Ada Berg:")


def test_a_killed_app_comes_back_to_the_same_caution(phone):
    reads(phone)
    phone.kill_and_start()
    assert phone.name == "cautions"
    assert phone.says("Caution 2 of")
