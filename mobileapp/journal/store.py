"""The journal of one phone: every entry of every teardown, durable before anybody is told.

An entry, its chain's head, the balances it moves and the derived rows the caller passes go into the file in
one transaction: all of it or nothing. With synchronous=FULL the entry is on the storage when `append` returns.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from checklists.fact_codec import UnreadableFact
from checklists.facts import Entry, Fact, Move, moves_of
from checklists.places import ORIGIN
from mobileapp.journal.binding import not_bound
from mobileapp.journal.canonical import (
    NOTHING_BEFORE,
    Envelope,
    NotCanonical,
    arrival_after,
    body_of,
    canonical,
    envelope_hash,
)
from mobileapp.journal.errors import BelowZero, Damaged, JournalError, NotBound, Unwritable, ours, say
from mobileapp.journal.opening import connect, in_memory, only_the_place, refuse_foreign, refuse_newer
from mobileapp.journal.reading import read_entries, read_rows
from mobileapp.journal.rows import Card, ClosureRow, EntryRow
from mobileapp.journal.schema import MIGRATIONS, Migration, bring_up_to_date, version_of

#: What a caller derives from an entry: the teardown's card, and the closures whose stage changed.
Derive = Callable[[Entry], tuple[Card | None, Iterable[ClosureRow]]]

# Plain SQL on a plain connection: sqlite3 keeps these prepared, and a count must cost little more than
# its commit. sqlite-utils is used where time does not press: the schema, its migrations and the proof.
_HEADS = "SELECT device, seq, tick, hash FROM head WHERE teardown = ?"
_ARRIVAL = "SELECT arrival FROM event ORDER BY id DESC LIMIT 1"
_EVENT = (
    "INSERT INTO event (teardown, device, seq, tick, at, who, kind, body, seen, prev, hash, arrival)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
_HEAD = "INSERT OR REPLACE INTO head (teardown, device, seq, tick, hash) VALUES (?, ?, ?, ?, ?)"
_TAKE = "UPDATE balance SET quantity = quantity + ? WHERE teardown = ? AND line = ? AND place = ?"
_PUT = (
    "INSERT INTO balance (quantity, teardown, line, place) VALUES (?, ?, ?, ?)"
    " ON CONFLICT (teardown, line, place) DO UPDATE SET quantity = quantity + excluded.quantity"
)
_CLOSURE = "INSERT OR REPLACE INTO closure_state (teardown, closure, name, stage, since, who) VALUES (?, ?, ?, ?, ?, ?)"
_CARD_COLUMNS = 'teardown, machine, sheet, started, state, "out", in_engine, missing, last_at'
_CARD = f"INSERT OR REPLACE INTO teardown_card ({_CARD_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
_CARDS = f"SELECT {_CARD_COLUMNS} FROM teardown_card ORDER BY last_at DESC, teardown"
_BALANCES = "SELECT line, place, quantity FROM balance WHERE teardown = ? AND quantity <> 0"


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="milliseconds")


def _nothing() -> None:
    """What is to be done before writing when nobody said."""


def _new_id() -> str:
    return os.urandom(6).hex()


def open_journal(
    path: str | Path,
    *,
    clock: Callable[[], str] = _now,
    make_id: Callable[[], str] = _new_id,
    busy_seconds: float = 2.0,
    migrations: tuple[Migration, ...] = MIGRATIONS,
) -> Journal:
    """The journal at `path`, made where there is none. Raises CannotOpen or another JournalError.

    `clock` and `make_id` are asked once, when the file is new and this phone gets its device id.
    """
    path = Path(path)
    conn = connect(path, busy_seconds, migrations)
    try:
        return Journal(path, conn, _device(conn, clock, make_id))
    except sqlite3.Error as fault:
        conn.close()
        raise ours(fault, path) from fault


def read_journal(path: str | Path) -> Journal:
    """The journal at `path` to be read, wherever it lies: where it cannot be written, nothing can be appended either.

    Raises CannotOpen or another JournalError.
    """
    path = Path(path)
    try:
        return open_journal(path)
    except JournalError as fault:
        if not only_the_place(fault) or not path.is_file():
            raise
        refuse_foreign(path)
        conn = in_memory(path, fault)
    try:
        refuse_newer(version_of(conn), path)
        bring_up_to_date(conn, MIGRATIONS)
        device = _device(conn, _now, _new_id)
        conn.execute("PRAGMA query_only = ON")  # an entry that is only in memory must never be taken for a durable one
        return Journal(path, conn, device)
    except sqlite3.Error as fault:
        conn.close()
        raise ours(fault, path) from fault


def _device(conn: sqlite3.Connection, clock: Callable[[], str], make_id: Callable[[], str]) -> str:
    row = conn.execute("SELECT id FROM device").fetchone()
    if row is None:
        conn.execute("INSERT OR IGNORE INTO device (only_one, id, made_at) VALUES (1, ?, ?)", (make_id(), clock()))
        row = conn.execute("SELECT id FROM device").fetchone()
    return str(row[0])


class Journal:
    """An open journal. One thread uses it; another program may have the same file open."""

    def __init__(self, path: Path, conn: sqlite3.Connection, device: str) -> None:
        self.path = path
        self.device = device
        self._conn = conn

    def append(
        self,
        teardown: str,
        fact: Fact,
        at: str,
        who: str,
        *,
        cards: Card | None = None,
        closures: Iterable[ClosureRow] = (),
        derive: Derive | None = None,
    ) -> Entry:
        """Record a fact for good, with its derived rows; durable when this returns.

        Derived rows are given ready as `cards` and `closures`, or worked out by `derive` from the entry
        before it is committed. Where anything fails nothing is recorded and a JournalError says why.
        """
        try:
            body = body_of(fact)
            with self.transaction():
                entry = self._write(teardown, fact, body, at, who)
                if derive is not None:
                    cards, closures = derive(entry)
                self._write_derived(teardown, cards, closures)
            return entry
        except (NotCanonical, UnicodeEncodeError) as fault:
            raise say(Unwritable, self.path, str(fault)) from fault

    @contextmanager
    def transaction(self) -> Iterator[sqlite3.Connection]:
        """The connection inside one transaction: committed as a whole, or as before where anything fails."""
        try:
            self._conn.execute("BEGIN IMMEDIATE")
            yield self._conn
            self._conn.execute("COMMIT")
        except sqlite3.Error as fault:
            self._roll_back()
            raise ours(fault, self.path) from fault
        except BaseException:
            self._roll_back()
            raise

    def _roll_back(self) -> None:
        try:
            if self._conn.in_transaction:
                self._conn.execute("ROLLBACK")
        except sqlite3.Error as fault:
            raise ours(fault, self.path) from fault

    def _write(self, teardown: str, fact: Fact, body: str, at: str, who: str) -> Entry:
        conn, device = self._conn, self.device
        seq, tick, prev, seen, had_seen = 1, 1, NOTHING_BEFORE, {}, ()
        for other, its_seq, its_tick, its_hash in conn.execute(_HEADS, (teardown,)):
            tick = max(tick, its_tick + 1)
            if other == device:
                seq, prev = its_seq + 1, its_hash
            else:
                seen[other] = its_hash
                had_seen += ((other, its_seq),)
        if unbound := not_bound(fact, prev):
            raise say(NotBound, self.path, unbound)
        seen_text = canonical(seen) if seen else "{}"
        envelope = Envelope(teardown, device, seq, tick, at, who, fact.kind, body, seen_text, prev)
        entry_hash = envelope_hash(envelope)
        last = conn.execute(_ARRIVAL).fetchone()
        arrival = arrival_after(last[0] if last else NOTHING_BEFORE, entry_hash)
        conn.execute(_EVENT, (*envelope, entry_hash, arrival))
        conn.execute(_HEAD, (teardown, device, seq, tick, entry_hash))
        self._move(teardown, moves_of(fact))
        return Entry(fact, at, who, device, seq, tick, had_seen)

    def _move(self, teardown: str, moves: tuple[Move, ...]) -> None:
        # One after another, as a replay does it: no movement may take what a later one would bring.
        for line, quantity, source, target in moves:
            if source == ORIGIN:
                self._conn.execute(_PUT, (-quantity, teardown, line, source))
            elif not self._conn.execute(_TAKE, (-quantity, teardown, line, source)).rowcount:
                raise say(BelowZero, self.path, f"{quantity} of {line} from {source}, where there is none")
            self._conn.execute(_PUT, (quantity, teardown, line, target))

    def _write_derived(self, teardown: str, card: Card | None, closures: Iterable[ClosureRow]) -> None:
        for row in closures:
            self._conn.execute(_CLOSURE, (teardown, *row))
        if card is not None:
            self._conn.execute(_CARD, card)

    def entries(self, teardown: str) -> list[Entry]:
        """Every entry of a teardown, in the order that is the same on every phone: (tick, device)."""
        try:
            return read_entries(self._conn, teardown)
        except sqlite3.Error as fault:
            raise ours(fault, self.path) from fault
        except (ValueError, RecursionError, UnreadableFact) as fault:
            raise say(Damaged, self.path, f"an entry of teardown {teardown} cannot be read: {fault}") from fault

    def rows(self, teardown: str) -> list[EntryRow]:
        """Every entry of a teardown as it stands in the file, in the order of `entries`, for another phone."""
        try:
            return read_rows(self._conn, teardown)
        except sqlite3.Error as fault:
            raise ours(fault, self.path) from fault

    def receive(self, teardown: str, rows: Iterable[EntryRow]) -> int:
        """Take in another phone's entries of one teardown; how many were new. See `receive_all`."""
        return self.receive_all({teardown: rows})[teardown]

    def receive_all(
        self, given: Mapping[str, Iterable[EntryRow]], before_writing: Callable[[], None] = _nothing
    ) -> dict[str, int]:
        """Take in entries of several teardowns, all or nothing; how many were new in each.

        Chains are verified, may only be carried on and never contradicted, and the rules must be able to follow the
        whole; otherwise a NotAccepted says what and where. `before_writing` is called once all that is known to be
        so, with nothing written yet: what the entries refer to can be put in its place then.
        """
        with self.transaction() as conn:
            from mobileapp.journal.receiving import take_in

            return take_in(conn, self.path, given, before_writing)

    def balances(self, teardown: str) -> dict[tuple[str, str], int]:
        """How many of each line are at each place, as kept beside the entries; places at zero are left out."""
        return {(line, place): quantity for line, place, quantity in self._rows(_BALANCES, teardown)}

    def teardowns(self) -> list[Card]:
        """The card of every teardown, the one last worked on first."""
        return [Card(*row) for row in self._rows(_CARDS)]

    def closure_rows(self, teardown: str) -> list[ClosureRow]:
        """The stage of each closure, as kept beside the entries."""
        sql = "SELECT closure, name, stage, since, who FROM closure_state WHERE teardown = ? ORDER BY closure"
        return [ClosureRow(*row) for row in self._rows(sql, teardown)]

    def head(self, teardown: str) -> str:
        """The hash of this device's last entry in a teardown; 64 zeros before the first."""
        return self.heads(teardown).get(self.device, NOTHING_BEFORE)

    def heads(self, teardown: str) -> dict[str, str]:
        """The hash of each device's last entry in a teardown."""
        return {device: entry_hash for device, _, _, entry_hash in self._rows(_HEADS, teardown)}

    def bookmark(self) -> dict[str, Any] | None:
        """Where the person was, as last set; None before that. Not part of the record."""
        rows = self._rows("SELECT data FROM bookmark")
        try:
            data = json.loads(rows[0][0]) if rows else None
        except ValueError:
            return None
        return data if isinstance(data, dict) else None

    def set_bookmark(self, data: dict[str, Any]) -> None:
        """Remember where the person is."""
        self._rows("INSERT OR REPLACE INTO bookmark (only_one, data) VALUES (1, ?)", json.dumps(data))

    def close(self) -> None:
        """Let go of the file. Whatever was acknowledged is in it already."""
        try:
            self._conn.close()
        except sqlite3.Error as fault:
            raise ours(fault, self.path) from fault

    def __enter__(self) -> Journal:
        return self

    def __exit__(self, *exc: object) -> None:
        self.close()

    def _rows(self, sql: str, *values: str) -> list[tuple[Any, ...]]:
        try:
            return self._conn.execute(sql, values).fetchall()
        except sqlite3.Error as fault:
            raise ours(fault, self.path) from fault
