"""What taking in a long job's pack costs, against unzipping and hashing the very file, measured in one run.

The pack: 10,000 entries and 200 JPEGs of 12 megapixels, of the size that phones make them (3 to 4 MB). Four pictures
of noise are encoded; each photo is one of them with a comment of its own put in, so that all 200 differ. The baseline
extracts the zip into a folder and hashes every file; it makes nothing durable. Ours verifies everything, synchronises
every photo, puts 10,000 entries through the rules and commits them. Both begin with the storage synchronised, and take
turns. Ours works on a few threads: on a machine that is busy with something else the ratio says less.
"""

import hashlib
import io
import os
import random
import shutil
import zipfile
from statistics import median
from time import perf_counter

import pytest
from PIL import Image, ImageFilter

from checklists import builders
from checklists.facts import Acknowledged, Person, Photographed
from mobileapp.journal import open_journal, prove
from mobileapp.packs import unpack, write_pack
from mobileapp.photos import PhotoStore
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

pytestmark = pytest.mark.bench

WHO = "Ilse Brandt"
ENTRIES, PHOTOS, ROUNDS = 10_000, 200, 5
WIDE, HIGH = 4000, 3000


class SteppedClock:
    """Moves on by a second at every reading."""

    def __init__(self):
        self.seconds = 8 * 3600

    def __call__(self):
        self.seconds += 1
        hours, rest = divmod(self.seconds, 3600)
        return f"2026-03-{2 + hours // 24:02d}T{hours % 24:02d}:{rest // 60:02d}:{rest % 60:02d}.250+01:00"


def picture(seed):
    """A 12 megapixel JPEG of soft noise, as large as a phone's."""
    noise = random.Random(seed).randbytes(1000 * 750 * 3)
    soft = Image.frombytes("RGB", (1000, 750), noise).filter(ImageFilter.GaussianBlur(0.8)).resize((WIDE, HIGH))
    out = io.BytesIO()
    soft.save(out, "JPEG", quality=91)
    return out.getvalue()


def photos():
    """So many JPEGs, each with a comment of its own."""
    bases = [picture(seed) for seed in range(4)]
    for number in range(PHOTOS):
        base, comment = bases[number % 4], f"photo {number:03d}".encode()
        yield base[:2] + b"\xff\xfe" + (len(comment) + 2).to_bytes(2, "big") + comment + base[2:]


def fill(journal, store):
    """A teardown of so many entries, photos among them."""
    clock = SteppedClock()
    service = TeardownService(journal, clock, "job", WHO)
    sheet = load_sheet("inlet-manifold-inline-four")
    assert service.record(builders.start(sheet, "workboat", [Person(WHO, "fitter")], "It overheats.", "Dry.")).done
    for caution in sheet.cautions:
        assert service.record(Acknowledged(caution.id)).done
    store.folder.mkdir(parents=True)
    for number, data in enumerate(photos()):
        sha = hashlib.sha256(data).hexdigest()
        (store.folder / f"{sha}.jpg").write_bytes(data)
        size = (WIDE, HIGH, len(data))
        taken = Photographed(sha, "teardown:", "other", f"{number}.jpg", "image/jpeg", "", clock(), *size)
        assert service.record(taken).done
    while len(service.state.history) < ENTRIES:
        for line in service.state.lines:
            if service.record(builders.count_out(service.state, line)).done:
                assert service.record(builders.count_back(service.state, line)).done
    return len(service.state.history)


@pytest.fixture(scope="module")
def pack(tmp_path_factory):
    """The pack of that job."""
    folder = tmp_path_factory.mktemp("packed")
    store = PhotoStore(folder / "kept-photos")
    with open_journal(folder / "journal.sqlite") as journal:
        entries = fill(journal, store)
        os.sync()
        begun = perf_counter()
        packed = write_pack(journal, store, "job", folder / "job.countback.zip")
        print(f"\nA pack of {entries} entries, {packed.photos} photos, {packed.size / 1e6:.0f} MB: "
              f"written in {perf_counter() - begun:.2f} s")  # fmt: skip
    shutil.rmtree(store.folder)
    return packed.path


def unzip_and_hash(path, folder):
    with zipfile.ZipFile(path) as archive:
        archive.extractall(folder)
    hashes = []
    for file in sorted(folder.rglob("*")):
        if file.is_file():
            with file.open("rb") as data:
                hashes.append(hashlib.file_digest(data, "sha256").hexdigest())
    return hashes


def timed(act, *values):
    os.sync()
    begun = perf_counter()
    result = act(*values)
    return perf_counter() - begun, result


def test_taking_a_pack_in_against_unzipping_and_hashing_it(pack, tmp_path):
    ours, theirs, again = [], [], []
    for turn in range(ROUNDS):
        plain = tmp_path / "plain"
        seconds, hashes = timed(unzip_and_hash, pack, plain)
        theirs.append(seconds)
        assert len(hashes) == PHOTOS + 2
        shutil.rmtree(plain)
        folder = tmp_path / f"phone-{turn}"
        with open_journal(folder / "journal.sqlite") as journal:
            store = PhotoStore(folder / "kept-photos")
            seconds, result = timed(unpack, pack, journal, store)
            ours.append(seconds)
            assert (result.new_entries >= ENTRIES, result.new_photos) == (True, PHOTOS)
            again.append(timed(unpack, pack, journal, store)[0])
        if turn == 0:
            assert prove(folder / "journal.sqlite") == []
        shutil.rmtree(folder)
    first, bare, second = median(ours), median(theirs), median(again)
    print(f"\nTaking it in, median of {ROUNDS}, against unzipping and hashing it ({bare:.2f} s)")
    print(f"  first time   {first:6.2f} s  {first / bare:5.2f}x  (limit 1.5x)")
    print(f"  second time  {second:6.2f} s  {second / bare:5.2f}x  (changes nothing)")
    assert first / bare <= 1.5
