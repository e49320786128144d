"""What all movements of a teardown make of its balances, in the order that is the same on every phone.

Nobody needs the rules for that, but in one case: where two phones each took off the tally what both had written onto
it, the rules say which of it still came off. There the balances are those of the rules.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

from checklists.facts import Fact, Move, Withdrawn
from checklists.ledger import post
from checklists.teardown import fold
from mobileapp.journal.reading import read_entries

Balances = dict[tuple[str, str], int]


def by_the_rules(fact: Fact) -> bool:
    """Whether only the rules know what still moves by it, once two phones met."""
    return isinstance(fact, Withdrawn)


def folded(conn: sqlite3.Connection, teardown: str) -> Balances:
    """The balances by the rules. Raises whatever they stumble over."""
    return dict(fold(read_entries(conn, teardown)).balances)


def replayed(moves: Iterable[tuple[Move, ...]]) -> Balances:
    """The balances of movements, one after the other."""
    balances: Balances = {}
    for several in moves:
        post(balances, several)
    return balances
