"""Ten written down where nine are, put right by taps: counted, taken off with a reason, and the count agrees."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.counting_phone import CountingPhone

from checklists import places
from checklists.facts import WrittenTooHigh
from mobileapp.journal import prove

BOLTS = "inlet-manifold.bolt-m8"


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """A job of which nothing was opened yet."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    return phone


def counts(phone: CountingPhone, line: str, place: str, figure: int) -> None:
    phone.go("recount", line=line, place=place)
    phone.tap_pad(figure)
    phone.act()


def test_a_rag_too_many_comes_off_the_tally_and_the_count_agrees(phone: CountingPhone) -> None:
    has = phone.desk.state.quantity("rag", places.STORES)
    counts(phone, "rag", places.STORES, has - 1)
    phone.tap("It was written down too high")
    assert phone.says(f"The tally has {has} put away, and {has - 1} were counted there.")
    assert phone.screen.act_note == "First: say how"
    assert touch.faults(phone.shell) == []
    touch.type_into(phone.screen.why.field, "one went into the wash")
    phone.act()
    assert phone.name == "recount"
    assert phone.says(f"Agrees: {has - 1} of {has - 1}")
    assert isinstance(phone.journal.entries(phone.desk.work.id)[-1].fact, WrittenTooHigh)
    assert prove(phone.journal.path) == []


def test_a_bolt_without_a_hole_asks_for_its_photo_and_an_empty_hole_is_short_at_the_start(phone: CountingPhone) -> None:
    phone.go("short", line=BOLTS)
    phone.tap("There is no hole for it")
    assert (phone.name, phone.screen.place) == ("recount", "fitted/inlet-manifold")
    phone.tap_pad(9)
    phone.act()
    phone.tap("It was written down too high")
    assert phone.says("With an empty hole it is short at the start")
    assert phone.screen.act_note == "First: the photo"
    assert touch.faults(phone.shell) == []


def test_once_something_stood_open_it_is_not_offered(phone: CountingPhone) -> None:
    phone.until("cover")
    counts(phone, "rag", places.STORES, phone.desk.state.quantity("rag", places.STORES) - 1)
    assert not phone.says("It was written down too high")
