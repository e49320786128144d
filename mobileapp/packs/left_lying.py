"""What lies on a phone and belongs to nothing yet, for a backup: it may be the only copy of what somebody saw."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

from checklists.receipt import Receipt
from mobileapp.device.camera_awaited import FOLDER, OF_NOTHING, Awaited, NotedPhotos
from mobileapp.journal import Journal
from mobileapp.packs.errors import StillChanging, StorageFault, say, unwritable
from mobileapp.packs.form import AWAITED
from mobileapp.packs.part import Part, part_of
from mobileapp.packs.store_port import Photos
from mobileapp.packs.unclaimed_form import Unclaimed, Waiting
from mobileapp.packs.zip_check import MOST_AWAITED
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.receipts import by_file


def awaited_beside(journal: Journal) -> NotedPhotos:
    """The notes of awaited photos that belong to a journal."""
    return NotedPhotos(Path(journal.path).parent / FOLDER)


def left_lying(
    name: str, journal: Journal, store: Photos, named: Collection[str], altered: Collection[str]
) -> tuple[Unclaimed, list[Part]]:
    """The notes of what belongs to nothing, and the files that are not in the store as they were kept.

    `named` are the photos of entries; `altered` those of the store that no entry names and whose bytes are not what
    they were: they go with what the camera left, as they are. `name` is the backup's. Raises a PackError.
    """
    waiting, parts = [], []
    try:
        for one in (*awaited_beside(journal).left(), *_altered(store, altered)):
            part = _file_of(name, one)
            parts += [part] if part else []
            waiting.append(Waiting(one.note, one.purpose, one.since, one.by, part.member.sha256 if part else ""))
        receipts = tuple(_receipts(store, named, altered))
    except OSError as fault:
        raise unwritable(fault, name) from fault
    except PhotoError as fault:
        raise say(StorageFault, name, str(fault)) from fault
    return Unclaimed(tuple(waiting), receipts), parts


def _file_of(name: str, one: Awaited) -> Part | None:
    """What the camera brought; None where nothing came (yet)."""
    try:
        if not (size := one.path.stat().st_size):
            return None
        if size > MOST_AWAITED:
            raise say(StillChanging, name, f"{one.path.name} has {size // 1_000_000} MB, more than any photo")
        return part_of(AWAITED + one.note, one.path)
    except FileNotFoundError:
        return None


def _receipts(store: Photos, named: Collection[str], altered: Collection[str]) -> Iterator[tuple[str, Receipt]]:
    for photo in store.photos():
        receipt = store.receipt_of(photo.path)
        if photo.sha not in named and photo.sha not in altered and receipt is not None:
            yield photo.sha, receipt


def _altered(store: Photos, shas: Collection[str]) -> Iterator[Awaited]:
    for sha in sorted(shas):
        path = store.path(sha)
        at, by = store.receipt_of(path) or by_file(path)
        yield Awaited(f"kept-{sha[:32]}", OF_NOTHING, path, at, by)
