"""Photos that belong to nothing yet: their number is said, each is looked at, and is kept with what it shows."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from photos.photo_maker import jpeg, scene
from screens import touch
from screens.photo_work import PhotoWork

from checklists import builders
from checklists.facts import Photographed
from mobileapp.device.camera import Purpose
from mobileapp.device.camera_awaited import FOLDER, AwaitedPhotos
from mobileapp.device.camera_left import BesideLeft
from mobileapp.device.camera_watched import WatchedFolder
from mobileapp.journal import prove


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Any:
    work = PhotoWork(tmp_path)
    yield work
    work.let_go()


def an_orphan(work: PhotoWork, seed: int) -> str:
    """A photo that was kept, whose entry never came."""
    return str(work.store.keep(jpeg(scene(seed=seed)), "earlier").sha)


def test_the_board_says_how_many_and_each_finds_its_place(work: PhotoWork) -> None:
    first, second = an_orphan(work, 1), an_orphan(work, 2)
    work.shows("board")
    work.wait()
    work.tap("2 photos belong to nothing yet")
    work.wait()
    work.tap(has="file of")
    work.wait()
    assert work.screen.act_ready is False
    work.chooses("Inlet port 2 at the head")
    work.act()
    work.wait()
    assert work.name == "unclaimed"
    kept = work.last
    assert isinstance(kept, Photographed)
    assert (kept.about, kept.moment) == ("opening:inlet-2", "other")
    assert kept.photo in (first, second)
    work.shows("board")
    work.wait()
    assert work.says("1 photo belongs to nothing yet")
    assert prove(work.journal.path) == []


def test_with_none_nothing_is_said(work: PhotoWork) -> None:
    work.keeps("opening:inlet-1", "other", "port.png")
    work.shows("board")
    work.wait()
    assert not work.says("nothing yet")
    work.shows("unclaimed")
    work.wait()
    assert work.says("Every photo belongs to something.")


def test_the_list_of_teardowns_offers_them_and_says_where_they_find_a_place(work: PhotoWork) -> None:
    an_orphan(work, 3)
    work.does(builders.release("It must be towed.", "Magnet and mirror.", ""))
    work.shows("unclaimed")
    work.wait()
    work.tap(has="file of")
    work.wait()
    assert work.says("Nothing is added to a teardown that has ended.")
    assert not work.screen.act_text
    work.desk.to_teardowns()
    touch.settle(5)
    work.wait()
    work.tap("1 photo belongs to nothing yet")
    work.wait()
    work.tap(has="file of")
    work.wait()
    assert work.says("Take an open teardown in hand")
    work.kill_and_start()
    assert work.name == "unclaimed"


def test_each_says_when_the_phone_had_it_and_a_torn_one_that_it_is_torn(work: PhotoWork) -> None:
    torn = jpeg(scene(640, 480, seed=4))
    torn = torn[: len(torn) // 2] + bytes(600) + torn[len(torn) // 2 + 600 :]
    sha = str(work.store.keep(torn, "2026-03-02T07:45:00.000+01:00").sha)
    work.shows("unclaimed")
    work.wait()
    work.tap(has="received 07:45")
    work.wait()
    assert work.says("zeros in a row in its picture data, as a storage fault leaves them: look where")
    work.chooses("The machine as a whole")
    work.act()
    work.wait()
    assert isinstance(work.last, Photographed)
    assert (work.last.photo, work.last.received) == (sha, "2026-03-02T07:45:00.000+01:00")
    work.shows("photo_view", sha=sha)
    work.wait()
    work.wait()
    assert work.says("The whole machine: other.")
    assert work.says("look where a part is grey or shifted")


def awaits(work: PhotoWork, teardown: str) -> AwaitedPhotos:
    """The camera brought a photo for a teardown, and nobody came back for it."""
    notes = AwaitedPhotos(work.folder / FOLDER, lambda: work.now, iter(["n1"]).__next__)
    work.desk.camera = BesideLeft(WatchedFolder(work.folder), notes)
    awaited = notes.expect(Purpose(teardown, "opening:inlet-1", "closeout"))
    awaited.path.write_bytes(jpeg(scene(seed=5)))
    return notes


def test_what_a_teardown_that_is_not_on_this_phone_waited_for_is_offered_too(work: PhotoWork) -> None:
    notes = awaits(work, "gone")
    work.shows("unclaimed", path=str(notes.recover()[0].path))
    work.wait()
    assert work.says("The camera was asked for it in a teardown that is not on this phone.")
    assert work.key("The machine as a whole")


def test_what_a_teardown_that_has_ended_waited_for_is_claimed_in_an_open_one(work: PhotoWork) -> None:
    """The camera killed the app, the job was ended meanwhile: its photo is offered where it can still be claimed."""
    notes = awaits(work, work.desk.work.id)
    ended = work.desk.work.id
    work.begin("rocker-cover", "Port engine")
    work.shows("unclaimed")
    work.wait()
    assert work.says("Every photo belongs to something."), "what another open teardown waits for is left to it"

    second = work.desk.work.id
    work.desk.open(ended, "Ada Berg")
    work.does(builders.release("It must be towed.", "Magnet and mirror.", ""))
    work.shows("unclaimed")
    work.wait()
    work.tap(has="camera asked for it")
    work.wait()
    assert work.says("Take an open teardown in hand")
    work.desk.open(second, "Ada Berg")
    work.shows("board")
    work.wait()
    work.tap("1 photo belongs to nothing yet")
    work.wait()
    work.tap(has="camera asked for it")
    work.wait()
    assert work.says("The camera was asked for it in another teardown, which has ended: harbour workboat, main engine.")
    assert touch.faults(work.shell) == []
    work.chooses("The machine as a whole")
    work.act()
    work.wait()
    assert isinstance(work.last, Photographed)
    assert (work.last.about, work.desk.work.id) == ("teardown:", second)
    assert work.says("Every photo belongs to something.")
    assert notes.recover() == []
