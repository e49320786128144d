"""A find that turns out to be one of ours: what was missing is found where the find lies."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from screens.at_work import NUT
from screens.photo_work import PhotoWork

from checklists import builders, places
from checklists.facts import FindLogged, FindMatched, FindRemoved, Move


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    """A nut fell somewhere; later something is found in port 2."""
    work = PhotoWork(tmp_path)
    work.opens_the_ports()
    work.does(builders.drop(work.state, NUT, 2, "over the ports", places.TRAY))
    work.does(FindLogged("f1", "A nut, by its shine", "port-2", work.keeps("find:f1", "before", "lies.png")))
    yield work
    work.let_go()


def test_the_find_is_the_missing_nut_and_still_in_the_port(work: PhotoWork) -> None:
    work.shows("find", find="f1")
    work.tap("Is it one of ours?")
    assert work.says("dropped since 08:0")
    work.act()
    assert isinstance(work.last, FindLogged), "nobody said which one"
    work.tap(f"2 {work.state.lines[NUT].name}s")
    assert work.says("How many of them?")
    assert work.says("1 M8 flange nut, now in inlet port 2")
    work.act()
    assert work.last == FindMatched("f1", (Move(NUT, 1, places.MISSING, places.inside("port-2")),))
    assert work.name == "find"
    assert work.says("It is ours: 1 M8 flange nut.")
    assert (work.state.quantity(NUT, places.MISSING), work.state.quantity(NUT, places.inside("port-2"))) == (1, 1)


def test_once_it_is_out_it_lies_in_the_tray(work: PhotoWork) -> None:
    work.does(FindRemoved("f1", "magnet", work.keeps("find:f1", "after", "after.png"), "tray"))
    work.shows("find", find="f1")
    assert work.says("Photo after: after.png, kept")
    work.tap("Is it one of ours?")
    work.tap(f"2 {work.state.lines[NUT].name}s")
    work.more(1)
    work.act()
    assert work.last == FindMatched("f1", (Move(NUT, 2, places.MISSING, places.TRAY),))
    assert work.state.missing == []


def test_a_find_shows_its_own_photos(work: PhotoWork) -> None:
    work.keeps("teardown:", "other", "elsewhere.png")
    work.shows("find", find="f1")
    work.tap("Its photos")
    assert work.name == "photo_view"
    assert work.says("Find: A nut, by its shine: before")
    assert not work.says("The whole machine")


def test_while_nothing_is_missing_nothing_can_be_matched(kivy_window: Any, tmp_path: Path) -> None:
    work = PhotoWork(tmp_path)
    work.opens_the_ports()
    work.does(FindLogged("f1", "wasp nest", "port-1", work.keeps("find:f1", "before", "lies.png")))
    work.shows("find", find="f1")
    assert not work.says("Is it one of ours?")
    work.let_go()
