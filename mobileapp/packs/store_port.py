"""What packs ask of a store of photos."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import file_digest
from pathlib import Path
from typing import Protocol

from checklists.receipt import Receipt


class KeptPhoto(Protocol):
    """A photo's file in the store."""

    @property
    def sha(self) -> str: ...

    @property
    def path(self) -> Path: ...

    @property
    def size(self) -> int: ...


class Photos(Protocol):
    """The photos in one folder, each under its hash and the ending of its kind."""

    @property
    def folder(self) -> Path: ...

    def has(self, sha: str) -> bool: ...

    def path(self, sha: str) -> Path: ...

    def photos(self) -> Sequence[KeptPhoto]: ...

    def receipt_of(self, source: Path | bytes) -> Receipt | None: ...

    def note_receipt(self, sha: str, receipt: Receipt) -> Path | None: ...


def is_kept(store: Photos, sha: str) -> bool:
    """Whether the store has the photo, and as it was kept."""
    if not store.has(sha):
        return False
    try:
        with store.path(sha).open("rb") as file:
            return file_digest(file, "sha256").hexdigest() == sha
    except OSError:
        return False
