"""The lift check: conditions in sight, each unmet one leading to where it is put right, and no lifting before."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens.keeping_phone import KeepingPhone

from checklists import builders, places
from checklists.facts import Lifted

MANIFOLD = "inlet-manifold"


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> KeepingPhone:
    """A phone on the inlet manifold of an inline four, the crossover over it off."""
    phone = KeepingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    phone.until("count out", MANIFOLD)
    return phone


def test_every_condition_is_shown_met_or_not(phone: KeepingPhone) -> None:
    phone.hands.record(builders.move("rag", 1, places.STORES, places.lying_on(MANIFOLD)), phone.desk.who)
    phone.go("lift", closure=MANIFOLD)
    said = phone.texts()
    assert "0 of 10 M8 x 45 flange bolts out" in said
    assert "Coolant crossover, which lies over it, is off" in said
    assert "5 of 5 cautions read and acknowledged" in said
    assert phone.says("1 rag lying on the inlet manifold")
    assert said.count("met") == 2
    assert sum(text.startswith("not met:") for text in said) == 3
    assert not phone.screen.act_ready
    assert "3 of 5 conditions not met" in said


def test_what_can_hurt_is_read_again(phone: KeepingPhone) -> None:
    phone.go("lift", closure=MANIFOLD)
    assert phone.says("The cooling circuit stores heat and pressure.")
    assert not phone.says("This sheet only counts")


def test_an_unmet_condition_leads_to_its_pad_and_back(phone: KeepingPhone) -> None:
    phone.go("lift", closure=MANIFOLD)
    phone.tap(has="0 of 2 M8 flange nuts")
    assert phone.name == "count_pad"
    phone.tap_pad(2)
    phone.desk.back()
    assert "2 of 2 M8 flange nuts out" in phone.texts()


def test_it_lifts_with_all_met_and_a_photo_and_leads_on(phone: KeepingPhone) -> None:
    phone.until("lift", closure=MANIFOLD)
    phone.take_photo()
    phone.go("lift", closure=MANIFOLD)
    assert phone.screen.act_text == "Photograph it"
    assert phone.says("A photo is needed first")
    phone.act()
    assert phone.name == "photos"
    phone.chooses_photo()
    phone.act()
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, Lifted)
    assert phone.name_of(fact.photo) == "IMG_0001.jpg"
    assert phone.desk.state.opening_states["inlet-1"].state == "uncovered"
    assert phone.name == "count_pad", "its parts are counted off next"
