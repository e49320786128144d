"""People: the phone changes hands, somebody comes, somebody goes, and the ending that is no closure."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS, Phone
from screens.eye import broken_words, clipped, tiny

from checklists.facts import Person
from checklists.times import seconds_after
from mobileapp.widgets.field import Field


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    phone = Phone(tmp_path)
    phone.begin("rocker-cover")
    phone.go("people")
    return phone


def fill(phone: Phone, label: str, text: str) -> None:
    touch.type_into(next(w for w in touch.find_all(phone.shell, cls=Field) if w.label == label), text)


def test_what_is_done_after_a_hand_over_is_the_other_persons(phone):
    assert phone.says("fitter, holds the phone")
    phone.tap(text="Jonas Wieland")
    assert phone.desk.who == JONAS.name
    assert phone.says("second counter, holds the phone")
    phone.go("cautions")
    phone.now = seconds_after(phone.now, 1)  # the key of a caution answers after a pause
    phone.act()
    assert phone.journal.entries(phone.desk.work.id)[-1].who == JONAS.name


def test_the_phone_is_still_in_the_same_hands_after_a_kill(phone):
    phone.tap(text="Jonas Wieland")
    phone.kill_and_start()
    assert phone.desk.who == JONAS.name


def test_somebody_comes(phone):
    fill(phone, "Name", "Mara Voss")
    fill(phone, "Role", "second counter")
    phone.tap(text="Add to the job")
    assert phone.desk.state.people == [ADA, JONAS, Person("Mara Voss", "second counter")]
    assert "Mara Voss" in phone.texts()


def test_a_name_that_is_there_already_is_refused_beside_the_field(phone):
    fill(phone, "Name", "Ada Berg")
    phone.tap(text="Add to the job")
    assert phone.name == "people"
    assert phone.says("That name is empty or on the job already.")
    assert phone.desk.state.people == [ADA, JONAS]


def test_when_the_holder_goes_the_phone_is_in_the_others_hands(phone):
    phone.tap(text="Ada Berg goes")
    assert phone.desk.state.people == [JONAS]
    assert phone.desk.who == JONAS.name
    assert not phone.says("goes off the job")


def test_release_stands_last_and_far_from_everything_else(phone):
    release = phone.key(text="Release, not clear")
    others = [part for part in touch.measure_targets(phone.screen.body) if part.widget is not release]
    touch.bring_into_view(release)
    bottom = touch.box_of(release)[3]
    nearest = min(touch.box_of(part.widget)[1] for part in others) - bottom
    assert nearest > touch.mm(26)
    phone.tap(text="Release, not clear")
    assert phone.name == "sign_off"
    assert phone.desk.trail[-1][1]["what"] == "release"


def test_names_that_ask_for_other_fonts_are_shown_whole_and_in_their_places(phone):
    names = ("सुनीता शर्मा", "శ్రీనివాస్ వెంకటేశ్వర్లు", "张伟 ಕ್ರೂರ", "ወንድሙ አበበ")
    for name in names:
        fill(phone, "Name", name)
        fill(phone, "Role", "fitter")
        phone.tap(text="Add to the job")
    assert [person.name for person in phone.desk.state.people][2:] == list(names)
    assert [*clipped(phone.shell), *broken_words(phone.shell), *tiny(phone.shell)] == []
