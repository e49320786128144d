"""Proving a journal: is this file exactly what Countback wrote, every entry of it, in its order?

The file is only read. What cannot be proven is who sat at the keyboard: the chain shows that the record was
not changed afterwards, one entry at a time; it is not a signature.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from mobileapp.journal.errors import CannotOpen, Damaged, JournalError, ours, say
from mobileapp.journal.opening import for_reading, only_the_place, refuse_foreign, refuse_newer
from mobileapp.journal.proof_chain import ChainWalk
from mobileapp.journal.proof_derived import balance_faults, card_faults, closure_faults, device_faults, head_faults
from mobileapp.journal.rows import Finding, Proof
from mobileapp.journal.schema import APPLICATION_ID, MIGRATIONS, bring_up_to_date, schema_rows, version_of

if TYPE_CHECKING:
    from sqlite_utils import Database

_FILE = "the file"
_SCHEMA = "the schema"

Schema = dict[tuple[str, str], str]


def examine(path: str | Path) -> Proof:
    """Prove the journal at `path`. Raises a JournalError where there is no such file, or the storage is in the way."""
    path = Path(path)
    if not path.is_file():
        raise say(CannotOpen, path, "there is no such file")
    try:
        refuse_foreign(path)
        conn = for_reading(path)
        try:
            refuse_newer(version_of(conn), path)
            return _examine(conn)
        finally:
            conn.close()
    except JournalError as fault:
        return _unread(fault)
    except sqlite3.Error as fault:
        return _unread(ours(fault, path))


def _unread(fault: JournalError) -> Proof:
    """Nothing could be proven. That a damaged file should be proven is no help to whoever is just doing it.

    Where the storage is in the way nothing is said about the journal: that is raised.
    """
    if only_the_place(fault):
        raise fault
    damaged = isinstance(fault, Damaged)
    words = f"It is damaged, and nothing of it could be proven ({fault.detail})." if damaged else str(fault)
    return Proof([Finding(_FILE, words)], [], 0, 0, is_journal=damaged)


def _examine(conn: sqlite3.Connection) -> Proof:
    from sqlite_utils import Database

    conn.execute("BEGIN")  # one snapshot, though somebody may be counting meanwhile
    have, due = schema_rows(conn), _due_schema(version_of(conn))
    faults = [*_file_faults(conn), *_schema_faults(have, due)]
    # A wrong trigger or view leaves the entries readable, so the proof goes on; a wrong table does not.
    if any(have.get(key) != sql for key, sql in due.items() if key[0] == "table"):
        return Proof(faults, [], 0, 0)
    walk = ChainWalk(conn)
    faults += walk.faults
    faults += _derived_faults(Database(conn, recursive_triggers=False), walk)
    return Proof(faults, walk.remarks, walk.entries, len({teardown for teardown, _ in walk.heads}))


def _derived_faults(db: Database, walk: ChainWalk) -> Iterator[Finding]:
    return chain(
        device_faults(db),
        head_faults(db, walk),
        balance_faults(db.conn, walk),
        card_faults(db, walk),
        closure_faults(db, walk),
    )


def _file_faults(conn: sqlite3.Connection) -> Iterator[Finding]:
    for (line,) in conn.execute("PRAGMA integrity_check"):
        if line != "ok":
            yield Finding(_FILE, f"SQLite reports: {line}")
    application = conn.execute("PRAGMA application_id").fetchone()[0]
    if application != APPLICATION_ID:
        yield Finding(_FILE, f"its application id is {application:#x}, not {APPLICATION_ID:#x}")


def _schema_faults(have: Schema, due: Schema) -> Iterator[Finding]:
    for key in sorted(have.keys() | due.keys()):
        if have.get(key) != due.get(key):
            state = "is missing" if key not in have else "does not belong there" if key not in due else "was changed"
            yield Finding(_SCHEMA, f"{key[0]} {key[1]} {state}")


def _due_schema(version: int) -> Schema:
    """The schema of that version: a journal that was not opened since is proven as it was written."""
    conn = sqlite3.connect(":memory:", isolation_level=None)
    try:
        bring_up_to_date(conn, MIGRATIONS[: max(1, version)])
        return schema_rows(conn)
    finally:
        conn.close()
