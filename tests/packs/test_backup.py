"""Everything on a phone in one file, and back again: on an empty phone, or merged into what is there."""

import pytest
from pack_workshop import JOB, JONAS, Handset, jpeg, members, originals

from mobileapp.journal import prove
from mobileapp.packs import News, check_pack, unpack, write_backup, write_pack
from mobileapp.photos.proving import prove_photos


@pytest.fixture
def backup(ilse, tmp_path):
    """Two jobs and a photo that belongs to nothing yet, backed up."""
    ilse.begin("job-2")
    ilse.store.keep(jpeg(500), ilse.at())
    return write_backup(ilse.journal, ilse.store, tmp_path / "everything.countback.zip")


def all_rows(handset):
    return {card.teardown: handset.journal.rows(card.teardown) for card in handset.journal.teardowns()}


def test_everything_comes_back_on_an_empty_phone(ilse, jonas, backup):
    assert (backup.teardowns, backup.photos, backup.lacking) == (2, 7, ())
    result = unpack(backup.path, jonas.journal, jonas.store)
    assert [news.teardown for news in result.teardowns] == ["job-1", "job-2"]
    assert (result.holds, result.new_photos) == ("everything", 7)
    assert all_rows(jonas) == all_rows(ilse)
    assert sorted(jonas.journal.teardowns()) == sorted(ilse.journal.teardowns())
    assert originals(jonas) == originals(ilse)
    assert prove(jonas.journal.path) == []
    assert prove_photos(jonas.journal.path, jonas.store).faults == []


def test_work_goes_on_after_a_restore_on_a_new_device(ilse, jonas, backup, tmp_path):
    """The restored phone writes a chain of its own, so that the lost one coming back is no contradiction."""
    unpack(backup.path, jonas.journal, jonas.store)
    jonas.rag("stores", "bench")
    assert sorted(jonas.journal.heads(JOB)) == ["phone-a", "phone-b"]
    again = write_pack(jonas.journal, jonas.store, JOB, tmp_path / "go.zip")
    unpack(again.path, ilse.journal, ilse.store)
    assert ilse.journal.rows(JOB) == jonas.journal.rows(JOB)
    assert prove(ilse.journal.path) == []


def test_a_restore_merges_into_what_is_there(ilse, jonas, backup, tmp_path):
    other = Handset(tmp_path / "other", "phone-c", JONAS)
    unpack(write_pack(ilse.journal, ilse.store, JOB, tmp_path / "one.zip").path, other.journal, other.store)
    other.rag("stores", "bench")
    other.begin("job-3")
    result = unpack(backup.path, other.journal, other.store)
    assert result.teardowns == (News("job-1", 0, True), News("job-2", len(ilse.journal.rows("job-2")), False))
    assert len(all_rows(other)) == 3
    assert len(originals(other)) == 10
    assert prove(other.journal.path) == []
    other.close()


def test_twice_changes_nothing(jonas, backup):
    unpack(backup.path, jonas.journal, jonas.store)
    before = jonas.holds()
    assert unpack(backup.path, jonas.journal, jonas.store).new_entries == 0
    assert jonas.holds() == before


def test_the_same_phone_gives_the_same_bytes(ilse, backup, tmp_path):
    again = write_backup(ilse.journal, ilse.store, tmp_path / "again.zip")
    assert again.path.read_bytes() == backup.path.read_bytes()


def test_an_empty_phone_can_be_backed_up(jonas, ilse, tmp_path):
    backup = write_backup(jonas.journal, jonas.store, tmp_path / "nothing.zip")
    assert (backup.entries, backup.photos) == (0, 0)
    before = ilse.holds()
    assert unpack(backup.path, ilse.journal, ilse.store).teardowns == ()
    assert ilse.holds() == before


def test_a_lost_photo_does_not_stop_a_backup_and_is_said(ilse, tmp_path):
    photo = ilse.store.photos()[0]
    photo.path.chmod(0o644)
    photo.path.unlink()
    backup = write_backup(ilse.journal, ilse.store, tmp_path / "backup.zip")
    assert backup.lacking == (photo.sha,)
    assert check_pack(backup.path).manifest.lacking == (photo.sha,)
    assert len(members(backup.path)) == 4
