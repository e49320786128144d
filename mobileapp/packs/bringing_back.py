"""Bringing back from a backup what belonged to nothing: to the camera's folder, with its notes, to be offered there.

What is on the phone already stays as it is. A photo that was put to something since is recorded: it does not come back.
"""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import NamedTuple

from checklists.receipt import FILE, RESTORED, Receipt
from mobileapp.device.camera_awaited import OF_NOTHING, NotedPhotos
from mobileapp.packs.form import AWAITED, Member
from mobileapp.packs.reading import Pack
from mobileapp.packs.store_port import Photos
from mobileapp.packs.unclaimed_form import Waiting
from mobileapp.photos.receipts import file_time
from mobileapp.photos.safe_file import sync_folder
from mobileapp.photos.store import hash_of


class Due(NamedTuple):
    """A note that is to come back, with its photo where that is to come back too."""

    waiting: Waiting
    photo: Member | None


def due_from(pack: Pack, notes: NotedPhotos, recorded: Collection[str]) -> list[Due]:
    """What of a backup is not here; `recorded` are the photos that entries name here."""
    files = {member.name: member for member in pack.awaited}
    found = []
    for one in pack.unclaimed.awaited:
        if one.sha256 in recorded or one.sha256 in pack.named:
            continue
        photo, ours = files.get(AWAITED + one.note), notes.photo_path(one.note)
        if photo and ours.exists() and hash_of(ours) != photo.sha256:
            one = one._replace(note=f"{one.note[:50]}-{photo.sha256[:12]}")  # another photo has its place here
            ours = notes.photo_path(one.note)
        photo = None if ours.exists() else photo
        if photo or not (notes.note_path(one.note).exists() or _says_nothing(one)):
            found.append(Due(one, photo))
    return found


def _says_nothing(one: Waiting) -> bool:
    """Whether a note says no more than the file itself, which is here."""
    return one.purpose == OF_NOTHING and one.by == FILE


def put_back(due: list[Due], staged: dict[str, Path], notes: NotedPhotos, placed: list[Path]) -> None:
    """Put it in its place, durable when this returns; `placed` gets every new file. Raises OSError."""
    if not due:
        return
    notes.folder.mkdir(parents=True, exist_ok=True)
    for waiting, photo in due:
        if not notes.note_path(waiting.note).exists():  # first: its photo comes with the next try, but not the note
            placed.append(notes.note_path(waiting.note))
            notes.write(waiting.awaited(notes.photo_path(waiting.note)))
        if photo:
            placed.append(notes.photo_path(waiting.note))
            staged[photo.name].replace(placed[-1])
    sync_folder(notes.folder)


def put_receipts(pack: Pack, new: Collection[Path], store: Photos, placed: list[Path]) -> None:
    """Note when the photos that belong to nothing were received. Raises OSError.

    Of `new` ones of which the backup does not say so, an older one, it is noted that they came back.
    """
    receipts = dict(pack.unclaimed.received)
    for path in new:
        if path.stem not in pack.named:
            receipts.setdefault(path.stem, Receipt(file_time(path), RESTORED))
    for sha, receipt in receipts.items():
        if store.has(sha) and (noted := store.note_receipt(sha, receipt)):
            placed.append(noted)
