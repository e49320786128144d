"""Holding the rows kept for speed against what the entries say: heads, balances, closures, cards."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from checklists import places
from checklists.fact_codec import UnreadableFact
from checklists.facts import Started
from checklists.state import CLOSED, RELEASED, Teardown
from checklists.teardown import fold
from mobileapp.journal.proof_chain import ChainWalk
from mobileapp.journal.reading import read_entries
from mobileapp.journal.rows import Difference, Finding

if TYPE_CHECKING:
    from sqlite_utils import Database


def head_faults(db: Database, walk: ChainWalk) -> Iterator[Finding]:
    """Where the last entry of a chain is not the one its head names: the tail was cut or added to."""
    kept = {(r["teardown"], r["device"]): (r["seq"], r["tick"], r["hash"]) for r in db.table("head").rows}
    for chain in sorted(kept.keys() | walk.heads.keys(), key=str):
        where = f"teardown {chain[0]}, device {chain[1]}"
        have, due = walk.heads.get(chain), kept.get(chain)
        if due is None:
            yield Finding(where, "its head is not on record; the chain was added, or its head taken away")
        elif have is None:
            yield Finding(where, f"its {due[0]} entries are gone")
        elif have != due:
            yield Finding(where, f"it ends with entry {have[0]}, but its head is on record as another entry {due[0]}")


def device_faults(db: Database) -> Iterator[Finding]:
    """Where the file does not say whose it is."""
    ids = [row["id"] for row in db.table("device").rows]
    if len(ids) != 1 or not isinstance(ids[0], str) or not ids[0]:
        yield Finding("this phone", "the file does not name the one device it belongs to")


def differences(conn: sqlite3.Connection, replayed: dict[str, dict[tuple[str, str], int]]) -> list[Difference]:
    """Balances kept that a replay of the movements does not give; a place not kept counts as zero."""
    rows = conn.execute("SELECT teardown, line, place, quantity FROM balance")
    kept = {(teardown, line, place): quantity for teardown, line, place, quantity in rows}
    due = {(teardown, *key): quantity for teardown, held in replayed.items() for key, quantity in held.items()}
    every = (
        Difference(teardown, line, place, kept.get((teardown, line, place), 0), due.get((teardown, line, place), 0))
        for teardown, line, place in sorted(kept.keys() | due.keys(), key=str)
    )
    return [difference for difference in every if difference.kept != difference.replayed]


def balance_faults(conn: sqlite3.Connection, walk: ChainWalk) -> Iterator[Finding]:
    """Balances that a full replay contradicts."""
    for d in differences(conn, walk.balances):
        what = f"{d.line} at {d.place}: the balance says {d.kept}, the movements say {d.replayed}"
        yield Finding(f"teardown {d.teardown}", what)


def card_faults(db: Database, walk: ChainWalk) -> Iterator[Finding]:
    """Cards whose figures or last time are not those of the entries."""
    for row in db.table("teardown_card").rows:
        where = f"card of teardown {row['teardown']}"
        held = walk.balances.get(row["teardown"], {})
        for column, due in _figures(held).items():
            if row[column] != due:
                yield Finding(where, f"{column.replace('_', ' ')} is given as {row[column]}, the movements say {due}")
        if row["last_at"] != walk.last_at.get(row["teardown"], (0, "", ""))[2]:
            yield Finding(where, f"its last time is given as {row['last_at']}, but that is not the last entry's")


def _figures(held: dict[tuple[str, str], int]) -> dict[str, int]:
    figures = {"out": 0, "in_engine": 0, "missing": 0}
    for (_, place), quantity in held.items():
        family = places.family(place)
        if family in places.OUT_FAMILIES:
            figures["out"] += quantity
        elif family in places.ENGINE_FAMILIES:
            figures["in_engine"] += quantity
        elif family == places.MISSING:
            figures["missing"] += quantity
    return figures


def closure_faults(db: Database, walk: ChainWalk) -> Iterator[Finding]:
    """Closures kept at another stage than folding the entries gives, for teardowns that keep derived rows."""
    cards = {card["teardown"]: card for card in db.table("teardown_card").rows}
    kept: dict[str, dict[str, tuple[str, str, str, str]]] = {teardown: {} for teardown in cards}
    for r in db.table("closure_state").rows:
        row = r["name"], r["stage"], r["since"], r["who"]
        kept.setdefault(r["teardown"], {})[r["closure"]] = row
    for teardown, rows in sorted(kept.items()):
        where = f"teardown {teardown}"
        try:
            state = _fold(db.conn, teardown)
        except (ValueError, UnreadableFact):
            continue  # the walk has named the entry already
        except Exception as fault:
            yield Finding(where, f"the rules cannot follow its entries: {type(fault).__name__} {fault}")
            continue
        if state is None:
            yield Finding(where, "it was never started")
            continue
        yield from _compare(where, rows, state)
        if teardown in cards:
            yield from _compare_card(cards[teardown], state)


def _fold(conn: sqlite3.Connection, teardown: str) -> Teardown | None:
    entries = read_entries(conn, teardown)
    return fold(entries) if entries and isinstance(entries[0].fact, Started) else None


def _compare(where: str, rows: dict[str, Any], state: Teardown) -> Iterator[Finding]:
    due = {
        closure: (state.closures[closure].name, how.stage, how.since, how.who)
        for closure, how in state.closure_states.items()
    }
    for closure in sorted(rows.keys() | due.keys()):
        row, right = rows.get(closure), due.get(closure)
        untouched = row is None and right is not None and not right[2]
        if row != right and not untouched:
            said = f"{row[1]} since {row[2]} by {row[3]}" if row else "nothing"
            should = f"{right[1]} since {right[2]} by {right[3]}" if right else "no such closure"
            yield Finding(f"{where}, closure {closure}", f"kept as {said}; the entries say {should}")


def _compare_card(card: dict[str, Any], state: Teardown) -> Iterator[Finding]:
    due = {"machine": state.machine, "sheet": state.sheet.name, "started": state.started.at}
    if state.ended or card["state"] in (CLOSED, RELEASED):
        due["state"] = state.ended or "open"
    for column, right in due.items():
        if card[column] != right:
            where = f"card of teardown {card['teardown']}"
            yield Finding(where, f"{column} is given as {card[column]}, the entries say {right}")
