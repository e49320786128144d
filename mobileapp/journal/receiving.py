"""Taking in another phone's entries: verified whole, and written all or not at all."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Mapping
from itertools import accumulate
from pathlib import Path
from typing import NamedTuple

from checklists import gate, places
from checklists.fact_codec import UnreadableFact
from checklists.facts import Started, moves_of
from checklists.state import Teardown
from checklists.teardown import fold
from mobileapp.journal.canonical import NOTHING_BEFORE, arrival_after
from mobileapp.journal.chain_check import Refused, RefusedFork, check_contents, new_rows
from mobileapp.journal.derived import card, closure_rows
from mobileapp.journal.errors import Forked, NotAccepted, say
from mobileapp.journal.reading import read_entries
from mobileapp.journal.rows import EntryRow

_EVENT = (
    "INSERT INTO event (teardown, device, seq, tick, at, who, kind, body, seen, prev, hash, arrival)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
_HEAD = "INSERT OR REPLACE INTO head (teardown, device, seq, tick, hash) VALUES (?, ?, ?, ?, ?)"
_BALANCE = "INSERT INTO balance (teardown, line, place, quantity) VALUES (?, ?, ?, ?)"
_CLOSURE = "INSERT INTO closure_state (teardown, closure, name, stage, since, who) VALUES (?, ?, ?, ?, ?, ?)"
_CARD = "INSERT INTO teardown_card VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
_KNOWN = "SELECT device, seq, tick, hash, seen FROM event WHERE teardown = ? ORDER BY seq"
_LAST = "SELECT arrival FROM event ORDER BY id DESC LIMIT 1"


class _Received(NamedTuple):
    """What is new in one teardown, and its state with that."""

    rows: list[EntryRow]
    state: Teardown | None


def take_in(
    conn: sqlite3.Connection,
    path: Path,
    given: Mapping[str, Iterable[EntryRow]],
    before_writing: Callable[[], None],
) -> dict[str, int]:
    """Verify and write entries inside an open transaction; how many were new, by teardown. Raises NotAccepted."""
    try:
        fresh = {teardown: _verified(conn, teardown, list(rows)) for teardown, rows in given.items()}
    except RefusedFork as fault:
        raise say(Forked, path, str(fault)) from fault
    except Refused as fault:
        raise say(NotAccepted, path, str(fault)) from fault
    before_writing()
    for teardown, (_, state) in fresh.items():
        if state is not None:
            _write_derived(conn, teardown, state)
    return {teardown: len(rows) for teardown, (rows, _) in fresh.items()}


def _verified(conn: sqlite3.Connection, teardown: str, rows: list[EntryRow]) -> _Received:
    check_contents(teardown, rows)
    fresh = new_rows(conn.execute(_KNOWN, (teardown,)).fetchall(), rows)
    if not fresh:
        return _Received([], None)
    # Within the transaction the entries are in the file already when the rules read them: what is refused is
    # rolled back with everything else, and there is one way of reading entries only.
    _write(conn, fresh)
    return _Received(fresh, _followed(conn, teardown))


def _followed(conn: sqlite3.Connection, teardown: str) -> Teardown:
    where = f"teardown {teardown}"
    try:
        entries = read_entries(conn, teardown)
        starts = [number for number, entry in enumerate(entries) if isinstance(entry.fact, Started)]
        if starts != [0]:
            raise Refused(
                f"{where} does not begin with its start" if starts[:1] != [0] else f"{where} starts twice"
            )
        state = fold(entries)
        if stranger := _stranger(state):
            raise Refused(f"{where}: {stranger} is counted, but is not on its sheet")
        gate.why_not_close(state)
        for closure in state.closures:
            gate.why_not(state, closure)
        return state
    except (ValueError, UnreadableFact) as fault:
        raise Refused(f"{where}: {fault}") from fault
    except (LookupError, TypeError, AttributeError, ArithmeticError, RecursionError, AssertionError) as fault:
        # Anything at all can be written into another phone's entries; the rules then stumble in their own way.
        raise Refused(
            f"{where}: the rules cannot follow its entries: {type(fault).__name__} {fault}"
        ) from fault


def _stranger(state: Teardown) -> str:
    """A line or a place that is counted though the teardown does not have it; empty where there is none."""
    moves = {move for entry in state.history for move in moves_of(entry.fact)}
    counted = {(move.line, place) for move in moves for place in (move.source, move.target)}
    counted |= state.discrepancies.keys()
    named = {"fitted": state.closures, "on": state.closures, "cover": state.openings, "engine": state.spaces}
    for line, place in sorted(counted):
        if line not in state.lines:
            return f"the line {line!r}"
        name = places.named(place)
        if name and name not in named.get(places.family(place), (name,)):
            return f"the place {place!r}"
    return ""


def _write(conn: sqlite3.Connection, rows: list[EntryRow]) -> None:
    last = conn.execute(_LAST).fetchone()
    arrivals = accumulate((row.hash for row in rows), arrival_after, initial=last[0] if last else NOTHING_BEFORE)
    next(arrivals)
    conn.executemany(_EVENT, [(*row, arrival) for row, arrival in zip(rows, arrivals, strict=True)])
    heads = {row.device: row for row in rows}
    conn.executemany(
        _HEAD, [(row.teardown, row.device, row.seq, row.tick, row.hash) for row in heads.values()]
    )


def _write_derived(conn: sqlite3.Connection, teardown: str, state: Teardown) -> None:
    for table in ("balance", "closure_state", "teardown_card"):
        conn.execute(f"DELETE FROM {table} WHERE teardown = ?", (teardown,))
    conn.executemany(_BALANCE, [(teardown, line, place, n) for (line, place), n in state.balances.items()])
    conn.executemany(_CLOSURE, [(teardown, *row) for row in closure_rows(state)])
    conn.execute(_CARD, card(teardown, state))
