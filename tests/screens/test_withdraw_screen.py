"""Two phones added the same line: counted again, it is there once, and the double is withdrawn by taps."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.counting_phone import CountingPhone
from screens.met_phone import met_phone

from checklists import places
from checklists.facts import Withdrawn
from checklists.sheet import Line, Sheet
from mobileapp.journal import prove

WIPES = "wipes"
PART = Sheet("", "", items=(Line(WIPES, "Wipe", "rag", 4, "stores"),))


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """Four wipes on this phone, and four on Jonas's; then the journals meet."""
    return met_phone(tmp_path, PART, PART)


def counts(phone: CountingPhone, figure: int) -> None:
    phone.go("recount", line=WIPES, place=places.STORES)
    phone.tap_pad(figure)
    phone.act()


def test_the_double_is_withdrawn_and_the_count_agrees(phone: CountingPhone, tmp_path: Path) -> None:
    counts(phone, 4)
    assert phone.says("withdraw 4")
    phone.tap("It was written down twice")
    assert phone.says("Ada Berg wrote down 4")
    assert phone.says("Jonas Wieland wrote down 4")
    assert not phone.screen.act_ready
    touch.type_into(phone.screen.why.field, "one packet")
    phone.act()
    assert phone.name == "recount"
    assert phone.says("Agrees: 4 of 4")
    assert isinstance(phone.journal.entries(phone.desk.work.id)[-1].fact, Withdrawn)
    assert phone.desk.state.clashes == {}
    assert prove(phone.journal.path) == []


def test_it_is_not_offered_where_all_were_counted_or_nothing_is_double(phone: CountingPhone) -> None:
    counts(phone, 8)
    assert phone.says("Agrees")
    rag = next(line.id for line in phone.desk.state.lines.values() if line.kind == "rag" and line.id != WIPES)
    phone.go("recount", line=rag, place=places.STORES)
    phone.tap_pad(1)
    phone.act()
    assert not phone.says("written down twice")


@pytest.mark.parametrize("scale", [1.0, 1.5])
def test_every_part_suits_a_glove(phone: CountingPhone, scale: float) -> None:
    counts(phone, 4)
    touch.phone(density=1.5, font_scale=scale)
    phone.go("withdraw", line=WIPES, place=places.STORES)
    assert touch.faults(phone.shell) == []
