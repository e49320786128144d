"""The journal's tables, triggers and views, and the way from one schema version to the next.

sqlite-utils makes the schema; it is imported where it is used, for it costs a tenth of a second that the
app's start to the first drawn board does not have. An up-to-date file never needs it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database

#: "Cntb": says in the file's header whose file it is.
APPLICATION_ID = 0x436E7462

Migration = Callable[["Database"], None]

TABLES = (
    """CREATE TABLE event (
    id INTEGER PRIMARY KEY,  -- order of arrival in this file
    teardown TEXT NOT NULL,
    device TEXT NOT NULL,
    seq INTEGER NOT NULL,    -- on that device and teardown, from 1
    tick INTEGER NOT NULL,   -- one more than every tick the device had seen
    at TEXT NOT NULL,        -- wall time with offset, as that device's clock said
    who TEXT NOT NULL,
    kind TEXT NOT NULL,
    body TEXT NOT NULL,      -- canonical JSON (RFC 8785)
    seen TEXT NOT NULL,      -- canonical JSON: heads of other devices' chains it had seen
    prev TEXT NOT NULL,      -- hash of the entry before it in its chain
    hash TEXT NOT NULL,      -- SHA-256 of all of the above but id, as canonical JSON
    arrival TEXT NOT NULL,   -- SHA-256 of the arrival before and this hash
    UNIQUE (teardown, device, seq)
)""",
    """CREATE TABLE head (
    teardown TEXT NOT NULL,
    device TEXT NOT NULL,
    seq INTEGER NOT NULL,
    tick INTEGER NOT NULL,
    hash TEXT NOT NULL,
    PRIMARY KEY (teardown, device)
) WITHOUT ROWID""",
    """CREATE TABLE balance (
    teardown TEXT NOT NULL,
    line TEXT NOT NULL,
    place TEXT NOT NULL,
    quantity INTEGER NOT NULL,
    PRIMARY KEY (teardown, line, place),
    CHECK (quantity >= 0 OR place = 'origin')
) WITHOUT ROWID""",
    """CREATE TABLE closure_state (
    teardown TEXT NOT NULL,
    closure TEXT NOT NULL,
    name TEXT NOT NULL,
    stage TEXT NOT NULL,
    since TEXT NOT NULL,
    who TEXT NOT NULL,
    PRIMARY KEY (teardown, closure)
) WITHOUT ROWID""",
    """CREATE TABLE teardown_card (
    teardown TEXT NOT NULL PRIMARY KEY,
    machine TEXT NOT NULL,
    sheet TEXT NOT NULL,
    started TEXT NOT NULL,
    state TEXT NOT NULL,
    "out" INTEGER NOT NULL,
    in_engine INTEGER NOT NULL,
    missing INTEGER NOT NULL,
    last_at TEXT NOT NULL
) WITHOUT ROWID""",
    """CREATE TABLE device (
    only_one INTEGER PRIMARY KEY CHECK (only_one = 1),
    id TEXT NOT NULL,
    made_at TEXT NOT NULL
)""",
    """CREATE TABLE bookmark (
    only_one INTEGER PRIMARY KEY CHECK (only_one = 1),
    data TEXT NOT NULL
)""",
)

# REPLACE deletes without firing delete triggers, so what would be replaced is refused before the insert.
TRIGGERS = (
    """CREATE TRIGGER event_never_changed BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END""",
    """CREATE TRIGGER event_never_deleted BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END""",
    """CREATE TRIGGER event_never_replaced BEFORE INSERT ON event
WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM event WHERE teardown = NEW.teardown AND device = NEW.device AND seq = NEW.seq)
BEGIN SELECT RAISE(ABORT, 'an entry is never replaced'); END""",
)

_MOVE_WORDS = """(SELECT group_concat(
        json_extract(m.value, '$[1]') || ' ' || json_extract(m.value, '$[0]') || ' from '
        || json_extract(m.value, '$[2]') || ' to ' || json_extract(m.value, '$[3]'), '; ')
    FROM json_each(e.body, '$.moves') AS m)"""

_SUBJECT = """coalesce(json_extract(e.body, '$.closure'), json_extract(e.body, '$.opening'),
    json_extract(e.body, '$.caution'), json_extract(e.body, '$.what'), json_extract(e.body, '$.find'),
    json_extract(e.body, '$.machine'), json_extract(e.body, '$.person[0]'))"""

#: As version 1 has it: what lies on the floor stands there as "floor", though it counts as out everywhere else.
_FIRST_TALLY = """SELECT teardown, line,
    CASE
        WHEN place LIKE 'fitted/%' THEN 'fitted'
        WHEN place = 'tray' OR place LIKE 'tray/%' OR place = 'bench' THEN 'out'
        WHEN place = 'engine' OR place LIKE 'engine/%' OR place LIKE 'on/%' OR place LIKE 'cover/%'
            THEN 'in the engine'
        WHEN place = 'stores' THEN 'put away'
        ELSE place
    END AS whereabouts,
    sum(quantity) AS quantity,
    group_concat(place, ', ') AS places
FROM balance
WHERE place <> 'origin' AND quantity <> 0
GROUP BY 1, 2, 3"""
_TALLY = _FIRST_TALLY.replace("OR place = 'bench' THEN", "OR place IN ('bench', 'floor') THEN")

VIEWS = {
    "tally": _FIRST_TALLY,
    "movements": """SELECT e.id AS event, e.teardown, e.at, e.who, e.kind,
    json_extract(m.value, '$[0]') AS line,
    json_extract(m.value, '$[1]') AS quantity,
    json_extract(m.value, '$[2]') AS source,
    json_extract(m.value, '$[3]') AS target
FROM event AS e, json_each(e.body, '$.moves') AS m
ORDER BY e.id, m.id""",
    "closures": """SELECT s.teardown, c.machine, s.closure, s.name, s.stage, s.since, s.who
FROM closure_state AS s LEFT JOIN teardown_card AS c ON c.teardown = s.teardown""",
    "log": f"""SELECT e.id AS event, e.teardown, e.at, e.who,
    e.kind || coalesce(' - ' || {_SUBJECT}, '') || coalesce(': ' || {_MOVE_WORDS}, '') AS what
FROM event AS e
ORDER BY e.id""",
}


def _first(db: Database) -> None:
    for statement in TABLES + TRIGGERS:
        db.execute(statement)
    for name, select in VIEWS.items():
        db.create_view(name, select)


def _floor_is_out(db: Database) -> None:
    db.create_view("tally", _TALLY, replace=True)


#: The way to version n is MIGRATIONS[n - 1]. A shipped one is never changed; a new one is added at the end.
MIGRATIONS: tuple[Migration, ...] = (_first, _floor_is_out)


def version_of(conn: sqlite3.Connection) -> int:
    """The schema version the file says it has; 0 for one that is still empty."""
    return int(conn.execute("PRAGMA user_version").fetchone()[0])


def bring_up_to_date(conn: sqlite3.Connection, migrations: tuple[Migration, ...] = MIGRATIONS) -> None:
    """Take the file through every migration it lacks, all in one transaction: all of them or none."""
    from sqlite_utils import Database

    db = Database(conn, recursive_triggers=False)
    # The lock comes first and the version is read under it, so that two programs opening a new file at
    # once do not both make it; inside, atomic() nests by savepoint.
    conn.execute("BEGIN IMMEDIATE")
    try:
        for number in range(version_of(conn) + 1, len(migrations) + 1):
            with db.atomic():
                migrations[number - 1](db)
            conn.execute(f"PRAGMA user_version = {number:d}")
        conn.execute(f"PRAGMA application_id = {APPLICATION_ID:d}")
        conn.execute("COMMIT")
    except BaseException:
        if conn.in_transaction:
            conn.execute("ROLLBACK")
        raise


def schema_rows(conn: sqlite3.Connection) -> dict[tuple[str, str], str]:
    """What is in the file, by (type, name), as the text that made it."""
    rows = conn.execute("SELECT type, name, coalesce(sql, '') FROM sqlite_master")
    return {(kind, name): sql for kind, name, sql in rows}
