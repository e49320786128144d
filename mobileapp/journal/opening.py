"""Opening a journal's file: whose it is, how old its schema is, and whether it can be written.

A file at the current version is opened with plain sqlite3 alone; see `schema` for why.
"""

from __future__ import annotations

import errno
import os
import shutil
import sqlite3
import tempfile
from contextlib import suppress
from pathlib import Path

from mobileapp.journal.errors import (
    CannotOpen,
    DiskFull,
    JournalError,
    NewerJournal,
    NotAJournal,
    ReadOnly,
    ReadOnlyPlace,
    StorageFault,
    ours,
    say,
)
from mobileapp.journal.schema import APPLICATION_ID, MIGRATIONS, Migration, bring_up_to_date, version_of

_MAGIC = b"SQLite format 3\x00"
_NEVER_CHECKPOINTED = 65536
_NOT_TO_BE_WRITTEN = (errno.EROFS, errno.EACCES, errno.EPERM, errno.EEXIST, errno.ENOTDIR)


def connect(path: Path, busy_seconds: float, migrations: tuple[Migration, ...] = MIGRATIONS) -> sqlite3.Connection:
    """A connection ready to write, its schema up to date. Makes folder and file where there are none."""
    _make_folder(path)
    new = _is_new(path)
    if not new:
        refuse_foreign(path)
    _refuse_read_only(path, new)
    try:
        conn = sqlite3.connect(path, isolation_level=None, timeout=busy_seconds)
    except sqlite3.Error as fault:
        raise ours(fault, path) from fault
    try:
        _prepare(conn, path, migrations)
    except sqlite3.Error as fault:
        conn.close()
        raise ours(fault, path) from fault
    except JournalError:
        conn.close()
        raise
    return conn


def _is_new(path: Path) -> bool:
    try:
        return path.stat().st_size == 0
    except FileNotFoundError:
        return True
    except OSError as fault:
        raise say(CannotOpen, path, fault.strerror or str(fault)) from fault


def _prepare(conn: sqlite3.Connection, path: Path, migrations: tuple[Migration, ...]) -> None:
    conn.execute("PRAGMA synchronous = FULL")
    version = version_of(conn)
    refuse_newer(version, path, len(migrations))
    conn.execute("PRAGMA journal_mode = WAL")
    if version < len(migrations):
        bring_up_to_date(conn, migrations)


def refuse_newer(version: int, path: Path, known: int = len(MIGRATIONS)) -> None:
    """Raises NewerJournal where the schema is one this Countback does not know."""
    if version > known:
        raise say(NewerJournal, path, f"schema version {version}; this one knows up to {known}")


def refuse_foreign(path: Path) -> None:
    """Raises NotAJournal where the file is something else. Only reads."""
    if path.is_dir():
        raise say(NotAJournal, path, "it is a folder")
    header = _header(path)
    if not header.startswith(_MAGIC):
        raise say(NotAJournal, path, "it is not an SQLite database")
    if int.from_bytes(header[68:72], "big") == APPLICATION_ID:
        return
    # After a crash the header may be older than the log beside it, so SQLite itself has the last word.
    application, version, objects = _look_inside(path)
    if application != APPLICATION_ID and (application or version or objects):
        raise say(NotAJournal, path, "it is another program's database")


def _header(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(100)
    except OSError as fault:
        raise say(CannotOpen, path, fault.strerror or str(fault)) from fault


def read_only(path: Path) -> sqlite3.Connection:
    """A connection that cannot change the file."""
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, isolation_level=None)


def for_reading(path: Path) -> sqlite3.Connection:
    """A connection to read by, wherever the file lies. Raises a JournalError.

    SQLite wants to put files beside a journal even to read it: where storage is full or read-only it cannot, and what
    the file holds is taken into memory instead. After a kill the log beside it must be taken up first, which only a
    writer can.
    """
    try:
        conn = read_only(path)
        try:
            version_of(conn)
            return conn
        except sqlite3.Error as fault:
            conn.close()
            if not needs_recovery(fault):
                raise
        conn = sqlite3.connect(path, isolation_level=None)
        try:
            version_of(conn)
            return conn
        except sqlite3.Error:
            conn.close()
            raise
    except sqlite3.Error as fault:
        told = ours(fault, path)
        if not only_the_place(told):
            raise told from fault
        return in_memory(path, told)


def only_the_place(fault: JournalError) -> bool:
    """Whether it is the storage that is in the way, and not what the file holds."""
    places = isinstance(fault, CannotOpen | DiskFull | ReadOnly | StorageFault)
    return places and not isinstance(fault, NotAJournal | NewerJournal)


def in_memory(path: Path, why: JournalError | None = None) -> sqlite3.Connection:
    """What a file and the log beside it hold, in memory. Raises `why`, or another JournalError, where that fails."""
    log = Path(f"{path}-wal")
    try:
        if not log.is_file() or log.stat().st_size == 0:
            return _taken_in(sqlite3.connect(f"{path.absolute().as_uri()}?immutable=1", uri=True))
        with tempfile.TemporaryDirectory(prefix="countback-read-") as folder:
            copy = Path(folder) / "copy.sqlite"
            for ending in ("", "-wal"):
                shutil.copyfile(f"{path}{ending}", f"{copy}{ending}")
            return _taken_in(sqlite3.connect(copy))
    except sqlite3.Error as fault:
        raise why or ours(fault, path) from fault
    except OSError as fault:
        raise why or say(CannotOpen, path, fault.strerror or str(fault)) from fault


def _taken_in(source: sqlite3.Connection) -> sqlite3.Connection:
    memory = sqlite3.connect(":memory:", isolation_level=None)
    try:
        source.backup(memory)
    finally:
        source.close()
    return memory


def _what_is_inside(conn: sqlite3.Connection) -> tuple[int, int, int]:
    application = conn.execute("PRAGMA application_id").fetchone()[0]
    objects = conn.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    return application, version_of(conn), objects


def _look_inside(path: Path) -> tuple[int, int, int]:
    try:
        conn = read_only(path)
        try:
            return _what_is_inside(conn)
        finally:
            conn.close()
    except sqlite3.Error as fault:
        if needs_recovery(fault):
            return _look_at_copy(path)
        raise ours(fault, path) from fault


def needs_recovery(fault: sqlite3.Error) -> bool:
    """Whether the log beside the file was left by a process that was killed, so that only a writer can read it."""
    return getattr(fault, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_READONLY


def _look_at_copy(path: Path) -> tuple[int, int, int]:
    # Before the first checkpoint the file itself holds a page or two and everything is in the log beside it.
    # What is larger and yet not marked as ours in its header is not ours, and is not written to.
    if path.stat().st_size > _NEVER_CHECKPOINTED:
        return 0, 1, 1
    with tempfile.TemporaryDirectory(prefix="countback-look-") as folder:
        copy = Path(folder) / "copy.sqlite"
        for ending in ("", "-wal"):
            with suppress(FileNotFoundError):
                shutil.copyfile(f"{path}{ending}", f"{copy}{ending}")
        conn = sqlite3.connect(copy)
        try:
            return _what_is_inside(conn)
        finally:
            conn.close()


def _make_folder(path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        kind = ReadOnlyPlace if fault.errno in _NOT_TO_BE_WRITTEN else CannotOpen
        raise say(kind, path.parent, fault.strerror or str(fault)) from fault


def _refuse_read_only(path: Path, new: bool) -> None:
    # SQLite opens a file it may not write without a word; the first count would then be the one to fail.
    if not os.access(path.parent, os.W_OK):
        raise say(ReadOnlyPlace, path.parent, "the folder is read-only")
    if not new and not os.access(path, os.W_OK):
        raise say(ReadOnlyPlace, path, "the file is read-only")
