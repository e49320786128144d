"""Two phones wrote one opening down unlike: both ways are shown, and one tap and a word say which is right."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.counting_phone import CountingPhone
from screens.met_phone import met_phone

from checklists.facts import SheetSettled
from checklists.sheet import Opening, Shape, Sheet
from mobileapp.journal import prove


def drain(across: int) -> Sheet:
    hole = Opening("drain", "Drain hole", "port-1", Shape("circle", (Decimal(across),)), "inlet-manifold", "plug")
    return Sheet("", "", openings=(hole,))


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """A drain hole of 12 mm on this phone and of 21 mm on Jonas's; then the journals meet."""
    return met_phone(tmp_path, drain(12), drain(21))


def test_which_is_right_is_chosen_and_recorded(phone: CountingPhone) -> None:
    phone.go("refusal", about="close")
    phone.tap(has="written down in two ways")
    assert phone.name == "two_ways"
    assert phone.says("Clear size: round, 12 mm")
    assert phone.says("Jonas Wieland")
    assert touch.faults(phone.screen) == []
    assert not phone.screen.act_ready
    phone.tap("Clear size: round, 21 mm")
    phone.act()
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, SheetSettled)
    assert str(phone.desk.state.openings["drain"].clear) == "round, 21 mm"
    assert phone.name == "refusal"
    assert not phone.says("written down in two ways")
    assert prove(phone.journal.path) == []


def test_with_nothing_in_two_ways_it_says_so(phone: CountingPhone) -> None:
    phone.desk.state.two_ways.clear()
    phone.go("two_ways")
    assert phone.says("Nothing on the sheet stands in two ways.")
    phone.act()
    assert phone.name == "two_ways"
