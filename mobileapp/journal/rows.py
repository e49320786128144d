"""The derived rows that a caller writes beside an entry, and what a replay finds different."""

from __future__ import annotations

from typing import NamedTuple


class Card(NamedTuple):
    """One teardown as the list of teardowns shows it."""

    teardown: str
    machine: str
    sheet: str
    started: str
    state: str
    out: int
    in_engine: int
    missing: int
    last_at: str


class ClosureRow(NamedTuple):
    """The stage a closure is at."""

    closure: str
    name: str
    stage: str
    since: str
    who: str


class EntryRow(NamedTuple):
    """An entry as it stands in the file and goes to another phone: body and seen as canonical JSON text."""

    teardown: str
    device: str
    seq: int
    tick: int
    at: str
    who: str
    kind: str
    body: str
    seen: str
    prev: str
    hash: str

    @property
    def where(self) -> str:
        """The entry in words."""
        return f"teardown {self.teardown}, device {self.device}, entry {self.seq}"


class Difference(NamedTuple):
    """A balance that is not what a full replay of the movements makes it."""

    teardown: str
    line: str
    place: str
    kept: int
    replayed: int


class Finding(NamedTuple):
    """One thing that is wrong with a journal: where, and what."""

    where: str
    what: str


class Proof(NamedTuple):
    """What proving a journal found. `remarks` are worth knowing but break nothing."""

    faults: list[Finding]
    remarks: list[Finding]
    entries: int
    teardowns: int
    #: False for a file that is something else, or of a newer Countback.
    is_journal: bool = True
