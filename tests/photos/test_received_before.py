"""A photo that nobody came back for is recorded later: when the phone had it, and when it was put to its thing."""

import os
import shutil

import pytest
from device.fake_camera import FakeCamera
from photos.photo_maker import jpeg

from checklists import builders
from checklists.account.album import Album
from checklists.facts import Person
from checklists.receipt import ASKED, FILE, NOTED, Receipt
from checklists.times import seconds_after, seconds_between
from mobileapp import evidence
from mobileapp.device.camera import Purpose, Shot
from mobileapp.journal import open_journal
from mobileapp.photos import PhotoStore, errors
from mobileapp.screens.photo_words import taken_and_kept
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

CAME, LATER, SET_BACK = (f"2026-03-02T{at}:30.250+01:00" for at in ("08:15", "10:40", "07:05"))
ADA = Person("Ada Berg", "fitter")


@pytest.fixture
def service(tmp_path):
    """A teardown, whose clock stands at two hours after the photo came."""
    with open_journal(tmp_path / "journal.sqlite") as journal:
        job = TeardownService(journal, lambda: job.now, "job-1", ADA.name)
        job.now = LATER
        assert job.record(builders.start(load_sheet("rocker-cover"), "Port engine", (ADA,), "it knocks", "")).done
        yield job


def adopted(service, store):
    """The one photo that belongs to nothing is put to the machine."""
    (orphan,) = evidence.orphans(service.journal, store)
    return evidence.keep_photo(service, store, orphan.path, "teardown:", "other").entry


def times(entry):
    return entry.fact.received, entry.fact.received_by, entry.at


def test_an_orphan_was_received_when_it_came_and_recorded_when_it_was_put_to_its_thing(service, store):
    store.keep(jpeg(), CAME)
    entry = adopted(service, store)
    assert times(entry) == (CAME, NOTED, LATER)
    album = Album(service.state)
    album.name(entry.fact.photo, "")
    ((printed, _),) = [picture.lines for block in album.shown() for picture in block.pictures]
    assert "Received 2026-03-02 08:15:30 +01:00. Put to this 2026-03-02 10:40:30 +01:00 by Ada Berg." in printed
    shown = taken_and_kept(*service.state.photos[entry.fact.photo], LATER)
    assert shown.endswith("Received 08:15. Kept 10:40, Ada Berg.")


def test_a_clock_set_back_in_between_is_recorded_as_it_was(service, store):
    store.keep(jpeg(), CAME)
    service.now = SET_BACK
    assert times(adopted(service, store)) == (CAME, NOTED, SET_BACK)


def test_a_copied_folder_has_new_times_and_the_receipts_are_the_old_ones(service, store, tmp_path):
    store.keep(jpeg(), CAME)
    copied = PhotoStore(tmp_path / "copied")
    shutil.copytree(store.folder, copied.folder, copy_function=shutil.copyfile)
    assert times(adopted(service, copied)) == (CAME, NOTED, LATER)


@pytest.mark.parametrize("note", [None, b"", b"{}", b'{"at": "at noon", "by": ""}', b'{"at": 3, "by": ""}', b"\xff"])
def test_without_a_note_the_files_own_time_is_left_and_that_is_said(service, store, note):
    """A store that an older Countback kept, or one whose note a power cut took."""
    sha = store.keep(jpeg(), CAME).sha
    path = store.folder / "received" / f"{sha}.json"
    path.unlink() if note is None else path.write_bytes(note)
    os.utime(store.path(sha), (1772442000, 1772442000))  # 2026-03-02 09:00 UTC
    entry = adopted(service, store)
    assert seconds_between("2026-03-02T09:00:00+00:00", entry.fact.received) == 0
    assert (entry.fact.received_by, entry.at) == (FILE, LATER)
    assert "by its file's own time" in taken_and_kept(entry.fact, service.state.photos[sha][1], LATER)


def test_a_photo_chosen_from_a_folder_of_the_persons_own_is_received_now(service, store, tmp_path):
    (tmp_path / "mine.jpg").write_bytes(jpeg())
    os.utime(tmp_path / "mine.jpg", (1, 1))
    became = evidence.keep_photo(service, store, tmp_path / "mine.jpg", "teardown:", "other")
    assert times(became.entry) == (LATER, NOTED, LATER)


def test_kept_in_time_the_words_are_few(service, store):
    entry = evidence.keep_photo(service, store, jpeg(), "teardown:", "other").entry
    assert taken_and_kept(*service.state.photos[entry.fact.photo], LATER).endswith(". Kept 10:40, Ada Berg.")


def test_what_the_camera_left_was_received_when_it_was_asked_for(service, store, tmp_path):
    camera = FakeCamera(tmp_path, [])
    (tmp_path / "a0.jpg").write_bytes(jpeg())
    shot = Shot(Purpose("job-1", "teardown:", "baseline"), tmp_path / "a0.jpg", "", "a0", Receipt(CAME, ASKED))
    entry = evidence.keep_shot(service, store, camera, shot).entry
    assert times(entry) == (CAME, ASKED, LATER)
    assert "Received after 08:15, when the camera was asked for it." in taken_and_kept(
        *service.state.photos[entry.fact.photo], LATER
    )


def test_killed_between_photo_and_entry_the_cameras_note_does_not_make_it_earlier(service, store, tmp_path):
    """The store had it at a time that was noted: that is when it came."""
    store.keep(jpeg(), seconds_after(CAME, 20))
    (tmp_path / "a0.jpg").write_bytes(jpeg())
    shot = Shot(Purpose("job-1", "teardown:", "baseline"), tmp_path / "a0.jpg", "", "a0", Receipt(CAME, ASKED))
    entry = evidence.keep_shot(service, store, FakeCamera(tmp_path, []), shot).entry
    assert times(entry) == (seconds_after(CAME, 20), NOTED, LATER)


def test_what_could_not_be_kept_was_not_received(tmp_path):
    def full(_):
        raise OSError(28, "No space left on device")

    store = PhotoStore(tmp_path / "kept-photos", sync=full)
    with pytest.raises(errors.PhotoError):
        store.keep(jpeg(), CAME)
    assert PhotoStore(store.folder).keep(jpeg(), LATER).received == LATER


def test_a_whole_photo_rescued_from_an_interrupted_write_keeps_the_time_of_its_writing(store):
    store.keep(jpeg(), CAME)
    (kept,) = store.photos()
    shutil.rmtree(store.folder / "received")
    part = store.folder / f".{kept.path.name}.00c0ffee.part"
    kept.path.rename(part)
    os.utime(part, (1772442000, 1772442000))
    (rescued,) = store.leftovers().rescued
    assert (seconds_between("2026-03-02T09:00:00+00:00", rescued.received), rescued.received_by) == (0, FILE)
