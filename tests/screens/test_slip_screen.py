"""A difference that is a bookkeeping slip: the wrong count is chosen, a reason is given, and it is taken back."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.counting_phone import CountingPhone

from checklists import builders, places
from checklists.facts import Reversed
from checklists.sheet import Line, Sheet

BOLTS = "inlet-manifold.bolt-m8"


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """Ten bolts in the tray; one was tapped over to the bench, though it never left the tray."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    phone.until("work done")
    phone.hands.record(builders.move(BOLTS, 1, places.TRAY, places.BENCH), phone.desk.who)
    phone.go("recount", line=BOLTS, place=places.TRAY)
    phone.tap_pad(10)
    phone.act()
    return phone


def test_the_wrong_count_is_chosen_with_its_reason_and_the_place_agrees(phone: CountingPhone) -> None:
    phone.tap("Bookkeeping slip")
    assert phone.says("Which count was wrong? The newest comes first.")
    assert phone.screen.act_note == "First: which count was wrong"
    phone.tap("1 M8 x 45 flange bolt in the tray, then on the bench")
    assert phone.screen.act_note == "First: say why"
    phone.act()
    assert phone.name == "slip"
    phone.tap("Counted, but not done")
    assert touch.faults(phone.shell) == []
    phone.act()
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, Reversed)
    assert fact.why == "Counted, but not done"
    assert phone.name == "recount"
    assert phone.says("Agrees: 10 of 10")


def test_what_has_moved_on_since_is_refused_with_why(phone: CountingPhone) -> None:
    phone.tap("Bookkeeping slip")
    phone.hands.record(builders.move(BOLTS, 1, places.BENCH, places.FLOOR), phone.desk.who)
    phone.tap(has="then on the bench")
    phone.tap("Another reason")
    assert phone.screen.act_note == "First: say why"
    phone.tap("Counted, but not done")
    phone.act()
    assert phone.name == "refusal"
    assert phone.says("Take the later count back first")


def test_ten_written_onto_the_sheet_for_nine_are_put_right_by_taps(phone: CountingPhone) -> None:
    cloths = Sheet("", "", items=(Line("cloth", "Cloth", "rag", 10, places.STORES),))
    phone.hands.record(builders.grow(cloths), phone.desk.who)
    phone.go("recount", line="cloth", place=places.STORES)
    phone.tap_pad(9)
    phone.act()
    phone.tap("Bookkeeping slip")
    assert phone.says("then count 9 of it anew")
    phone.tap(has="10 cloths")
    phone.tap("Tapped once too often")
    phone.act()
    assert phone.name == "recount"
    assert phone.says("Differs: 9 more than the tally has")
    phone.tap("Write down the 9 cloths that are here")
    assert phone.says("Agrees: 9 of 9")
