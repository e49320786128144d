"""No sqlite3 error leaves the journal: each becomes one of its own, in words that say what to do next."""

import sqlite3
from pathlib import Path

import pytest

from mobileapp.journal import errors
from mobileapp.journal.errors import JournalError, ours

CODES = [
    (sqlite3.SQLITE_FULL, errors.DiskFull, "Free some space"),
    (sqlite3.SQLITE_BUSY, errors.Busy, "Close it, then try again"),
    (sqlite3.SQLITE_BUSY_SNAPSHOT, errors.Busy, "Close it, then try again"),
    (sqlite3.SQLITE_LOCKED, errors.Busy, "Close it, then try again"),
    (sqlite3.SQLITE_READONLY, errors.ReadOnly, "Make it writable"),
    (sqlite3.SQLITE_READONLY_DBMOVED, errors.ReadOnly, "Make it writable"),
    (sqlite3.SQLITE_PERM, errors.ReadOnly, "Make it writable"),
    (sqlite3.SQLITE_IOERR, errors.StorageFault, "Check free space"),
    (sqlite3.SQLITE_IOERR_WRITE, errors.StorageFault, "Check free space"),
    (sqlite3.SQLITE_IOERR_FSYNC, errors.StorageFault, "Check free space"),
    (sqlite3.SQLITE_CANTOPEN, errors.CannotOpen, "Check that the folder exists"),
    (sqlite3.SQLITE_NOTADB, errors.NotAJournal, "choose another file"),
    (sqlite3.SQLITE_CORRUPT, errors.Damaged, "countback prove"),
    (sqlite3.SQLITE_CORRUPT_INDEX, errors.Damaged, "countback prove"),
    (sqlite3.SQLITE_ERROR, errors.Damaged, "countback prove"),
    (sqlite3.SQLITE_CONSTRAINT_CHECK, errors.BelowZero, "Count again what is there"),
    (sqlite3.SQLITE_CONSTRAINT_TRIGGER, errors.NeverChanged, "Record a reversing movement"),
    (sqlite3.SQLITE_CONSTRAINT_UNIQUE, errors.Damaged, "countback prove"),
    (sqlite3.SQLITE_CONSTRAINT_NOTNULL, errors.CannotWrite, "Try again"),
    (sqlite3.SQLITE_TOOBIG, errors.Unwritable, "Take out what is named here"),
    (sqlite3.SQLITE_MISUSE, errors.Closed, "Open it again"),
    (sqlite3.SQLITE_INTERNAL, JournalError, "nothing was lost"),
]


def every_kind(kind=JournalError):
    return [kind, *[below for child in kind.__subclasses__() for below in every_kind(child)]]


@pytest.mark.parametrize(("code", "kind", "advice"), CODES)
def test_each_sqlite_code_has_its_error(code, kind, advice):
    fault = sqlite3.OperationalError("as SQLite words it")
    fault.sqlite_errorcode = code
    error = ours(fault, Path("yard/journal.sqlite"))
    assert type(error) is kind
    assert "as SQLite words it" in str(error)
    assert "yard/journal.sqlite" in str(error)
    assert advice in str(error)


def test_an_error_without_a_code():
    assert type(ours(sqlite3.ProgrammingError("Cannot operate on a closed database."), "j")) is errors.Closed
    assert type(ours(sqlite3.InterfaceError("odd"), "j")) is JournalError


def test_the_tree_in_the_docstring_names_every_error():
    for kind in every_kind():
        assert kind.__name__ in errors.__doc__
        assert kind.__doc__.strip()
