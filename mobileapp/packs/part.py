"""A file that goes into a pack, and the member it becomes."""

from __future__ import annotations

from hashlib import file_digest
from pathlib import Path
from typing import NamedTuple

from mobileapp.packs.form import Member


class Part(NamedTuple):
    """A file, and the member of the zip as it was when it was looked at."""

    member: Member
    path: Path


def part_of(name: str, path: Path, sha: str = "") -> Part:
    """A file as the member `name`; hashed where that was not done yet. Raises OSError."""
    if not sha:
        with path.open("rb") as file:
            sha = file_digest(file, "sha256").hexdigest()
    return Part(Member(name, sha, path.stat().st_size), path)
