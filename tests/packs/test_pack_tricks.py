"""Packs made to do harm, and storage that has no room: refused, and nothing is written."""

import hashlib
import os
import struct
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from pack_workshop import JOB, jpeg, refused, rezip, with_manifest

from mobileapp.packs import unpack, write_backup, write_pack
from mobileapp.packs.errors import (
    PackDamaged,
    PackTooLarge,
    StorageFull,
    StorageReadOnly,
)
from mobileapp.packs.form import JOURNAL, PHOTOS

# --- tricks


@pytest.mark.parametrize(
    "name",
    ["../evil", "/etc/evil", "photos/../../evil", "photos\\evil", "photos/", "C:evil", "photos/" + "A" * 64,
     "photos/" + "0" * 63, "Manifest.json", "journal.jsonl/x", "photos/" + "0" * 64 + ".jpg", "a\nb", "\u202efdp"],
)  # fmt: skip
def test_names_that_do_not_belong_in_a_pack(jonas, made, inside, name):
    rezip(made, {**inside, name: b"x"})
    refused(jonas, made, PackDamaged, "does not belong in a pack|is not in the manifest")
    assert not list(jonas.folder.parent.rglob("*evil*"))


def test_a_name_cut_by_a_zero_byte(jonas, pack, made):
    name = (PHOTOS + "f" * 64).encode()
    data = pack.read_bytes().replace(JOURNAL.encode(), b"journal\x00jsonl")
    made.write_bytes(data)
    refused(jonas, made, PackDamaged, "does not belong in a pack")
    assert len(name) == 71


def test_a_member_twice(jonas, made, inside):
    rezip(made, inside)
    with pytest.warns(UserWarning, match="Duplicate name"), zipfile.ZipFile(made, "a") as archive:
        archive.writestr(JOURNAL, inside[JOURNAL])
    refused(jonas, made, PackDamaged, r"journal.jsonl' is there twice")


def test_a_locked_member(jonas, pack, made):
    data = bytearray(pack.read_bytes())
    central = data.rindex(b"PK\x01\x02")
    data[central + 8] |= 1
    made.write_bytes(data)
    refused(jonas, made, PackDamaged, "is locked by a password")


def test_an_unknown_packing(jonas, made, inside):
    rezip(made, inside, zipfile.ZIP_LZMA)
    refused(jonas, made, PackDamaged, "packed in a way that is not used here")


def test_a_bomb(jonas, made, inside):
    rezip(made, with_manifest({**inside, JOURNAL: b"\n" * 50_000_000}), zipfile.ZIP_DEFLATED)
    assert made.stat().st_size < 200_000
    refused(jonas, made, PackTooLarge, "would unpack")


def test_sizes_that_no_teardown_has(jonas, pack, made):
    data = bytearray(pack.read_bytes())
    central = data.rindex(b"PK\x01\x02")
    struct.pack_into("<I", data, central + 24, 0xFFFFFFF0)
    made.write_bytes(data)
    refused(jonas, made, PackTooLarge, "claims 4294967280 bytes")


def test_overlapping_members(jonas, made, inside):
    """Many members of the directory share the bytes of one photo."""
    data = jpeg(5, 400, 300)
    sha = hashlib.sha256(data).hexdigest()
    others = {PHOTOS + f"{number:064x}": data for number in range(40)}
    rezip(made, {**inside, PHOTOS + sha: data, **others})
    raw = bytearray(made.read_bytes())
    with zipfile.ZipFile(made) as archive:
        offset = archive.getinfo(PHOTOS + sha).header_offset
    at = raw.index(b"PK\x01\x02")
    while (at := raw.find(b"PK\x01\x02", at + 4)) > 0:
        if PHOTOS.encode() + b"0000" in raw[at : at + 120]:
            struct.pack_into("<I", raw, at + 42, offset)
    first = raw.index(b"PK\x03\x04", offset + 4)
    last = raw.index(b"PK\x01\x02")
    short = raw[:first] + raw[last:]
    end = short.rindex(b"PK\x05\x06")
    struct.pack_into("<I", short, end + 16, first)
    made.write_bytes(short)
    refused(jonas, made, PackDamaged, "overlap|not in the manifest|cut short")


# --- the storage

SMALL_DISK = """
import resource, signal, sys
from pathlib import Path
from pack_workshop import JOB, Handset
from mobileapp.packs import PackError, unpack, write_pack

folder, what, pack, limit = Path(sys.argv[1]), sys.argv[2], Path(sys.argv[3]), int(sys.argv[4])
phone = Handset(folder, sys.argv[5])
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    if what == "pack":
        write_pack(phone.journal, phone.store, JOB, pack)
    else:
        unpack(pack, phone.journal, phone.store)
except PackError as fault:
    print(type(fault).__name__, fault)
"""


def with_a_small_disk(folder, what, pack, limit, device):
    path = os.pathsep.join([str(Path(__file__).parent), str(Path(__file__).parents[2])])
    asked = [sys.executable, "-c", SMALL_DISK, str(folder), what, str(pack), str(limit), device]
    done = subprocess.run(asked, env={**os.environ, "PYTHONPATH": path}, capture_output=True, timeout=60, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="limits are set the POSIX way")
def test_a_full_disk_while_a_pack_is_written(ilse, made):
    said = with_a_small_disk(ilse.folder, "pack", made, 2000, "phone-a")
    assert said.startswith(StorageFull.__name__)
    assert "Free some space" in said
    assert list(made.parent.glob("*made over*")) == []


@pytest.mark.skipif(sys.platform == "win32", reason="limits are set the POSIX way")
def test_a_full_disk_while_a_pack_is_taken_in(ilse, jonas, made):
    kept = ilse.store.keep(jpeg(5, 1200, 900), ilse.at()).sha
    backup = write_backup(ilse.journal, ilse.store, made)
    assert ilse.store.path(kept).stat().st_size > 200_000
    before = jonas.holds()
    said = with_a_small_disk(jonas.folder, "unpack", backup.path, 200_000, "phone-b")
    assert said.startswith(StorageFull.__name__)
    assert jonas.holds() == before
    assert len(unpack(backup.path, jonas.journal, jonas.store).teardowns) == 1


def test_a_folder_that_is_not_there(ilse, tmp_path):
    with pytest.raises(StorageReadOnly, match="its folder cannot be written"):
        write_pack(ilse.journal, ilse.store, JOB, tmp_path / "nowhere" / "job.zip")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(ilse, tmp_path):
    tmp_path.chmod(0o555)
    try:
        with pytest.raises(StorageReadOnly):
            write_pack(ilse.journal, ilse.store, JOB, tmp_path / "job.zip")
    finally:
        tmp_path.chmod(0o755)
