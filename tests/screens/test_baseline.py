"""Baseline photos: due before the first lift and offered on the board till then, kept with what they belong to."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from screens.photo_work import PhotoWork

from checklists.facts import Photographed


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    work = PhotoWork(tmp_path)
    yield work
    work.let_go()


def test_how_the_machine_looked_before_is_kept(work: PhotoWork) -> None:
    work.shows("board")
    assert work.says("one is due")
    work.works_until("photograph")
    work.shows("board")
    assert work.screen.act_text == "Photograph it before anything comes off"
    work.act()
    assert work.name == "baseline"
    work.takes_photo("The machine as it was found", "all.png")
    work.takes_photo("Inlet port 1 at the head, from outside", "port.png")
    assert [(fact.about, fact.moment) for fact, _ in work.state.photos.values()] == [
        ("teardown:", "baseline"), ("opening:inlet-1", "baseline")]  # fmt: skip
    assert isinstance(work.last, Photographed)
    work.act()
    assert work.says("2 taken")
    work.tap("Baseline photos")
    assert work.says("port.png, kept"), "it is shown again where it belongs"


def test_after_the_first_lift_it_is_too_late(work: PhotoWork) -> None:
    work.opens_the_ports()
    work.shows("board")
    assert not work.says("Baseline photos")
    assert work.says("Hand over")
