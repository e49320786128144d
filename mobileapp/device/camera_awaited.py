"""Notes of photos that a camera was asked for. They survive the app, which the camera may kill.

One small JSON file a note, written aside, synchronised and renamed, in the folder where the camera puts its files.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

from checklists.receipt import ASKED, KINDS, Receipt
from mobileapp.device.camera import CAME_EMPTY, CANCELLED, Purpose, Shot
from mobileapp.photos.receipts import by_file, is_stamp
from mobileapp.photos.safe_file import PART, write_safely

#: The folder of awaited photos, beside the journal; the one that `android_build/photo_paths.xml` hands out.
FOLDER = "awaited-photos"
_NOTE = re.compile(r"[0-9a-z-]{1,64}")
_STRAY = "A photo was found of which nothing is noted. Say what it belongs to."
#: Of a photo of which nobody knows any more what it was asked for.
OF_NOTHING = Purpose("", "teardown:", "other")


class Awaited(NamedTuple):
    """A photo that was asked for: the note's id, what for, its file, since when, and by what that is known."""

    note: str
    purpose: Purpose
    path: Path
    since: str
    by: str = ASKED


def is_note(text: str) -> bool:
    """Whether it can be a note's id."""
    return _NOTE.fullmatch(text) is not None


class NotedPhotos:
    """The notes in one folder, which no other program uses; the camera writes its photos beside them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def write(self, awaited: Awaited) -> None:
        """Write a note; durable when this returns. Raises OSError."""
        plain: dict[str, Any] = {"purpose": awaited.purpose, "since": awaited.since}
        if awaited.by != ASKED:
            plain["by"] = awaited.by
        write_safely(self.note_path(awaited.note), json.dumps(plain).encode(), mode=0o600)

    def note_path(self, note: str) -> Path:
        """The note's own file. Raises ValueError where it cannot be a note's id."""
        if not _NOTE.fullmatch(note):
            raise ValueError(f"not a note's id: {note!r}")
        return self.folder / f"{note}.json"

    def photo_path(self, note: str) -> Path:
        """The file that the camera writes for a note."""
        return self.folder / f"{note}.jpg"

    def standing(self) -> list[Awaited]:
        """Every note that was not settled, oldest first."""
        notes = [self._read(path) for path in self.folder.glob("*.json")]
        return sorted((note for note in notes if note), key=lambda note: (note.since, note.note))

    def _read(self, path: Path) -> Awaited | None:
        try:
            plain = json.loads(path.read_bytes())
            purpose = Purpose(*map(str, plain["purpose"]))
            self.note_path(path.stem)
            by = plain["by"] if plain.get("by") in KINDS else ASKED
            awaited = Awaited(path.stem, purpose, self.photo_path(path.stem), str(plain["since"]), by)
            return awaited if is_stamp(awaited.since) else None
        except (OSError, ValueError, TypeError, LookupError):
            # Not one of ours: a note is there whole or not at all. A photo beside it is found by `unnoted`.
            return None

    def recover(self) -> list[Shot]:
        """What became of each photo that an earlier process awaited.

        There: it is to be kept, when it is looked at whether it is whole. Not there or empty: the words say so.
        """
        for part in self.folder.glob(f".*{PART}"):
            part.unlink(missing_ok=True)
        return [recovered(awaited) for awaited in self.left()]

    def left(self) -> list[Awaited]:
        """Every note that was not settled, and every photo of which nothing is noted: of nothing, by its file's time.

        A photo whose note is unreadable is among these: it is offered as of nothing in particular, never dropped.
        """
        standing = self.standing()
        noted = {awaited.path for awaited in standing}
        photos = sorted(path for path in self.folder.glob("*.jpg") if is_note(path.stem))
        return standing + [stray for p in photos if p not in noted and not _fault_of(p) for stray in _unnoted(p)]

    def set_aside(self, note: str) -> None:
        """Wait for it no longer, but keep the camera's file: it may be the only copy, and is offered as of nothing.

        Since when it was awaited stays noted.
        """
        known = self._read(self.note_path(note))
        try:
            if known:
                self.write(known._replace(purpose=OF_NOTHING))
        except OSError:  # then only its file's own time will be left of it
            self.note_path(note).unlink(missing_ok=True)

    def settle(self, note: str) -> None:
        """Forget a note, and the camera's file with it: what is in the store is a copy of its own."""
        for path in (self.photo_path(note), self.note_path(note)):  # the note last: until then it would be found again
            with contextlib.suppress(FileNotFoundError):
                os.unlink(path)


class AwaitedPhotos(NotedPhotos):
    """The same for whom the camera works."""

    def __init__(self, folder: Path, clock: Callable[[], str], make_id: Callable[[], str]) -> None:
        super().__init__(folder)
        self._clock = clock
        self._make_id = make_id

    def expect(self, purpose: Purpose) -> Awaited:
        """Note that a photo is awaited; durable when this returns. Raises OSError, and then no camera may start."""
        self.folder.mkdir(parents=True, exist_ok=True)
        note = self._make_id()
        awaited = Awaited(note, purpose, self.photo_path(note), self._clock())
        self.write(awaited)
        return awaited


def _unnoted(path: Path) -> list[Awaited]:
    try:
        at, by = by_file(path)
    except OSError:
        return []  # it went this very moment
    return [Awaited(path.stem, OF_NOTHING, path, at, by)]


def recovered(awaited: Awaited) -> Shot:
    """What an awaited photo came to, now that nobody stands waiting: this phone had it long before it is kept."""
    shot = shot_of(awaited)
    stray = shot.path is not None and awaited.purpose == OF_NOTHING
    return replace(shot, words=_STRAY if stray else shot.words, received=Receipt(awaited.since, awaited.by))


def shot_of(awaited: Awaited) -> Shot:
    """What an awaited photo came to, by what lies in its place. Whether it is whole is seen when it is kept."""
    fault = _fault_of(awaited.path)
    return Shot(awaited.purpose, None if fault else awaited.path, fault, awaited.note)


def _fault_of(path: Path) -> str:
    try:
        return "" if path.stat().st_size else CAME_EMPTY
    except OSError:
        return CANCELLED
