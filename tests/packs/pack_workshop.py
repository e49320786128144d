"""Handsets for the pack tests: a journal and a photo store in a folder, and a small job with photos on it."""

from __future__ import annotations

import hashlib
import io
import json
import random
import sqlite3
import zipfile
from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image

from checklists import builders
from checklists.facts import Counted, Lifted, Looked, Move, Person, Photographed
from checklists.sheet import Closure, Fastener, Line, Opening, Shape, Sheet, Space
from checklists.teardown import fold
from mobileapp.journal import open_journal
from mobileapp.journal.canonical import canonical
from mobileapp.journal.derived import card, closure_rows
from mobileapp.packs import PackError, unpack
from mobileapp.packs.form import JOURNAL, MANIFEST
from mobileapp.photos import PhotoStore

BOLT = "housing.m8"
SHEET = Sheet(
    name="Thermostat housing off",
    machine="inline-four diesel",
    spaces=(Space("jacket", "Coolant jacket", "A stray item blocks the coolant."),),
    openings=(Opening("neck", "Neck", "jacket", Shape("circle", (Decimal("54.0"),)), "housing", "Rag."),),
    closures=(Closure("housing", "Housing", (Fastener("m8", "M8 x 30 bolt", 4),), (), "22 N.m", (), False),),
    items=(Line("rag", "Shop rag", "rag", 3, "stores"), Line("wrench", "Wrench", "tool", 1, "stores")),
)
ILSE, JONAS = "Ilse Brandt", "Jonas Lünd"
JOB = "job-1"


def jpeg(seed: int, width: int = 48, height: int = 36) -> bytes:
    """A small JPEG of noise."""
    out = io.BytesIO()
    noise = random.Random(seed).randbytes(width * height * 3)
    Image.frombytes("RGB", (width, height), noise).save(out, "JPEG", quality=80)
    return out.getvalue()


class Handset:
    """A phone: its folder, its journal and its photos."""

    def __init__(self, folder: Path, device: str, who: str = ILSE) -> None:
        self.folder, self.device, self.who, self.minute = folder, device, who, 0
        folder.mkdir(parents=True, exist_ok=True)
        self.journal = open_journal(folder / "journal.sqlite", make_id=lambda: device, clock=lambda: self.at())
        self.store = PhotoStore(folder / "kept-photos")

    def at(self) -> str:
        return f"2026-03-02T{8 + self.minute // 60:02d}:{self.minute % 60:02d}:30.250+01:00"

    def do(self, *facts: object, job: str = JOB) -> None:
        """Record facts, a minute apart, with the derived rows."""
        for fact in facts:
            self.minute += 1

            def derive(entry: object) -> tuple:
                state = fold(self.journal.entries(job))
                return card(job, state), closure_rows(state)

            self.journal.append(job, fact, self.at(), self.who, derive=derive)

    def snap(self, seed: int, about: str = "opening:neck", job: str = JOB) -> str:
        """Take a photo, keep it and refer to it."""
        kept = self.store.keep(jpeg(seed), self.at(), f"photo-{seed}.jpg")
        self.do(Photographed(kept.sha, about, "closeout", kept.name, kept.media, kept.taken, kept.received, kept.width,
                             kept.height, kept.size), job=job)  # fmt: skip
        return kept.sha

    def begin(self, job: str = JOB) -> None:
        """A job as far as the housing off, with three photos."""
        people = [Person(ILSE, "fitter"), Person(JONAS, "second fitter")]
        self.do(builders.start(SHEET, "harbour workboat Petrel", people, "It overheats.", "Dry."), job=job)
        self.do(*[Counted((Move(BOLT, 1, "fitted/housing", "tray"),)) for _ in range(4)], job=job)
        seed = hashlib.sha256(job.encode()).digest()[0] * 1000
        self.do(Lifted("housing", self.snap(seed + 1, "closure:housing", job)), job=job)
        self.do(Looked("neck", True, "clean \N{SNOWMAN}", self.snap(seed + 2, job=job)), job=job)
        self.snap(seed + 3, job=job)

    def rag(self, source: str, target: str, quantity: int = 1) -> None:
        self.do(Counted((Move("rag", quantity, source, target),)))

    def holds(self) -> tuple[dict[str, str], list[str]]:
        """All there is on the phone: every file but the journal's by hash, and the journal's rows."""
        files = {
            str(path.relative_to(self.folder)): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in sorted(self.folder.rglob("*"))
            if path.is_file() and not path.name.startswith("journal.sqlite")
        }
        folders = {str(path.relative_to(self.folder)): "folder" for path in self.folder.rglob("*") if path.is_dir()}
        return files | folders, dump(self.journal.path)

    def close(self) -> None:
        self.journal.close()
        self.store.close()


def dump(path: Path) -> list[str]:
    """Everything in a journal's file."""
    conn = sqlite3.connect(path)
    try:
        return list(conn.iterdump())
    finally:
        conn.close()


def originals(handset: Handset) -> set[str]:
    """The hashes of the photos on a phone."""
    return {photo.sha for photo in handset.store.photos()}


# --- making packs over, as somebody with a zip tool would


def members(path: Path) -> dict[str, bytes]:
    """What is in a zip."""
    with zipfile.ZipFile(path) as pack:
        return {info.filename: pack.read(info) for info in pack.infolist()}


def rezip(path: Path, inside: dict[str, bytes], compression: int = zipfile.ZIP_STORED) -> Path:
    """A zip of these members, made by another tool."""
    with zipfile.ZipFile(path, "w", compression) as pack:
        for name, data in inside.items():
            pack.writestr(zipfile.ZipInfo(name, (2026, 3, 2, 8, 0, 0)), data, compression)
    return path


def with_manifest(inside: dict[str, bytes], **changes: object) -> dict[str, bytes]:
    """The members with the manifest put right for them, and then changed."""
    plain = json.loads(inside[MANIFEST])
    plain["members"] = [
        {"name": name, "sha256": hashlib.sha256(data).hexdigest(), "size": len(data)}
        for name, data in inside.items()
        if name != MANIFEST
    ]
    return {**inside, MANIFEST: canonical(plain | changes).encode()}


def with_lines(inside: dict[str, bytes], lines: list[str]) -> dict[str, bytes]:
    """The members with another journal, and a manifest that fits it."""
    return with_manifest({**inside, JOURNAL: "".join(f"{line}\n" for line in lines).encode()})


def lines_of(inside: dict[str, bytes]) -> list[str]:
    return inside[JOURNAL].decode().split("\n")[:-1]


def refused(handset: Handset, path: Path, kind: type[PackError], words: str) -> None:
    """The pack is refused in those words; the phone holds what it held before."""
    before = handset.holds()
    with pytest.raises(PackError, match=words) as caught:
        unpack(path, handset.journal, handset.store)
    assert type(caught.value) is kind
    assert Path(path).name in str(caught.value)
    assert handset.holds() == before
