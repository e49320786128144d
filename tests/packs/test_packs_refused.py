"""A pack that is foreign, damaged or altered is refused with what and where, and nothing is written."""

import hashlib
import json
import shutil
import zipfile

import pytest
from pack_workshop import JOB, jpeg, lines_of, refused, rezip, with_lines, with_manifest

from mobileapp.journal.canonical import Envelope, canonical, envelope_hash
from mobileapp.packs import check_pack, unpack
from mobileapp.packs.errors import (
    CannotRead,
    NewerPack,
    NoSuchPack,
    NotAPack,
    PackContradicts,
    PackDamaged,
    PackRefused,
)
from mobileapp.packs.form import JOURNAL, MANIFEST, PHOTOS, line_of, row_of

# --- not a pack


def test_no_file_a_folder_a_text_and_an_empty_file(jonas, tmp_path):
    refused(jonas, tmp_path / "nowhere.zip", NoSuchPack, "There is no file nowhere.zip")
    refused(jonas, tmp_path, NotAPack, "it is a folder")
    for data in (b"", b"hello", bytes(500), jpeg(1)):
        path = tmp_path / "other.zip"
        path.write_bytes(data)
        refused(jonas, path, NotAPack, "it is not a zip file")


def test_a_zip_of_something_else(jonas, made):
    rezip(made, {"holiday.txt": b"sun"})
    refused(jonas, made, NotAPack, r"a zip file without a manifest.json")
    rezip(made, {MANIFEST: b'{"made_as":"another program"}'})
    refused(jonas, made, NotAPack, "not one of Countback")


def test_a_newer_format(jonas, made, inside):
    rezip(made, with_manifest(inside, format=3))
    refused(jonas, made, NewerPack, r"format 3; this one knows up to 2.*install the newer one")
    rezip(made, with_manifest(inside, format=2))
    refused(jonas, made, PackDamaged, "holds something that does not belong there")


# --- cut, altered, reordered


@pytest.mark.parametrize("keep", [0.02, 0.3, 0.7, 0.999])
def test_cut_short(jonas, pack, made, keep):
    data = pack.read_bytes()
    made.write_bytes(data[: int(len(data) * keep)])
    refused(jonas, made, PackDamaged, "it is cut short")


def test_a_byte_of_a_photo(jonas, pack, made):
    data = bytearray(pack.read_bytes())
    with zipfile.ZipFile(pack) as archive:
        info = next(info for info in archive.infolist() if info.filename.startswith(PHOTOS))
    data[info.header_offset + 30 + len(info.filename) + 200] ^= 1
    made.write_bytes(data)
    refused(jonas, made, PackDamaged, r"the photo [0-9a-f]{12} is not what its name says")


def test_a_photo_exchanged_for_another(jonas, made, inside):
    name = next(name for name in inside if name.startswith(PHOTOS))
    rezip(made, {**inside, name: jpeg(77)})
    refused(jonas, made, PackDamaged, "has not the size in the manifest|its hash is another one")
    rezip(made, with_manifest({**inside, name: jpeg(77)}))
    refused(jonas, made, PackDamaged, "a member that does not belong there")


def test_a_photo_that_is_no_picture(ilse, jonas, made, inside):
    data = b"not a picture at all"
    sha = hashlib.sha256(data).hexdigest()
    rows = [row_of(line) for line in lines_of(inside)]
    last = rows[-1]
    body = json.loads(last.body) | {"photo": sha, "size": len(data)}
    row = last._replace(body=canonical(body))
    row = row._replace(hash=envelope_hash(Envelope(*row[:10])))
    old = json.loads(last.body)["photo"]
    changed = {name: bytes_ for name, bytes_ in inside.items() if name != PHOTOS + old} | {PHOTOS + sha: data}
    plain = json.loads(inside[MANIFEST])
    plain["teardowns"][0]["heads"]["phone-a"]["hash"] = row.hash
    lines = [*lines_of(inside)[:-1], line_of(row)]
    rezip(made, with_manifest({**changed, JOURNAL: "".join(f"{line}\n" for line in lines).encode()},
                              teardowns=plain["teardowns"]))  # fmt: skip
    refused(jonas, made, PackDamaged, "is no picture of a kind that is kept")


def test_a_photo_left_out(jonas, made, inside):
    name = next(name for name in inside if name.startswith(PHOTOS))
    rest = {member: data for member, data in inside.items() if member != name}
    rezip(made, rest)
    refused(jonas, made, PackDamaged, f"{name[:20]}.*is missing")
    rezip(made, with_manifest(rest))
    refused(jonas, made, PackDamaged, rf"entry \d+ names the photo {name[7:19]}, which is not in it")


def test_a_photo_that_belongs_to_nothing(jonas, made, inside):
    extra = jpeg(88)
    sha = hashlib.sha256(extra).hexdigest()
    rezip(made, {**inside, PHOTOS + sha: extra})
    refused(jonas, made, PackDamaged, "is not in the manifest")
    rezip(made, with_manifest({**inside, PHOTOS + sha: extra}))
    refused(jonas, made, PackDamaged, "belongs to nothing in it")


def test_the_journal_altered(jonas, made, inside):
    lines = lines_of(inside)
    changed = {**inside, JOURNAL: inside[JOURNAL].replace(b"Petrel", b"Falcon")}
    rezip(made, changed)
    refused(jonas, made, PackDamaged, r"journal.jsonl is not what the manifest names")
    rezip(made, with_manifest(changed))
    refused(jonas, made, PackRefused, "entry 1: its content is not what its hash was made from")
    rezip(made, with_lines(inside, [lines[1], lines[0], *lines[2:]]))
    unordered = made.with_name("unordered.zip")
    shutil.copy(made, unordered)  # the order of lines means nothing: each entry says where it stands
    unpack(unordered, jonas.journal, jonas.store)
    assert len(jonas.journal.rows(JOB)) == len(lines)


def test_lines_left_out_doubled_or_broken(jonas, made, inside):
    lines = lines_of(inside)
    rezip(made, with_lines(inside, lines[:-1]))
    refused(jonas, made, PackDamaged, "entries, where the manifest names")
    rezip(made, with_lines(inside, [*lines[:-1], lines[-1].replace('"seq":', '"seq": ')]))
    refused(jonas, made, PackDamaged, rf"line {len(lines)}: it is not written as an entry is")
    rezip(made, with_lines(inside, [*lines[:-1], "{}"]))
    refused(jonas, made, PackDamaged, "not written as an entry is")
    rezip(made, with_manifest({**inside, JOURNAL: inside[JOURNAL][:-1]}))
    refused(jonas, made, PackDamaged, "ends in the middle of a line")
    rezip(made, with_manifest({**inside, JOURNAL: b"\xff\xfe"}))
    refused(jonas, made, PackDamaged, r"not UTF-8 text \(byte 1\)")
    entries = json.loads(inside[MANIFEST])["teardowns"]
    entries[0]["entries"] += 1
    twice = with_lines(inside, [*lines, lines[-1]])
    rezip(made, with_manifest(twice, teardowns=entries))
    unpack(made, jonas.journal, jonas.store)  # said twice is said once
    assert len(jonas.journal.rows(JOB)) == len(lines)


def test_a_chain_cut_in_the_middle_with_everything_made_to_fit(jonas, made, inside):
    lines = lines_of(inside)
    entries = json.loads(inside[MANIFEST])["teardowns"]
    entries[0]["entries"] -= 1
    rest = with_lines(inside, [*lines[:2], *lines[3:]])
    rezip(made, with_manifest(rest, teardowns=entries))
    refused(jonas, made, PackRefused, "phone-a, entry 4: entry 3 of its chain is due here")


def test_a_pack_that_contradicts_what_is_here(ilse, jonas, pack, made, inside):
    unpack(pack, jonas.journal, jonas.store)
    rows = [row_of(line) for line in lines_of(inside)]
    forked = rows[-1]._replace(who="Somebody else")
    forked = forked._replace(hash=envelope_hash(Envelope(*forked[:10])))
    plain = json.loads(inside[MANIFEST])
    plain["teardowns"][0]["heads"]["phone-a"]["hash"] = forked.hash
    lines = "".join(f"{line}\n" for line in [*lines_of(inside)[:-1], line_of(forked)])
    rezip(made, with_manifest({**inside, JOURNAL: lines.encode()}, teardowns=plain["teardowns"]))
    refused(jonas, made, PackContradicts, f"entry {forked.seq}: here another stands in its place")


def test_a_manifest_that_says_what_is_not_so(jonas, made, inside):
    plain = json.loads(inside[MANIFEST])
    teardown = plain["teardowns"][0]
    wrong = {
        "holds": "a holiday",
        "lacking": ["0" * 64],
        "teardowns": [teardown, teardown],
        "more": 1,
        "format": "1",
    }
    for key, value in wrong.items():
        rezip(made, {**inside, MANIFEST: canonical(plain | {key: value}).encode()})
        refused(jonas, made, PackDamaged, "manifest|known what it holds")
    for value in (None, [], 3, {"id": 1}, [{"id": JOB}]):
        rezip(made, {**inside, MANIFEST: canonical(plain | {"teardowns": value}).encode()})
        refused(jonas, made, PackDamaged, "manifest")
    rezip(made, {**inside, MANIFEST: json.dumps(plain).encode()})
    refused(jonas, made, PackDamaged, "canonical")
    rezip(made, {**inside, MANIFEST: b"\xff"})
    refused(jonas, made, PackDamaged, "not UTF-8")


def test_every_place_at_which_it_can_be_cut(pack, made):
    data = pack.read_bytes()
    for size in [*range(0, 200), *range(200, len(data) - 200, 97), *range(len(data) - 200, len(data))]:
        made.write_bytes(data[:size])
        with pytest.raises(CannotRead):
            check_pack(made)
