"""The way back in the middle of an export or import: it stays, it is done whole, and what came of it is said."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from screens import touch
from screens.at_work import MANIFOLD, NUT
from screens.pack_work import MARA, PackWork, exported, sent

from checklists import builders, places
from checklists.facts import Dropped, Joined
from mobileapp.journal import prove
from mobileapp.packs import check_pack
from mobileapp.screens.aside import work_aside

BACK_KEY = 27


@contextmanager
def in_the_middle() -> Iterator[None]:
    """The thread that packs is busy for as long as this lasts: what is begun meanwhile is not done before."""
    free = threading.Event()
    work_aside(free.wait, lambda _: None, long=True)
    try:
        yield
    finally:
        free.set()


def presses_back(work: PackWork) -> bool:
    """The phone's own back key; whether the app took it."""
    took = work.shell.on_key(None, BACK_KEY)
    touch.settle()
    return took


def from_them(ours: PackWork, theirs: PackWork) -> Path:
    """A pack of our teardown with what another phone added to it."""
    sent(pack := exported(ours), theirs)
    theirs.shows("packs")
    theirs.tap(pack.name)
    theirs.done()
    theirs.act()
    theirs.done()
    theirs.desk.open(ours.desk.work.id)
    theirs.does(Joined(MARA), "Ada Berg")
    pack.unlink()
    sent(made := exported(theirs), ours)
    return made


def test_back_in_the_middle_of_an_export_stays_and_the_pack_is_whole(ours: PackWork) -> None:
    ours.shows("packs")
    with in_the_middle():
        ours.tap("Export this teardown")
        assert presses_back(ours)
        assert ours.name == "packs"
        assert ours.says("Not back yet")
        ours.back()
        assert ours.name == "packs"
        assert not ours.screen.act_ready
        assert "Back up everything" not in ours.texts(), "nothing else is begun meanwhile"
    ours.done()
    assert ours.says("The pack is written")
    assert check_pack(Path(ours.desk.draft["written"])).manifest.teardowns
    presses_back(ours)
    assert ours.name == "board"


def test_back_in_the_middle_of_an_import_stays_and_all_of_it_comes_in(ours: PackWork, theirs: PackWork) -> None:
    pack = from_them(ours, theirs)
    ours.shows("packs")
    ours.tap(pack.name)
    ours.done()
    with in_the_middle():
        ours.act()
        presses_back(ours)
        presses_back(ours)
        assert ours.says("Taking it in… Not back yet")
        assert MARA not in ours.state.people
    ours.done()
    assert ours.says("1 teardown merged with what another phone recorded.")
    assert MARA in ours.state.people
    assert prove(ours.journal.path) == []
    presses_back(ours)
    assert ours.name == "packs"
    assert not ours.says("Taken in"), "it is said once"


def test_a_drop_in_the_middle_of_an_import_is_logged_and_the_outcome_still_said(
    ours: PackWork, theirs: PackWork
) -> None:
    pack = from_them(ours, theirs)
    ours.shows("packs")
    ours.tap(pack.name)
    ours.done()
    with in_the_middle():
        ours.act()
        touch.tap(touch.find(ours.screen, id="drop"))
        assert ours.name == "drop"
        ours.does(builders.drop(ours.state, NUT, 1, "beside port 2", places.fitted(MANIFOLD)))
    ours.done()
    assert ours.name == "drop", "what was begun is not pulled away"
    assert MARA in ours.state.people
    assert any(isinstance(entry.fact, Dropped) for entry in ours.entries)
    assert prove(ours.journal.path) == []
    presses_back(ours)
    assert ours.says("1 teardown merged with what another phone recorded.")


def test_the_outcome_is_said_when_the_packs_are_opened_again_from_elsewhere(ours: PackWork) -> None:
    ours.shows("packs")
    with in_the_middle():
        ours.tap("Export this teardown")
        ours.go("board")
        ours.shows("packs")
        assert ours.says("Packing…")
        ours.go("board")
    ours.done()
    ours.shows("packs")
    assert ours.says("The pack is written")


def test_an_app_stopped_in_the_middle_says_so_and_it_can_be_done_again(ours: PackWork, theirs: PackWork) -> None:
    pack = from_them(ours, theirs)
    ours.shows("packs")
    ours.tap(pack.name)
    ours.done()
    with in_the_middle():
        ours.act()
        mark = ours.journal.bookmark()
    ours.done()
    assert mark is not None
    ours.journal.set_bookmark(mark)
    ours.kill_and_start()
    ours.done()
    assert ours.says("The app was stopped while the pack was taken in.")
    ours.act()
    ours.done()
    assert ours.says("Everything in it was here already. Nothing changed.")


@pytest.mark.parametrize("scale", [1.0, 1.5])
def test_nothing_is_too_small_or_cut_while_it_runs(ours: PackWork, scale: float) -> None:
    touch.phone(density=1.5, font_scale=scale)
    ours.shows("packs")
    with in_the_middle():
        ours.tap("Export this teardown")
        presses_back(ours)
        assert touch.faults(ours.shell) == []
    ours.done()
