"""What a closing sheet with 200 photos of 12 MP costs in memory, and in time against the library placing them alone.

Memory is the most a process of its own ever held, over an interpreter that does nothing. Time: printing (account,
layout, fonts, code, photos) against `FPDF.image` on the very same prepared JPEGs, taking turns, in processor time
since neither waits for anything. Hashing and scaling the originals down, which comes before, is told beside it.
"""

from __future__ import annotations

import io
import json
import os
import pickle
import random
import subprocess
import sys
from pathlib import Path

import pytest
from careful_worker import CarefulWorker
from photos.photo_maker import exif_block
from PIL import Image, ImageFilter

from checklists.facts import Person, Photographed
from mobileapp.photos import PhotoStore
from mobileapp.shelf import load_sheet

pytestmark = pytest.mark.bench

ROOT = Path(__file__).resolve().parents[2]
PHOTOS, WIDE, HIGH = 200, 4000, 3000


def twelve_megapixels(seed: int) -> bytes:
    """A scene with the grain of a photo: some megabytes as a JPEG, as phones make them."""
    grain = random.Random(seed).randbytes(800 * 600 * 3)
    picture = Image.frombytes("RGB", (800, 600), grain).filter(ImageFilter.GaussianBlur(1.2)).resize((WIDE, HIGH))
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=92, exif=exif_block())
    return out.getvalue()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job with 200 photos of 12 MP in a store, each recorded; its sheet is a draft still."""
    folder = tmp_path_factory.mktemp("paper-bench")
    store = PhotoStore(folder / "kept-photos")
    people = (Person("Ines Vardal", "fitter"), Person("Tomas Reke", "deckhand"))
    job = CarefulWorker(load_sheet("inlet-manifold-inline-four"), people)
    opening = f"opening:{next(iter(job.teardown.openings))}"
    scenes = [twelve_megapixels(seed) for seed in range(6)]
    for number in range(PHOTOS):
        kept = store.keep(_retouched(scenes[number % 6], number), job.now, f"{number}.jpg")
        assert kept.width * kept.height == 12_000_000
        fact = Photographed(kept.sha, opening, "closeout", kept.name, kept.media, kept.taken, kept.received,
                            kept.width, kept.height, kept.size)  # fmt: skip
        job.record(fact, people[number % 2].name)
    (folder / "entries.pickle").write_bytes(pickle.dumps(job.teardown.history))
    return folder


def _retouched(scene: bytes, number: int) -> bytes:
    """The scene with a corner of its own, so that no two prepared photos are the same either."""
    with Image.open(io.BytesIO(scene)) as picture:
        picture.paste((number, 255 - number, 40), (0, 0, 900, 700))
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=92, exif=exif_block())
    return out.getvalue()


def run(what: str, folder: Path) -> dict[str, float]:
    script = Path(__file__).with_name("paper_bench.py")
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, str(script), what, str(folder)], env=env, capture_output=True, text=True,
                          check=True)  # fmt: skip
    return json.loads(done.stdout)


def test_peak_memory_of_a_sheet_with_two_hundred_photos(folder: Path) -> None:
    base, figures = run("nothing", folder)["peak"], run("all", folder)
    over = figures["peak"] - base
    print(f"\n200 photos of 12 MP: {over:.0f} MB over the interpreter's {base:.0f} MB; "
          f"{figures['preparing']:.1f} s to hash and prepare, {figures['printing']:.2f} s to print, "
          f"a PDF of {figures['bytes'] / 1e6:.1f} MB")  # fmt: skip
    assert figures["photos"] == PHOTOS
    assert over <= 200


def test_printing_against_the_library_placing_the_same_photos(folder: Path) -> None:
    figures = run("bare", folder)
    ratio = figures["ours"] / figures["theirs"]
    print(f"\nprinting {figures['ours']:.3f} s, bare placing {figures['theirs']:.3f} s, ratio {ratio:.2f} "
          f"(photos of {figures['kilobytes']:.0f} kB)")  # fmt: skip
    assert ratio <= 1.5
