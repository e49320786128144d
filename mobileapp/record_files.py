"""What must never be written over by a sheet, a pack, a backup or an export, whatever was said: the record itself.

That is a journal with the files SQLite keeps beside it, and everything in the folders of kept and of awaited photos.
"""

from __future__ import annotations

from pathlib import Path

from mobileapp.device.camera_awaited import FOLDER as AWAITED
from mobileapp.photos.store import FOLDER as KEPT

_FOLDERS = {AWAITED.casefold(): "the camera's photos wait there", KEPT.casefold(): "the kept photos lie there"}
_BESIDE = ("-wal", "-shm", "-journal")
_MAGIC = b"SQLite format 3\x00"


class InTheRecord(OSError):
    """A file is not written, for it would lie in the record or in its place; the message says so and what to do."""

    def __init__(self, target: Path, why: str) -> None:
        super().__init__(f"{target} is part of the record ({why}): nothing was written. Name another file.")
        self.why = why


def leave_the_record(target: Path, journal: Path | str) -> None:
    """Raises InTheRecord where a file may not be written, for it is the record's."""
    for path in (target, _real(target)):
        if why := _why(path, Path(journal)):
            raise InTheRecord(target, why)


def _why(path: Path, journal: Path) -> str:
    for parent in path.parents:
        if why := _FOLDERS.get(parent.name.casefold()):
            return why
    if _is(path, journal) or _is_database(path):
        return "it is a journal"
    for ending in _BESIDE:
        if path.name.casefold().endswith(ending):
            owner = path.with_name(path.name[: -len(ending)])
            if _is(owner, journal) or _is_database(owner):
                return "SQLite keeps a journal's newest entries there"
    return ""


def _is(path: Path, other: Path) -> bool:
    try:
        return path.samefile(other)
    except OSError:
        return _real(path) == _real(other)


def _is_database(path: Path) -> bool:
    """Ours or another program's: neither is a sheet, a pack or an export that could be made again."""
    try:
        with path.open("rb") as file:
            return file.read(len(_MAGIC)) == _MAGIC
    except OSError:
        return False


def _real(path: Path) -> Path:
    try:
        return path.resolve()
    except (OSError, RuntimeError):  # links in a circle
        return path.absolute()
