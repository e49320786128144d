"""A desktop's camera: a folder that is watched for the next new photo."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple

from mobileapp.device.camera import CANCELLED, OnDone, Purpose, Shot
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.kinds import OFFERED
from mobileapp.photos.looking import look_at
from mobileapp.photos.safe_file import PART
from mobileapp.photos.store import read_photo

#: How long a file must have stayed the same to be taken for whole.
STEADY_SECONDS = 1.0


class _File(NamedTuple):
    size: int
    changed_ns: int
    since: float


def _now(work: Callable[[], bool], then: Callable[[bool | PhotoError], None]) -> None:
    then(work())


class WatchedFolder:
    """A folder into which a tethered camera or a phone's cable puts photos; the next new whole one answers an ask.

    `poll` is called now and then with a clock that only runs forward. Whether a file that has come to rest is a whole
    photo is found out by `later` (`PhotoStore.later`, off the main thread). What lay there before the ask is not new,
    nor is what was still being copied then; a file that is written anew under its old name is.
    """

    offer = "Wait for the next photo"

    def __init__(self, folder: Path, later: Callable[..., None] = _now) -> None:
        self.folder = folder
        self.waiting = f"Waiting for a new photo in {folder}"
        self._later = later
        self._old: dict[str, tuple[int, int]] = {}
        self._at_rest: set[str] = set()
        self._seen: dict[str, _File] = {}
        self._looked: set[tuple[str, int, int]] = set()
        self._waiting: list[tuple[Purpose, OnDone]] = []

    def take(self, purpose: Purpose, on_done: OnDone) -> None:
        """Wait for the next new photo in the folder."""
        if not self._waiting:
            self._remember(self._list())
        self._waiting.append((purpose, on_done))

    def cancel(self) -> None:
        """Stop waiting."""
        waiting, self._waiting = self._waiting, []
        for purpose, on_done in waiting:
            on_done(Shot(purpose, None, CANCELLED))

    def poll(self, now: float) -> None:
        """Look once, where a photo is waited for. `now` in seconds of any clock."""
        if not self._waiting:
            return
        new = [(changed, name, size) for name, (size, changed) in self._list().items()
               if not self._is_old(name, size, changed, now)]  # fmt: skip
        for changed, name, size in sorted(new):
            state = (name, size, changed)
            if self._is_steady(*state, now) and state not in self._looked:
                self._looked.add(state)
                self._later(partial(self._is_whole, name), partial(self._found, name, (size, changed)))

    def _remember(self, listed: dict[str, tuple[int, int]]) -> None:
        for name, state in listed.items():
            if self._old.get(name) != state:
                self._old[name] = state
                self._at_rest.discard(name)

    def _is_old(self, name: str, size: int, changed: int, now: float) -> bool:
        """Whether it is what lay there before. One that never was at rest since was still being written then."""
        if name not in self._old:
            return False
        if self._old[name] == (size, changed):
            if self._is_steady(name, size, changed, now):
                self._at_rest.add(name)
            return True
        if name in self._at_rest:
            return False
        self._old[name] = size, changed
        return True

    def _is_steady(self, name: str, size: int, changed: int, now: float) -> bool:
        before = self._seen.get(name)
        if before is None or (before.size, before.changed_ns) != (size, changed):
            self._seen[name] = _File(size, changed, now)
            return False
        return size > 0 and now - before.since >= STEADY_SECONDS

    def _is_whole(self, name: str) -> bool:
        try:
            look_at(read_photo(self.folder / name), name)
        except PhotoError:
            return False  # still being written, or spoilt: it is looked at again when it changes
        return True

    def _found(self, name: str, state: tuple[int, int], whole: bool | PhotoError) -> None:
        if whole is True and self._waiting and self._list().get(name) == state:
            self._old[name] = state
            self._at_rest.add(name)
            purpose, on_done = self._waiting.pop(0)
            on_done(Shot(purpose, self.folder / name))

    def _list(self) -> dict[str, tuple[int, int]]:
        try:
            with os.scandir(self.folder) as listing:
                return {entry.name: _state(entry) for entry in listing if _may_be_photo(entry)}
        except OSError:
            return {}  # not there (yet): a card that is not in its slot

    def recover(self) -> list[Shot]:
        """Nothing."""
        return []

    def settle(self, shot: Shot) -> None:
        """Do nothing: the file is the person's own."""

    def set_aside(self, shot: Shot) -> None:
        """Do nothing: the file is the person's own."""


def _state(entry: os.DirEntry[str]) -> tuple[int, int]:
    try:
        about = entry.stat()
        return about.st_size, about.st_mtime_ns
    except OSError:
        return 0, 0


def _may_be_photo(entry: os.DirEntry[str]) -> bool:
    hidden = entry.name.startswith(".") or entry.name.endswith(PART)
    return not hidden and entry.name.lower().endswith(OFFERED) and entry.is_file()
