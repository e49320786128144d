"""Counting a place again: it agrees, or it is moved, logged as missing, or one too many."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens.counting_phone import CountingPhone

from checklists import builders, places
from checklists.facts import Checked, Missed

BOLTS = "inlet-manifold.bolt-m8"


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """Ten bolts in the tray; the count of them is asked for again."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    phone.until("work done")
    phone.go("recount", line=BOLTS, place=places.TRAY)
    return phone


def counted(phone: CountingPhone, figure: int) -> None:
    phone.tap_pad(figure)
    phone.act()


def last(phone: CountingPhone) -> Any:
    return phone.journal.entries(phone.desk.work.id)[-1].fact


def test_it_counts_blind_and_says_that_it_agrees(phone: CountingPhone) -> None:
    assert phone.screen.blind.blind
    counted(phone, 10)
    fact = last(phone)
    assert isinstance(fact, Checked)
    assert fact.seen == (BOLTS, places.TRAY, 10)
    assert "Agrees: 10 of 10" in phone.texts()
    phone.act()
    assert phone.name == "sign_off"


def test_what_differs_is_recorded_and_can_be_counted_again(phone: CountingPhone) -> None:
    counted(phone, 9)
    assert "Differs: 1 fewer than the tally has" in phone.texts()
    assert (BOLTS, places.TRAY) in phone.desk.state.discrepancies
    phone.act()
    counted(phone, 10)
    assert phone.says("Agrees")
    assert phone.desk.state.discrepancies == {}
    assert phone.kinds(2) == ["checked", "checked"]


def test_one_that_lies_elsewhere_is_counted_over_and_settles_it(phone: CountingPhone) -> None:
    counted(phone, 9)
    phone.tap("They lie on the bench")
    assert (phone.name, phone.screen.source, phone.screen.target) == ("count_pad", places.TRAY, places.BENCH)
    phone.tap_pad(1)
    assert phone.desk.state.discrepancies == {}
    assert phone.desk.state.quantity(BOLTS, places.BENCH) == 1
    phone.desk.back()
    assert phone.says("Agrees: 9 of 9")


def test_one_that_nobody_can_find_is_logged_as_missing(phone: CountingPhone) -> None:
    counted(phone, 9)
    phone.tap(has="as missing")
    fact = last(phone)
    assert isinstance(fact, Missed)
    assert fact.moves[0] == (BOLTS, 1, places.TRAY, places.MISSING)
    assert phone.name == "missing"
    assert phone.screen.missing == 1


def test_one_too_many_is_moved_here_or_a_find(phone: CountingPhone) -> None:
    phone.hands.record(builders.move(BOLTS, 1, places.TRAY, places.BENCH), phone.desk.who)
    counted(phone, 10)
    assert "Differs: 1 more than the tally has" in phone.texts()
    phone.tap("The tally has them on the bench")
    assert (phone.screen.source, phone.screen.target) == (places.BENCH, places.TRAY)
    phone.desk.back()
    phone.tap(has="one more than the tally has anywhere")
    assert phone.name == "find"
    assert phone.desk.trail[-1][1]["what"] == "M8 x 45 flange bolt"


def test_one_too_many_may_be_one_that_was_missing(phone: CountingPhone) -> None:
    phone.hands.record(builders.miss(phone.desk.state, BOLTS, 1, places.TRAY), phone.desk.who)
    counted(phone, 10)
    phone.tap("It is one that was missing")
    assert (phone.name, phone.desk.trail[-1][1]["line"]) == ("missing", BOLTS)


def test_an_interrupted_count_starts_from_nothing_and_says_so(phone: CountingPhone) -> None:
    phone.tap_pad(4)
    phone.kill_and_start()
    assert phone.name == "recount"
    assert phone.screen.blind.counted == 0
    assert phone.says("The count was interrupted: it starts again from nothing.")
