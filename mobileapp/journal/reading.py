"""Entries out of the file: as facts for the rules, and as rows for another phone."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from operator import itemgetter
from typing import Any

from checklists.fact_codec import fact_from_plain
from checklists.facts import Entry, Fact
from mobileapp.journal.rows import EntryRow

_ENTRIES = "SELECT kind, body, at, who, device, seq, tick FROM event WHERE teardown = ?"
_ROWS = (
    "SELECT teardown, device, seq, tick, at, who, kind, body, seen, prev, hash FROM event"
    " WHERE teardown = ? ORDER BY tick, device"
)
_SEEN = "SELECT device, seq, seen, hash FROM event WHERE teardown = ?"

Seen = tuple[tuple[str, int], ...]


def read_entries(conn: sqlite3.Connection, teardown: str) -> list[Entry]:
    """Every entry of a teardown, in the order (tick, device). Raises ValueError or UnreadableFact on a damaged one."""
    rows = conn.execute(_ENTRIES, (teardown,)).fetchall()
    if not rows:
        return []
    rows.sort(key=itemgetter(6, 4))
    kinds, texts, ats, whos, devices, seqs, ticks = zip(*rows, strict=True)
    facts = shared_facts(list(zip(kinds, texts, strict=True)))
    if len(set(devices)) == 1:  # one phone alone has seen no other: the case that must be quick
        return list(map(Entry, facts, ats, whos, devices, seqs, ticks))
    seen = _seen(conn, teardown)
    had_seen = [seen[entry] for entry in zip(devices, seqs, strict=True)]
    return list(map(Entry, facts, ats, whos, devices, seqs, ticks, had_seen))


def _seen(conn: sqlite3.Connection, teardown: str) -> dict[tuple[str, int], Seen]:
    """What each entry, by device and seq, had seen of the other devices."""
    rows = conn.execute(_SEEN, (teardown,)).fetchall()
    seqs = {entry_hash: seq for _, seq, _, entry_hash in rows}
    known = {text: seen_seqs(text, seqs) for text in {row[2] for row in rows}}
    return {(device, seq): known[text] for device, seq, text, _ in rows}


def read_rows(conn: sqlite3.Connection, teardown: str) -> list[EntryRow]:
    """Every entry of a teardown as it stands in the file, in the order (tick, device)."""
    return list(map(EntryRow._make, conn.execute(_ROWS, (teardown,))))


def seen_seqs(text: str, seqs: dict[str, int]) -> Seen:
    """What an entry had seen, from hashes to the place of each in its chain. ValueError where one is not known."""
    plain: Any = json.loads(text)
    try:
        return tuple(sorted((device, seqs[entry_hash]) for device, entry_hash in plain.items()))
    except (KeyError, AttributeError, TypeError) as fault:
        raise ValueError(f"it had seen an entry that is not here: {fault}") from fault


def shared_facts(stored: Sequence[tuple[str, str]]) -> Iterator[Fact]:
    """The fact of each (kind, body).

    Counting is repetition: a long job holds the same few movements many times over. Facts are frozen, so equal ones
    are read once and shared, and one parse of all bodies costs half of one parse each.
    """
    distinct = list(dict.fromkeys(stored))
    bodies = json.loads(f"[{','.join([text for _, text in distinct])}]")
    if len(bodies) != len(distinct):
        raise ValueError("a body is not one JSON object")
    known = {key: fact_from_plain(key[0], body) for key, body in zip(distinct, bodies, strict=True)}
    return map(known.__getitem__, stored)
