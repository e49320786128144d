"""A teardown goes to another phone in one file, and comes back with what was added."""

import json
import os
import shutil
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest
from pack_workshop import JOB, JONAS, Handset, jpeg, members, originals, rezip

from checklists import builders
from checklists.facts import Counted, Move
from checklists.sheet import Line, Sheet
from checklists.teardown import fold
from mobileapp.journal import prove, rebuild_balances
from mobileapp.packs import News, check_pack, unpack, write_pack
from mobileapp.packs.errors import AlreadyThere, NothingToPack, PhotoLost
from mobileapp.photos.proving import prove_photos
from mobileapp.photos.safe_file import ABANDONED


def hand_over(one, other, path):
    """Pack on one phone, unpack on the other."""
    write_pack(one.journal, one.store, JOB, path, replace=True)
    return unpack(path, other.journal, other.store)


def alike(one, other):
    """Both phones hold the same job and the same photos, and both prove."""
    assert one.journal.rows(JOB) == other.journal.rows(JOB)
    assert one.journal.heads(JOB) == other.journal.heads(JOB)
    assert one.journal.balances(JOB) == other.journal.balances(JOB)
    assert one.journal.teardowns() == other.journal.teardowns()
    assert originals(one) == originals(other)
    for handset in (one, other):
        assert prove(handset.journal.path) == []
        assert prove_photos(handset.journal.path, handset.store).faults == []


def test_a_job_goes_over_with_its_photos(ilse, jonas, pack):
    result = unpack(pack, jonas.journal, jonas.store)
    assert result.teardowns == (News(JOB, len(ilse.journal.rows(JOB)), False),)
    assert (result.new_photos, result.lacking) == (3, ())
    alike(ilse, jonas)


def test_any_zip_tool_opens_it(ilse, pack, tmp_path):
    shutil.unpack_archive(pack, tmp_path / "open", "zip")
    photos = {path.name for path in (tmp_path / "open" / "photos").iterdir()}
    assert photos == originals(ilse)
    lines = (tmp_path / "open" / "journal.jsonl").read_text(encoding="utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    assert [entry["seq"] for entry in entries] == list(range(1, len(entries) + 1))
    assert set(entries[0]) == {
        "at", "body", "device", "hash", "kind", "prev", "seen", "seq", "teardown", "tick", "who"
    }  # fmt: skip
    manifest = json.loads((tmp_path / "open" / "manifest.json").read_text())
    assert manifest["format"] == 1
    assert manifest["teardowns"][0]["heads"]["phone-a"]["hash"] == ilse.journal.head(JOB)


def test_the_same_journal_gives_the_same_bytes(ilse, pack, tmp_path):
    again = write_pack(ilse.journal, ilse.store, JOB, tmp_path / "again.zip")
    assert again.path.read_bytes() == pack.read_bytes()
    assert again.size == pack.stat().st_size


def test_the_same_job_packed_on_the_other_phone_is_the_same_file(ilse, jonas, pack, tmp_path):
    unpack(pack, jonas.journal, jonas.store)
    again = write_pack(jonas.journal, jonas.store, JOB, tmp_path / "again.zip")
    assert again.path.read_bytes() == pack.read_bytes()


def test_twice_changes_nothing(jonas, pack):
    unpack(pack, jonas.journal, jonas.store)
    before = jonas.holds()
    result = unpack(pack, jonas.journal, jonas.store)
    assert (result.new_entries, result.new_photos) == (0, 0)
    assert jonas.holds() == before


def test_the_phone_that_packed_it_takes_it_in_without_change(ilse, pack):
    before = ilse.holds()
    assert unpack(pack, ilse.journal, ilse.store).new_entries == 0
    assert ilse.holds() == before


@pytest.mark.parametrize("ilse_first", [True, False])
def test_what_both_added_merges_whichever_way_round(ilse, jonas, pack, tmp_path, ilse_first):
    unpack(pack, jonas.journal, jonas.store)
    ilse.rag("stores", "bench")
    ilse.snap(50)
    jonas.do(Counted((Move("wrench", 1, "stores", "bench"),)))
    jonas.snap(60)
    first, second = (ilse, jonas) if ilse_first else (jonas, ilse)
    hand_over(first, second, tmp_path / "go.zip")
    hand_over(second, first, tmp_path / "come.zip")
    alike(ilse, jonas)
    assert len(originals(ilse)) == 5
    assert fold(ilse.journal.entries(JOB)).clashes == {}


def test_a_double_count_made_by_two_people_shows(ilse, jonas, pack, tmp_path):
    unpack(pack, jonas.journal, jonas.store)
    ilse.rag("stores", "engine")
    jonas.rag("stores", "engine")
    hand_over(ilse, jonas, tmp_path / "go.zip")
    hand_over(jonas, ilse, tmp_path / "come.zip")
    alike(ilse, jonas)
    (clash,) = fold(ilse.journal.entries(JOB)).clashes.values()
    assert (clash.kind, clash.line, clash.quantity) == ("counted on two phones", "rag", 1)


def test_a_re_zipped_pack_is_the_same_pack(ilse, jonas, pack, tmp_path):
    rezipped = rezip(tmp_path / "by hand.zip", members(pack), zipfile.ZIP_DEFLATED)
    unpack(rezipped, jonas.journal, jonas.store)
    alike(ilse, jonas)


def test_looking_into_a_pack_writes_nothing(pack, tmp_path):
    before = sorted(tmp_path.rglob("*"))
    contents = check_pack(pack)
    assert contents.photos == 3
    assert [held.id for held in contents.manifest.teardowns] == [JOB]
    assert sorted(tmp_path.rglob("*")) == before


def test_a_photo_altered_here_is_put_right_from_the_pack(jonas, pack):
    unpack(pack, jonas.journal, jonas.store)
    path = jonas.store.photos()[0].path
    path.chmod(0o644)
    path.write_bytes(jpeg(999))
    assert prove_photos(jonas.journal.path, jonas.store).faults
    assert unpack(pack, jonas.journal, jonas.store).new_photos == 1
    assert prove_photos(jonas.journal.path, jonas.store).faults == []


def test_what_both_phones_took_off_as_a_double_comes_off_once_and_both_journals_prove(ilse, jonas, tmp_path):
    """Which of two withdrawals still takes something off the rules alone can say; the proof asks them."""
    wipes = Sheet("", "", items=(Line("wipes", "Wipe", "rag", 4, "stores"),))
    hand_over(ilse, jonas, tmp_path / "job.zip")
    jonas.minute = ilse.minute
    for acts in ([builders.grow(wipes)], [builders.check("wipes", "stores", 4),
                                          builders.withdraw("wipes", 4, "stores", "one packet")]):  # fmt: skip
        for phone in (ilse, jonas):
            phone.do(*acts)
        hand_over(ilse, jonas, tmp_path / "job.zip")
        hand_over(jonas, ilse, tmp_path / "job.zip")
    for phone in (ilse, jonas):
        assert phone.journal.balances(JOB)["wipes", "stores"] == 4
        assert rebuild_balances(phone.journal) == []
        assert prove(phone.journal.path) == []


# --- packing refused


def test_a_file_that_is_there_is_not_replaced_unasked(ilse, pack):
    before = pack.read_bytes()
    with pytest.raises(AlreadyThere, match=r"already. It was left as it is"):
        write_pack(ilse.journal, ilse.store, JOB, pack)
    assert pack.read_bytes() == before


def test_no_such_teardown(ilse, tmp_path):
    with pytest.raises(NothingToPack, match="no teardown 'attic'"):
        write_pack(ilse.journal, ilse.store, "attic", tmp_path / "attic.zip")
    assert not (tmp_path / "attic.zip").exists()


def lose_a_photo(handset):
    photo = handset.store.photos()[0]
    photo.path.chmod(0o644)
    photo.path.unlink()
    return photo.sha


def test_a_lost_photo_stops_the_pack_and_may_be_left_out_by_name(ilse, jonas, tmp_path):
    lost = lose_a_photo(ilse)
    with pytest.raises(PhotoLost, match=lost[:12]):
        write_pack(ilse.journal, ilse.store, JOB, tmp_path / "job.zip")
    assert not list(tmp_path.glob("*.zip"))
    packed = write_pack(ilse.journal, ilse.store, JOB, tmp_path / "job.zip", without_lost=True)
    assert packed.lacking == (lost,)
    result = unpack(packed.path, jonas.journal, jonas.store)
    assert result.lacking == (lost,)
    assert len(originals(jonas)) == 2


def test_an_altered_photo_is_not_packed(ilse, tmp_path):
    photo = ilse.store.photos()[0]
    photo.path.chmod(0o644)
    photo.path.write_bytes(jpeg(999))
    with pytest.raises(PhotoLost, match="or was altered"):
        write_pack(ilse.journal, ilse.store, JOB, tmp_path / "job.zip")


# --- interrupted


def test_what_another_program_is_copying_at_this_moment_is_left_to_it(jonas, pack):
    """A command line takes a pack in beside the running app, which does the same."""
    others = jonas.folder / ".incoming-00c0ffee"
    others.mkdir()
    (others / "copy").write_bytes(b"half a photo")
    unpack(pack, jonas.journal, jonas.store)
    assert (others / "copy").read_bytes() == b"half a photo"


NURSERY = """
import os, sys
from pathlib import Path
from pack_workshop import JONAS, Handset
from mobileapp.packs import unpack

jonas, left = Handset(Path(sys.argv[1]), "phone-b", JONAS), int(sys.argv[3])

def step():
    global left
    left -= 1
    if left < 0:
        os._exit(9)

class DyingStore:
    folder, path, photos = jonas.store.folder, staticmethod(jonas.store.path), staticmethod(jonas.store.photos)
    def has(self, sha):
        step()
        return jonas.store.has(sha)

class DyingJournal:
    path, teardowns = jonas.journal.path, staticmethod(jonas.journal.teardowns)
    def receive_all(self, given, before_writing):
        def place():
            before_writing()
            step()
        return jonas.journal.receive_all(given, place)

unpack(sys.argv[2], DyingJournal(), DyingStore())
"""


@pytest.mark.parametrize("steps", range(8))
def test_a_process_that_dies_leaves_nothing_or_photos_to_offer(ilse, tmp_path, pack, steps):
    """While looking for photos (3 steps), while putting them in their place (3), before the entries; then all is in."""
    folder = tmp_path / "killed"
    path = os.pathsep.join([str(Path(__file__).parent), str(Path(__file__).parents[2])])
    asked = [sys.executable, "-c", NURSERY, str(folder), str(pack), str(steps)]
    done = subprocess.run(asked, env={**os.environ, "PYTHONPATH": path}, capture_output=True, timeout=60)
    assert done.returncode == (9 if steps < 7 else 0), done.stderr.decode()
    jonas = Handset(folder, "phone-b", JONAS)
    try:
        assert prove(jonas.journal.path) == []
        if steps < 7:
            assert jonas.journal.teardowns() == []
            assert len(jonas.store.orphans(set())) == max(0, min(steps - 3, 3))
        for left in folder.glob(".incoming*"):
            long_ago = time.time() - ABANDONED - 5
            os.utime(left, (long_ago, long_ago))
        unpack(pack, jonas.journal, jonas.store)
        assert not list(folder.glob(".incoming*"))
        alike(ilse, jonas)
    finally:
        jonas.close()
