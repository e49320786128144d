"""The journal: the append-only record of every teardown, in one SQLite file.

    with open_journal(path) as journal:
        journal.append(teardown, fact, at, who)
        fold(journal.entries(teardown))
    prove(path)          # empty: nothing is wrong with it
"""

from __future__ import annotations

from pathlib import Path

from mobileapp.journal.errors import JournalError
from mobileapp.journal.rows import Card, ClosureRow, Difference, Finding, Proof
from mobileapp.journal.store import Journal, open_journal

__all__ = [
    "Card",
    "ClosureRow",
    "Difference",
    "Finding",
    "Journal",
    "JournalError",
    "Proof",
    "examine",
    "open_journal",
    "prove",
    "rebuild_balances",
]

# The proof is imported when it is asked for: the app's start has no time for it.


def prove(path: str | Path) -> list[Finding]:
    """Everything that is wrong with the journal at `path`; empty where it is proven."""
    from mobileapp.journal.proving import examine

    return examine(path).faults


def examine(path: str | Path) -> Proof:
    """The whole proof: faults, remarks that break nothing, and how much was proven."""
    from mobileapp.journal.proving import examine

    return examine(path)


def rebuild_balances(journal: Journal) -> list[Difference]:
    """Work every balance out again from the movements; put right and return those that differ."""
    from mobileapp.journal.rebuild import rebuild_balances

    return rebuild_balances(journal)
