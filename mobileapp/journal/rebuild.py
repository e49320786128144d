"""Working every balance out again from the movements on record."""

from __future__ import annotations

import json
import sqlite3

from checklists.fact_codec import UnreadableFact, fact_from_plain
from checklists.facts import moves_of
from checklists.ledger import post
from mobileapp.journal.errors import Damaged, say
from mobileapp.journal.proof_derived import differences
from mobileapp.journal.replaying import by_the_rules, folded
from mobileapp.journal.rows import Difference
from mobileapp.journal.store import Journal

_RIGHT = "INSERT OR REPLACE INTO balance (teardown, line, place, quantity) VALUES (?, ?, ?, ?)"


def rebuild_balances(journal: Journal) -> list[Difference]:
    """Replay all movements; put right the balances that differ, in one transaction, and return them."""
    with journal.transaction() as conn:
        try:
            found = differences(conn, replay(conn))
        except (ValueError, LookupError, UnreadableFact) as fault:
            raise say(Damaged, journal.path, f"an entry cannot be read: {fault}") from fault
        conn.executemany(_RIGHT, [(d.teardown, d.line, d.place, d.replayed) for d in found])
    return found


def replay(conn: sqlite3.Connection) -> dict[str, dict[tuple[str, str], int]]:
    """By teardown, what all movements, in their order, make of each (line, place)."""
    balances: dict[str, dict[tuple[str, str], int]] = {}
    ruled: set[str] = set()
    for teardown, kind, body in conn.execute("SELECT teardown, kind, body FROM event ORDER BY tick, device"):
        fact = fact_from_plain(kind, json.loads(body))
        post(balances.setdefault(teardown, {}), moves_of(fact))
        if by_the_rules(fact):
            ruled.add(teardown)
    for teardown in ruled:
        balances[teardown] = folded(conn, teardown)
    return balances
