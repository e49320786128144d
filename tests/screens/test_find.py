"""Finds: photographed where they lie, logged, taken out, photographed after and kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from screens.photo_work import PhotoWork

from checklists.facts import FindLogged, FindRemoved


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    work = PhotoWork(tmp_path)
    work.opens_the_ports()
    yield work
    work.let_go()


def names(work: PhotoWork) -> list[str]:
    """What the kept photos are called, the newest last."""
    return [fact.name for fact, _ in work.state.photos.values()]


def test_a_washer_in_port_three_is_logged_and_settled(work):
    work.shows("find")
    assert work.says("No find yet.")
    work.act()
    work.types("What it seems to be", "Old washer, rusty")
    assert work.says("First: the photo")
    work.takes_photo("Photo where it lies, before it is touched", "washer.png")
    assert work.fields("What it seems to be")[0].text == "Old washer, rusty"
    assert work.says("washer.png")
    work.types("How big, about (may be left empty)", "17 mm across")
    work.tap("In Inlet port 3")
    work.act()
    logged = work.last
    photo = list(work.state.photos)[-1]
    assert logged == FindLogged(logged.find, "Old washer, rusty", "port-3", photo, "17 mm across", "inlet-3")
    assert names(work)[-1] == "washer.png"
    assert logged.find.startswith("id-")

    assert work.name == "find"
    work.tap("Old washer, rusty: not settled")
    assert work.says("in Inlet port 3, through inlet port 3 at the head, logged 08:00 by Ada Berg")
    assert work.says("Size: 17 mm across.")
    work.takes_photo("Photo of the place after", "after.png")
    work.types("Where it is kept", "labelled bag")
    work.act()
    assert not isinstance(work.last, FindRemoved), "how was not said"
    work.tap("Magnet")
    work.act()
    assert work.last == FindRemoved(logged.find, "magnet", list(work.state.photos)[-1], "labelled bag")
    assert names(work)[-1] == "after.png"
    assert work.says("Old washer, rusty: settled")
    work.tap("Old washer, rusty: settled")
    assert work.says("How: magnet.")
    assert work.says("Kept: labelled bag.")


def test_an_extra_bolt_lies_outside(work):
    work.shows("find", what="M8 x 45 flange bolt")
    work.takes_photo("Photo where it lies, before it is touched")
    work.tap("Outside the openings")
    work.act()
    assert isinstance(work.last, FindLogged)
    assert (work.last.what, work.last.where) == ("M8 x 45 flange bolt", "")
    assert work.name == "board"


def test_a_killed_app_comes_back_to_half_a_find(work):
    work.shows("find")
    work.act()
    work.types("What it seems to be", "Wasp nest")
    work.tap("In Inlet port 1")
    work.kill_and_start()
    work.takes_photo("Photo where it lies, before it is touched")
    work.act()
    assert (work.last.what, work.last.where) == ("Wasp nest", "port-1")
