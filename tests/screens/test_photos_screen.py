"""Choosing a photo for a form: the right file lands in the form, a bad one is said and changes nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.counting_phone import CountingPhone

from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.field import Field


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """At the lift check of the rocker cover's first closure, where a photo is due."""
    phone = CountingPhone(tmp_path)
    phone.begin()
    act = phone.until("lift")
    phone.go("lift", closure=act.closure)
    return phone


def test_the_newest_photo_is_two_taps_away(phone: CountingPhone) -> None:
    path = phone.take_photo()
    field = touch.find(phone.screen, cls=PhotoField)
    assert field.note == "no photo yet"
    touch.tap(field)
    phone.tap(has="IMG_0001.jpg")
    assert phone.name == "lift"
    assert phone.desk.draft["photo"] == str(path)
    assert touch.find(phone.screen, cls=PhotoField).note == "IMG_0001.jpg"


def test_a_bad_file_is_said_and_nothing_is_lost(phone: CountingPhone) -> None:
    good = phone.take_photo()
    touch.tap(touch.find(phone.screen, cls=PhotoField))
    phone.tap(has="IMG_0001.jpg")
    (phone.photos / "empty.jpg").touch()
    touch.tap(touch.find(phone.screen, cls=PhotoField))
    phone.tap(has="empty.jpg")
    assert phone.name == "photos"
    assert phone.says("empty.jpg is empty (0 bytes)")
    assert phone.signals.refusals == 1
    phone.desk.back()
    assert phone.desk.draft["photo"] == str(good)


def test_a_path_can_be_typed_and_survives_a_kill(phone: CountingPhone, tmp_path: Path) -> None:
    elsewhere = phone.take_photo().rename(tmp_path / "elsewhere.jpg")
    touch.tap(touch.find(phone.screen, cls=PhotoField))
    touch.type_into(touch.find(phone.screen, cls=Field), str(elsewhere))
    phone.kill_and_start()
    assert phone.name == "photos"
    assert touch.find(phone.screen, cls=Field).text == str(elsewhere)
    phone.tap("Use this file")
    assert phone.desk.draft["photo"] == str(elsewhere)


def test_no_photos_anywhere_is_said_with_what_to_do(phone: CountingPhone) -> None:
    touch.tap(touch.find(phone.screen, cls=PhotoField))
    assert phone.says("No photo was found where photos usually are.")


def test_a_folder_that_cannot_be_read_is_said(phone: CountingPhone, tmp_path: Path) -> None:
    broken = tmp_path / "camera"
    broken.write_text("")
    phone.desk.photo_folders = [str(broken)]
    touch.tap(touch.find(phone.screen, cls=PhotoField))
    assert phone.says(f"The folder {broken} cannot be read")
