"""What the camera brought and nobody came back for is in a backup too: it may be the only copy of what somebody saw."""

import json
import os

import pytest
from pack_workshop import ILSE, JOB, JONAS, Handset, jpeg, members, originals, refused, rezip, with_manifest
from test_pack_fuzz import fuzz

from checklists.facts import Person
from checklists.receipt import ASKED, FILE, NOTED, RESTORED, Receipt
from checklists.times import seconds_between
from mobileapp import evidence
from mobileapp.device.camera import Purpose
from mobileapp.device.camera_awaited import AwaitedPhotos, NotedPhotos
from mobileapp.packs import check_pack, unpack, write_backup, write_pack
from mobileapp.packs.errors import PackDamaged, StillChanging
from mobileapp.packs.form import JOURNAL, MANIFEST, UNCLAIMED
from mobileapp.service import TeardownService

ASKED_AT = "2026-03-02T08:01:00.000+01:00"
NECK = Purpose(JOB, "opening:neck", "closeout")
OF_NOTHING = Purpose("", "teardown:", "other")
NINE = 1772442000  # 2026-03-02 09:00 UTC
SPOILT = jpeg(701)[:-200]


def notes(handset):
    return NotedPhotos(handset.folder / "awaited-photos")


def expects(handset, note, purpose=NECK, picture=None):
    """The camera was asked, and the app was stopped; the camera's file, where it wrote one."""
    awaited = AwaitedPhotos(notes(handset).folder, lambda: ASKED_AT, lambda: note).expect(purpose)
    if picture is not None:
        awaited.path.write_bytes(picture)
    return awaited.path


@pytest.fixture
def left(ilse):
    """A photo that came, a spoilt one that was set aside, one of which nothing is noted, one that never came."""
    came = expects(ilse, "a1", picture=jpeg(700))
    expects(ilse, "a2", picture=SPOILT)
    notes(ilse).set_aside("a2")
    stray = expects(ilse, "a3", picture=jpeg(702))
    notes(ilse).note_path("a3").unlink()
    os.utime(stray, (NINE, NINE))
    expects(ilse, "a4")
    return came


@pytest.fixture
def backup(ilse, left, tmp_path):
    return write_backup(ilse.journal, ilse.store, tmp_path / "everything.countback.zip")


def shots(handset):
    return {
        shot.note: (shot.purpose, shot.path.read_bytes() if shot.path else None, shot.received.at, shot.received.by)
        for shot in notes(handset).recover()
    }


def test_all_of_it_comes_back_with_what_it_was_for_and_since_when(ilse, jonas, backup):
    before = shots(ilse)
    nine = before["a3"][2]
    assert (backup.photos, backup.awaited) == (6, 3)
    assert check_pack(backup.path).awaited == 3
    result = unpack(backup.path, jonas.journal, jonas.store)
    assert (result.new_photos, result.awaited) == (6, 3)
    assert shots(jonas) == {
        "a1": (NECK, jpeg(700), ASKED_AT, ASKED),
        "a2": (OF_NOTHING, SPOILT, ASKED_AT, ASKED),
        "a3": (OF_NOTHING, jpeg(702), nine, FILE),
        "a4": (NECK, None, ASKED_AT, ASKED),
    }
    assert seconds_between("2026-03-02T09:00:00+00:00", nine) == 0
    assert len(originals(jonas)) == 3, "the store holds what was kept, and no more"


def test_twice_changes_nothing_here_or_there(ilse, jonas, backup):
    for phone in (ilse, jonas, jonas):
        unpack(backup.path, phone.journal, phone.store)
        before = phone.holds()
        assert unpack(backup.path, phone.journal, phone.store).new_photos == 0
        assert phone.holds() == before


def test_what_was_put_to_something_since_does_not_come_back(ilse, backup):
    job = TeardownService(ilse.journal, ilse.at, JOB, ILSE)
    (shot,) = [one for one in notes(ilse).recover() if one.note == "a1"]
    assert evidence.keep_photo(job, ilse.store, shot.path, "opening:neck", "closeout", received=shot.received).done
    notes(ilse).settle("a1")
    assert unpack(backup.path, ilse.journal, ilse.store).new_photos == 0
    assert "a1" not in shots(ilse)


def test_another_photo_in_its_place_stays_and_both_are_offered(jonas, backup):
    expects(jonas, "a1", picture=jpeg(9))
    for _ in range(2):
        unpack(backup.path, jonas.journal, jonas.store)
    offered = [picture for purpose, picture, *_ in shots(jonas).values() if purpose == NECK and picture]
    assert sorted(offered) == sorted([jpeg(9), jpeg(700)])


def test_a_photo_lost_here_comes_back_to_its_note(ilse, left, backup):
    left.unlink()
    assert unpack(backup.path, ilse.journal, ilse.store).awaited == 1
    assert left.read_bytes() == jpeg(700)


def test_the_same_phone_gives_the_same_bytes(ilse, backup, tmp_path):
    again = write_backup(ilse.journal, ilse.store, tmp_path / "again.zip")
    assert again.path.read_bytes() == backup.path.read_bytes()


def test_a_pack_of_one_teardown_leaves_it_on_the_phone(ilse, left, tmp_path):
    assert UNCLAIMED not in members(write_pack(ilse.journal, ilse.store, JOB, tmp_path / "job.zip").path)


# --- when a kept photo was received


def kept_for_nothing(phone):
    """A photo that was kept and whose entry never came."""
    return phone.store.keep(jpeg(500), ASKED_AT).sha


def test_a_photo_kept_for_nothing_keeps_the_time_of_its_receipt(ilse, jonas, tmp_path):
    sha = kept_for_nothing(ilse)
    unpack(write_backup(ilse.journal, ilse.store, tmp_path / "all.zip").path, jonas.journal, jonas.store)
    assert jonas.store.receipt(sha) == Receipt(ASKED_AT, NOTED)
    job = TeardownService(jonas.journal, jonas.at, JOB, JONAS)
    assert Person(JONAS, "second fitter") in job.state.people
    became = evidence.keep_photo(job, jonas.store, jonas.store.path(sha), "opening:neck", "other")
    assert (became.entry.fact.received, became.entry.at) == (ASKED_AT, jonas.at())


def test_an_older_backup_is_restored_and_what_it_does_not_say_is_said(ilse, jonas, tmp_path, made):
    sha = kept_for_nothing(ilse)
    inside = members(write_backup(ilse.journal, ilse.store, tmp_path / "all.zip").path)
    del inside[UNCLAIMED]
    rezip(made, with_manifest(inside, format=1))
    assert unpack(made, jonas.journal, jonas.store).new_photos == 4
    assert jonas.store.receipt(sha).by == RESTORED
    assert not notes(jonas).folder.exists()


def test_with_nothing_unclaimed_an_older_countback_can_restore_it(ilse, tmp_path):
    inside = members(write_backup(ilse.journal, ilse.store, tmp_path / "all.zip").path)
    assert json.loads(inside[MANIFEST])["format"] == 1
    assert UNCLAIMED not in inside


def test_a_photo_altered_that_belongs_to_nothing_goes_as_it_is_and_the_backup_can_be_restored(ilse, jonas, tmp_path):
    path = ilse.store.path(kept_for_nothing(ilse))
    path.chmod(0o644)
    path.write_bytes(SPOILT)
    backup = write_backup(ilse.journal, ilse.store, tmp_path / "all.zip")
    unpack(backup.path, jonas.journal, jonas.store)
    assert [(picture, at) for _, picture, at, _ in shots(jonas).values()] == [(SPOILT, ASKED_AT)]


# --- refused


def test_a_file_of_the_cameras_altered_left_out_or_added(jonas, backup, made):
    inside = members(backup.path)
    rezip(made, {**inside, "awaited/a1": inside["awaited/a1"][:-1] + b"x"})
    refused(jonas, made, PackDamaged, "its hash is another one")
    rezip(made, with_manifest({**inside, "awaited/a1": jpeg(99)}))
    refused(jonas, made, PackDamaged, "the member 'awaited/a1' is not what unclaimed.json notes of it")
    rezip(made, with_manifest({name: data for name, data in inside.items() if name != "awaited/a3"}))
    refused(jonas, made, PackDamaged, "awaited/a3")
    rezip(made, with_manifest({**inside, "awaited/b7": jpeg(3)}))
    refused(jonas, made, PackDamaged, "awaited/b7")
    rezip(made, with_manifest({**inside, "awaited/../evil": jpeg(3)}))
    refused(jonas, made, PackDamaged, "does not belong in a pack")


def test_notes_altered_are_refused(jonas, backup, made):
    inside = members(backup.path)
    changed = {**inside, UNCLAIMED: inside[UNCLAIMED].replace(b"08:01", b"07:01")}
    rezip(made, changed)
    refused(jonas, made, PackDamaged, "unclaimed.json is not what the manifest names")
    for old, new in [(b'"a1"', b'"../a"'), (b'"a1"', b'"a4"'), (b"asked for", b"guessed"), (b'"2026', b'"at noon '),
                     (b'"a1"', b"3"), (b'"received":{}', b'"received":{"ab":{}}'), (b'"received":{}', b'"more":{}'),
                     (b'"received":{}', b'"received":[]'), (b"{", b"")]:  # fmt: skip
        assert old in inside[UNCLAIMED]
        rezip(made, with_manifest({**inside, UNCLAIMED: inside[UNCLAIMED].replace(old, new, 1)}))
        refused(jonas, made, PackDamaged, UNCLAIMED)


def test_a_receipt_of_a_photo_that_is_not_in_it(jonas, backup, made):
    inside = members(backup.path)
    stray = f'"received":{{"{"e" * 64}":{{"at":"{ASKED_AT}","by":""}}}}'.encode()
    rezip(made, with_manifest({**inside, UNCLAIMED: inside[UNCLAIMED].replace(b'"received":{}', stray)}))
    refused(jonas, made, PackDamaged, "the photo eeeeeeeeeeee belongs to something, or is not in it")


def test_a_pack_of_one_teardown_brings_no_notes(jonas, backup, made):
    inside = members(backup.path)
    rezip(made, with_manifest(inside, holds="teardown"))
    refused(jonas, made, PackDamaged, "does not belong there")


def test_a_hundred_damaged_backups(ilse, backup, tmp_path):
    accepted = fuzz(backup.path, ilse, tmp_path, range(100))
    assert len(accepted["refused"]) > 120



def test_a_camera_that_writes_at_this_moment_stops_the_backup_and_nothing_is_written(ilse, left, tmp_path):
    class Writing:
        """The store, in whose photos the backup looks after it looked at the camera's."""

        folder, path, has = ilse.store.folder, staticmethod(ilse.store.path), staticmethod(ilse.store.has)
        receipt_of = staticmethod(ilse.store.receipt_of)
        looked = 0

        def photos(self):
            self.looked += 1
            if self.looked == 2:
                left.write_bytes(jpeg(703))
            return ilse.store.photos()

    with pytest.raises(StillChanging, match=r"a1.jpg changed while it was packed.*try again"):
        write_backup(ilse.journal, Writing(), tmp_path / "all.zip")
    assert not list(tmp_path.glob("*all.zip*"))
    assert JOURNAL in members(write_backup(ilse.journal, ilse.store, tmp_path / "all.zip").path)


def test_a_restore_brings_a_note_back_to_a_photo_that_lost_it(backup, tmp_path):
    phone = Handset(tmp_path / "third", "phone-c", JONAS)
    notes(phone).folder.mkdir()
    notes(phone).photo_path("a1").write_bytes(jpeg(700))
    unpack(backup.path, phone.journal, phone.store)
    assert shots(phone)["a1"] == (NECK, jpeg(700), ASKED_AT, ASKED)
    phone.close()
