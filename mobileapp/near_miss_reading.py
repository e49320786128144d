"""Reads the near misses of every teardown in a journal, on a connection of its own, so that any thread can do it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from checklists.near_misses import NearMiss, near_misses
from checklists.teardown import fold
from mobileapp.journal.reading import read_entries


def read_near_misses(journal: Path, teardowns: list[str]) -> tuple[NearMiss, ...]:
    """What was dropped and missed on these teardowns of the journal's file, the newest first."""
    with closing(sqlite3.connect(f"{journal.resolve().as_uri()}?mode=ro", uri=True)) as conn:
        return near_misses((each, fold(read_entries(conn, each))) for each in teardowns)
