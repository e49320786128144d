"""Proving photos: is every photo the journal refers to in the store, with the very bytes it had?"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from checklists.facts import Photographed
from mobileapp.journal.errors import JournalError, ours
from mobileapp.journal.opening import for_reading
from mobileapp.journal.rows import Finding, Proof
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.store import PhotoStore, beside, hash_of

_PHOTOS = "SELECT teardown, device, seq, body FROM event WHERE kind = ? ORDER BY id"


class PhotoProof(NamedTuple):
    """What proving the photos found. `remarks` break nothing: orphans, still to be offered. `photos` were hashed."""

    faults: list[Finding]
    remarks: list[Finding]
    photos: int


class _Named(NamedTuple):
    sha: str
    where: str
    size: int


def prove_photos(journal_path: Path | str, store: PhotoStore) -> PhotoProof:
    """Hash every photo again that the journal refers to. Both are only read. Raises a JournalError."""
    first: dict[str, _Named] = {}
    for photo in _named(Path(journal_path)):
        first.setdefault(photo.sha, photo)
    faults = [fault for photo in first.values() for fault in _faults(photo, store)]
    try:
        remarks = [
            Finding(f"photo {orphan.sha[:12]}", "is kept but belongs to nothing yet; the app offers it")
            for orphan in store.orphans(set(first))
        ]
    except PhotoError as fault:
        remarks = []
        faults.append(Finding("the photos", str(fault)))
    return PhotoProof(faults, remarks, len(first))


def prove_photos_of(journal_path: Path, journal_proof: Proof) -> PhotoProof:
    """The photos beside a journal, once the journal itself was examined: one without entries names no photo."""
    if not journal_proof.entries:
        return PhotoProof([], [], 0)
    try:
        return prove_photos(journal_path, PhotoStore(beside(journal_path)))
    except JournalError as fault:
        return PhotoProof([Finding("the photos", str(fault))], [], 0)


def _named(path: Path) -> list[_Named]:
    try:
        conn = for_reading(path)
        try:
            rows = conn.execute(_PHOTOS, (Photographed.kind,)).fetchall()
        finally:
            conn.close()
    except sqlite3.Error as fault:
        raise ours(fault, path) from fault
    return [_read(*row) for row in rows]


def _read(teardown: str, device: str, seq: int, text: str) -> _Named:
    # A body that was tampered with is the chain's to report; here it names no photo that can be found.
    try:
        body = json.loads(text)
        sha, size = str(body.get("photo", "")), int(body.get("size", 0))
    except (ValueError, TypeError, AttributeError):
        sha, size = "", 0
    return _Named(sha, f"teardown {teardown}, device {device}, entry {seq}, photo {sha[:12]}", size)


def _faults(photo: _Named, store: PhotoStore) -> Iterator[Finding]:
    try:
        path = store.path(photo.sha)
    except PhotoError:
        yield Finding(photo.where, "the photo is missing from the store")
        return
    try:
        size, sha = path.stat().st_size, hash_of(path)
    except OSError as fault:
        yield Finding(photo.where, f"{path.name} cannot be read: {fault.strerror}")
        return
    if sha != photo.sha:
        yield Finding(
            photo.where, f"{path.name} was altered: its hash is now {sha[:12]}…, its size {size} bytes"
        )
    elif size != photo.size:
        yield Finding(photo.where, f"the entry says {photo.size} bytes, the photo has {size}")
