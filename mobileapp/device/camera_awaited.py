"""Notes of photos that a camera was asked for. They survive the app, which the camera may kill.

One small JSON file a note, written aside, synchronised and renamed, in the folder where the camera puts its files.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from mobileapp.device.camera import CAME_EMPTY, CANCELLED, Purpose, Shot
from mobileapp.photos.safe_file import PART, write_safely

#: The folder of awaited photos, beside the journal; the one that `android_build/photo_paths.xml` hands out.
FOLDER = "awaited-photos"
_NOTE = re.compile(r"[0-9a-z-]{1,64}")
_STRAY = "A photo was found of which nothing is noted. Say what it belongs to."


class Awaited(NamedTuple):
    """A photo that was asked for: the note's id, what for, the file it comes in, and since when."""

    note: str
    purpose: Purpose
    path: Path
    since: str


class AwaitedPhotos:
    """The notes in one folder, which no other program uses; the camera writes its photos beside them."""

    def __init__(self, folder: Path, clock: Callable[[], str], make_id: Callable[[], str]) -> None:
        self.folder = folder
        self._clock = clock
        self._make_id = make_id

    def expect(self, purpose: Purpose) -> Awaited:
        """Note that a photo is awaited; durable when this returns. Raises OSError, and then no camera may start."""
        self.folder.mkdir(parents=True, exist_ok=True)
        note = self._make_id()
        since = self._clock()
        plain = {"purpose": purpose, "since": since}
        write_safely(self._note(note), json.dumps(plain).encode(), mode=0o600)
        return Awaited(note, purpose, self._photo(note), since)

    def _note(self, note: str) -> Path:
        if not _NOTE.fullmatch(note):
            raise ValueError(f"not a note's id: {note!r}")
        return self.folder / f"{note}.json"

    def _photo(self, note: str) -> Path:
        return self.folder / f"{note}.jpg"

    def standing(self) -> list[Awaited]:
        """Every note that was not settled, oldest first."""
        notes = [self._read(path) for path in self.folder.glob("*.json")]
        return sorted((note for note in notes if note), key=lambda note: (note.since, note.note))

    def _read(self, path: Path) -> Awaited | None:
        try:
            plain = json.loads(path.read_bytes())
            purpose = Purpose(*map(str, plain["purpose"]))
            self._note(path.stem)
            return Awaited(path.stem, purpose, self._photo(path.stem), str(plain["since"]))
        except (OSError, ValueError, TypeError, LookupError):
            # Not one of ours: a note is there whole or not at all. A photo beside it is found by `unnoted`.
            return None

    def recover(self) -> list[Shot]:
        """What became of each photo that an earlier process awaited.

        There: it is to be kept, when it is looked at whether it is whole. Not there or empty: the words say so.
        """
        for part in self.folder.glob(f".*{PART}"):
            part.unlink(missing_ok=True)
        return [shot_of(awaited) for awaited in self.standing()] + self._unnoted()

    def _unnoted(self) -> list[Shot]:
        # A photo whose note is unreadable is offered as of nothing in particular, never dropped.
        noted = {awaited.path for awaited in self.standing()}
        photos = sorted(path for path in self.folder.glob("*.jpg") if _NOTE.fullmatch(path.stem))
        nothing = Purpose("", "teardown:", "other")
        return [Shot(nothing, p, _STRAY, p.stem) for p in photos if p not in noted and not _fault_of(p)]

    def set_aside(self, note: str) -> None:
        """Forget a note, but keep the camera's file: it may be the only copy, and is offered as of nothing noted."""
        self._note(note).unlink(missing_ok=True)

    def settle(self, note: str) -> None:
        """Forget a note, and the camera's file with it: what is in the store is a copy of its own."""
        for path in (self._photo(note), self._note(note)):  # the note last: until then it would be found again
            with contextlib.suppress(FileNotFoundError):
                os.unlink(path)


def shot_of(awaited: Awaited) -> Shot:
    """What an awaited photo came to, by what lies in its place. Whether it is whole is seen when it is kept."""
    fault = _fault_of(awaited.path)
    return Shot(awaited.purpose, None if fault else awaited.path, fault, awaited.note)


def _fault_of(path: Path) -> str:
    try:
        return "" if path.stat().st_size else CAME_EMPTY
    except OSError:
        return CANCELLED
