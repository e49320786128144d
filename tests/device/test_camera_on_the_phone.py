"""The phone's camera: a note first, then the camera; whatever becomes of it, and of us, no photo is lost.

The Java side is a hand-written fake: nothing here ran on a phone.
"""

import json
import os
from dataclasses import replace

import pytest
from device.fake_phone import Phone
from photos.photo_maker import jpeg

from checklists.receipt import ASKED, FILE, Receipt
from checklists.times import seconds_between
from mobileapp.device import camera as words
from mobileapp.device.camera import Purpose
from mobileapp.device.camera_android import AUTHORITY, AndroidCamera
from mobileapp.device.camera_awaited import AwaitedPhotos

INLET = Purpose("job-1", "opening:inlet-2", "closeout")
FIND = Purpose("job-1", "find:f-1", "before")
OK, CANCELLED = -1, 0


class Handset:
    """One phone over several lives of the app's process."""

    def __init__(self, folder):
        self.folder = folder
        self.ids = iter(f"a{n}" for n in range(100))
        self.minutes = iter(range(10, 60))
        self.shots = []
        self.start_app()

    def start_app(self, refuses=""):
        """A new process: nothing of the old one is left but its files."""
        self.phone = Phone(refuses)
        notes = AwaitedPhotos(self.folder, self.clock, self.ids.__next__)
        self.camera = AndroidCamera(notes, lambda act: act(), self.phone, self.phone)

    def clock(self):
        return f"2026-03-02T08:{next(self.minutes)}:00.000+01:00"

    def asks(self, purpose=INLET):
        self.camera.take(purpose, self.shots.append)

    def file(self):
        """The file behind the address the camera app was given."""
        return self.folder / self.phone.started[-1][0].extras["output"].rsplit("/", 1)[1]

    def notes(self):
        return sorted(path.name for path in self.folder.iterdir())


@pytest.fixture
def handset(tmp_path):
    return Handset(tmp_path / "awaited-photos")


def test_the_camera_app_is_asked_for_a_photo_into_a_file_it_may_write(handset):
    handset.asks()
    ((intent, _),) = handset.phone.started
    assert intent.action == "android.media.action.IMAGE_CAPTURE"
    assert intent.extras["output"] == f"content://org.countback.countback{AUTHORITY}/awaited/a0.jpg"
    assert intent.clip == ("", intent.extras["output"])
    assert intent.flags == 0x3
    assert handset.shots == []


def test_the_note_is_on_the_storage_before_the_camera_starts(handset):
    seen = []
    handset.phone.on_start = lambda: seen.append(json.loads((handset.folder / "a0.json").read_text()))
    handset.asks()
    assert seen == [{"purpose": list(INLET), "since": "2026-03-02T08:10:00.000+01:00"}]


def test_a_photo_comes_back_and_is_forgotten_only_when_settled(handset):
    handset.asks()
    handset.file().write_bytes(jpeg())
    handset.phone.comes_back(OK)
    (shot,) = handset.shots
    assert (shot.purpose, shot.path, shot.words) == (INLET, handset.folder / "a0.jpg", "")
    handset.start_app()
    assert handset.camera.recover() == [replace(shot, received=Receipt("2026-03-02T08:10:00.000+01:00", ASKED))]
    handset.camera.settle(shot)
    assert handset.notes() == []
    assert handset.camera.recover() == []
    handset.camera.settle(shot)  # twice harms nothing


@pytest.mark.parametrize(("result", "content", "said"), [
    (CANCELLED, None, words.CANCELLED), (CANCELLED, b"", words.CANCELLED), (OK, None, words.CANCELLED),
    (OK, b"", words.CAME_EMPTY),
])  # fmt: skip
def test_no_photo_came(handset, result, content, said):
    handset.asks()
    if content is not None:
        handset.file().write_bytes(content)
    handset.phone.comes_back(result)
    (shot,) = handset.shots
    assert (shot.path, shot.words) == (None, said)
    handset.camera.settle(shot)
    assert handset.notes() == []


def test_a_camera_that_says_cancelled_but_left_a_photo_is_believed_by_its_photo(handset):
    handset.asks()
    handset.file().write_bytes(jpeg())
    handset.phone.comes_back(CANCELLED)
    assert handset.shots[0].path == handset.folder / "a0.jpg"


@pytest.mark.parametrize(("thrown", "said"), [
    ("java.lang.SecurityException", words.NOT_ALLOWED),
    ("android.content.ActivityNotFoundException", words.NO_CAMERA),
    ("java.lang.IllegalArgumentException", "The camera did not start (IllegalArgumentException)."),
])  # fmt: skip
def test_a_camera_that_does_not_start(handset, thrown, said):
    handset.start_app(refuses=thrown)
    handset.asks()
    (shot,) = handset.shots
    assert shot.path is None
    assert shot.words.startswith(said)
    handset.phone.refuses = ""
    handset.camera.settle(shot)
    handset.asks()
    assert len(handset.phone.started) == 1


def test_no_note_no_camera(handset):
    handset.folder.parent.mkdir(exist_ok=True)
    handset.folder.write_text("in the way")
    handset.asks()
    assert handset.phone.started == []
    assert handset.shots[0].words.startswith("The camera did not start (")


def test_killed_while_the_camera_was_open_the_photo_is_there_in_the_next_life(handset):
    handset.asks()
    file = handset.file()
    handset.start_app()
    file.write_bytes(jpeg())
    (shot,) = handset.camera.recover()
    assert (shot.purpose, shot.path) == (INLET, file)


def test_killed_before_the_camera_started_there_is_only_the_note(handset):
    def killed():
        raise KeyboardInterrupt

    handset.phone.on_start = killed
    with pytest.raises(KeyboardInterrupt):
        handset.asks()
    handset.start_app()
    (shot,) = handset.camera.recover()
    assert (shot.path, shot.words) == (None, words.CANCELLED)
    handset.camera.settle(shot)
    assert handset.notes() == []


def test_several_lives_are_recovered_oldest_first(handset):
    for purpose in (INLET, FIND):
        handset.asks(purpose)
        handset.file().write_bytes(jpeg())
        handset.start_app()
    assert [shot.purpose for shot in handset.camera.recover()] == [INLET, FIND]


def test_an_answer_to_an_earlier_life_is_left_to_recovery(handset):
    handset.asks()
    handset.file().write_bytes(jpeg())
    handset.start_app()
    handset.asks(FIND)
    handset.shots.clear()
    handset.phone.comes_back(OK, request=99)  # another app's answer
    assert handset.shots == []
    assert [shot.purpose for shot in handset.camera.recover()] == [INLET]  # not the one now awaited
    handset.phone.comes_back(CANCELLED)
    handset.phone.comes_back(OK)  # late and once more
    assert len(handset.shots) == 1


def test_asked_again_before_the_answer_the_first_ask_is_answered_by_what_is_there(handset):
    handset.asks()
    handset.file().write_bytes(jpeg())
    handset.asks(FIND)
    assert [(shot.purpose, shot.path is None) for shot in handset.shots] == [(INLET, False)]
    handset.phone.comes_back(CANCELLED)
    assert handset.shots[1].purpose == FIND


def test_a_photo_of_which_nothing_is_noted_was_received_when_its_file_says(handset):
    handset.folder.mkdir()
    stray = handset.folder / "a9.jpg"
    stray.write_bytes(jpeg())
    os.utime(stray, (1772442000, 1772442000))  # 2026-03-02 09:00 UTC
    (shot,) = handset.camera.recover()
    assert shot.received.by == FILE
    assert seconds_between("2026-03-02T09:00:00+00:00", shot.received.at) == 0


def test_a_photo_set_aside_loses_its_note_and_is_offered_as_of_nothing(handset):
    handset.asks()
    handset.file().write_bytes(b"half a photo")
    handset.phone.comes_back(OK)
    (shot,) = handset.shots
    handset.camera.set_aside(shot)
    (stray,) = handset.camera.recover()
    assert stray.path.read_bytes() == b"half a photo"
    assert stray.purpose.teardown == ""
    assert stray.received == Receipt("2026-03-02T08:10:00.000+01:00", ASKED), "since when it was awaited stays noted"
    handset.camera.settle(stray)
    assert handset.camera.recover() == []


def test_spoilt_notes_lose_no_photo(handset):
    handset.asks()
    handset.file().write_bytes(jpeg())
    (handset.folder / "a0.json").write_text("{")
    (handset.folder / "b.json").write_text('{"purpose": 3}')
    (handset.folder / ".c.json.1234.part").write_text("{")
    handset.start_app()
    (shot,) = handset.camera.recover()
    assert (shot.path, shot.purpose.about) == (handset.folder / "a0.jpg", "teardown:")
    assert "Say what it belongs to" in shot.words
    assert shot.received.by == FILE, "of when it came nothing better is left"
    assert not list(handset.folder.glob(".*"))
