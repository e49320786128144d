"""Trouble outside the rules: said in plain words, with a way back, and nothing lost."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import Phone

from checklists.facts import Acknowledged
from checklists.times import seconds_after
from mobileapp.screens.trouble import plain_trouble


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    return Phone(tmp_path)


def test_a_journal_that_cannot_write_says_so_and_keeps_what_was_there(phone):
    phone.begin("rocker-cover")
    phone.go("cautions")
    with phone.journal.transaction() as conn:
        conn.execute("PRAGMA query_only = ON")
    phone.now = seconds_after(phone.now, 1)  # the key of a caution answers after a pause
    phone.act()
    assert phone.name == "trouble"
    assert phone.says("Nothing that was counted before is lost")
    conn.execute("PRAGMA query_only = OFF")
    phone.act()
    assert phone.name == "cautions"
    assert phone.desk.record(Acknowledged(phone.desk.state.sheet.cautions[0].id))
    assert [e.fact.kind for e in phone.journal.entries(phone.desk.work.id)] == ["started", "caution acknowledged"]


def test_without_a_journal_the_words_stand_alone(kivy_window):
    frame = touch.show(plain_trouble("x is not a Countback journal. It was left untouched; choose another file."))
    texts = touch.texts(frame)
    assert "The journal could not be opened" in texts
    assert any("It was left untouched" in text for text in texts)
    assert touch.clipped(frame) == []
