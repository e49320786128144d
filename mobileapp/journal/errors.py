"""Everything that can go wrong with a journal, in words that say what to do next.

JournalError
├── CannotOpen
│   ├── NotAJournal      the file is something else; it was left untouched
│   ├── NewerJournal     made by a newer Countback
│   └── ReadOnlyPlace    the file or its folder cannot be written
├── CannotWrite          nothing was recorded; the journal is as it was before
│   ├── DiskFull
│   ├── Busy             another program holds the file
│   ├── ReadOnly         the storage turned read-only
│   ├── StorageFault     the storage failed while reading or writing
│   ├── BelowZero        a movement takes more from a place than lies there
│   ├── NeverChanged     an attempt to change, delete or replace an entry
│   ├── NotBound         a signature that names another place than where it would stand
│   └── Unwritable       the fact holds something canonical JSON cannot
├── NotAccepted          entries from another phone were refused; nothing was recorded
│   └── Forked           a chain that is known here goes on in another way there
├── Damaged              the file contradicts itself; `countback prove` says where
└── Closed               the journal was closed, or is used from another thread

No sqlite3 error leaves the journal: `ours` turns each into one of these.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path


class JournalError(Exception):
    """The journal could not do what was asked. `detail` is what exactly, without what to do."""

    detail = ""
    words = "The journal {path} could not do this ({detail}). Try again; nothing was lost."


class CannotOpen(JournalError):
    """The journal cannot be opened."""

    words = "The journal {path} cannot be opened ({detail}). Check that the folder exists and is yours to use."


class NotAJournal(CannotOpen):
    """The file is not a Countback journal."""

    words = "{path} is not a Countback journal ({detail}). It was left untouched; choose another file."


class NewerJournal(CannotOpen):
    """The journal was made by a newer Countback."""

    words = "The journal {path} was made by a newer Countback ({detail}). Install the newer one to open it."


class ReadOnlyPlace(CannotOpen):
    """The file or its folder cannot be written."""

    words = "{path} cannot be written ({detail}). Make the folder writable or choose another one."


class CannotWrite(JournalError):
    """Nothing was recorded."""

    words = "Nothing was recorded in {path} ({detail}). Try again."


class DiskFull(CannotWrite):
    """The storage is full."""

    words = "The storage is full, so nothing was recorded in {path} ({detail}). Free some space, then count again."


class Busy(CannotWrite):
    """Another program holds the journal."""

    words = "Another program is writing to {path} ({detail}). Close it, then try again; nothing was recorded."


class ReadOnly(CannotWrite):
    """The storage turned read-only."""

    words = "{path} has become read-only, so nothing was recorded ({detail}). Make it writable, then count again."


class StorageFault(CannotWrite):
    """The storage failed while reading or writing."""

    words = (
        "The storage failed while {path} was used, and nothing was recorded ({detail}). "
        "Check free space and the card or disk, then open the journal again."
    )


class BelowZero(CannotWrite):
    """A movement takes more from a place than lies there."""

    words = "Nothing was recorded in {path}: more would be taken than is there ({detail}). Count again what is there."


class NeverChanged(CannotWrite):
    """An entry was to be changed, deleted or replaced."""

    words = "Entries in {path} are never changed ({detail}). Record a reversing movement instead."


class NotBound(CannotWrite):
    """A signature that names another place in the record than where it would stand."""

    words = "Nothing was recorded in {path}: {detail}. Read what is there now, and sign again."


class Unwritable(CannotWrite):
    """The fact holds something that canonical JSON cannot."""

    words = "Nothing was recorded in {path}: the entry cannot be written ({detail}). Take out what is named here."


class NotAccepted(JournalError):
    """Entries from another phone were refused."""

    words = (
        "The entries from the other phone were refused, and nothing was recorded in {path} ({detail}). "
        "Ask for a fresh pack from the phone they were made on."
    )


class Forked(NotAccepted):
    """A chain that is known here goes on in another way there."""

    words = (
        "The entries from the other phone contradict this journal, and nothing was recorded in {path} ({detail}). "
        "Keep both, and prove each: one was changed, or two phones write under one device's name."
    )


class Damaged(JournalError):
    """The file contradicts itself."""

    words = "The journal {path} is damaged ({detail}). Keep the file, and run: countback prove {path}"


class Closed(JournalError):
    """The journal was closed, or is used from another thread."""

    words = "The journal {path} is not open here ({detail}). Open it again in the thread that uses it."


_EXTENDED: dict[int, type[JournalError]] = {
    sqlite3.SQLITE_CONSTRAINT_CHECK: BelowZero,
    sqlite3.SQLITE_CONSTRAINT_TRIGGER: NeverChanged,
    sqlite3.SQLITE_CONSTRAINT_UNIQUE: Damaged,
    sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY: Damaged,
}

_PRIMARY: dict[int, type[JournalError]] = {
    sqlite3.SQLITE_FULL: DiskFull,
    sqlite3.SQLITE_BUSY: Busy,
    sqlite3.SQLITE_LOCKED: Busy,
    sqlite3.SQLITE_READONLY: ReadOnly,
    sqlite3.SQLITE_PERM: ReadOnly,
    sqlite3.SQLITE_AUTH: ReadOnly,
    sqlite3.SQLITE_IOERR: StorageFault,
    sqlite3.SQLITE_CANTOPEN: CannotOpen,
    sqlite3.SQLITE_NOTADB: NotAJournal,
    sqlite3.SQLITE_CORRUPT: Damaged,
    sqlite3.SQLITE_ERROR: Damaged,  # a table or column of ours is not there
    sqlite3.SQLITE_SCHEMA: Damaged,
    sqlite3.SQLITE_MISUSE: Closed,
    sqlite3.SQLITE_CONSTRAINT: CannotWrite,
    sqlite3.SQLITE_TOOBIG: Unwritable,
    sqlite3.SQLITE_NOMEM: CannotWrite,
    sqlite3.SQLITE_INTERRUPT: CannotWrite,
}


def say(kind: type[JournalError], path: Path | str, detail: str) -> JournalError:
    """An error of `kind` in its own words."""
    fault = kind(kind.words.format(path=path, detail=detail))
    fault.detail = detail
    return fault


def ours(fault: sqlite3.Error, path: Path | str) -> JournalError:
    """The journal's own error for what SQLite reported."""
    code = getattr(fault, "sqlite_errorcode", None)
    if code is None:
        kind: type[JournalError] = Closed if isinstance(fault, sqlite3.ProgrammingError) else JournalError
    else:
        kind = _EXTENDED.get(code) or _PRIMARY.get(code & 0xFF, JournalError)
    return say(kind, path, str(fault))
