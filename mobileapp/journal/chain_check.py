"""Whether entries from another phone are what they say: content, chain, and what each had seen."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from checklists.fact_codec import UnreadableFact, fact_from_plain
from checklists.facts import Started, moves_of
from checklists.places import is_well_formed
from checklists.sheet_check import check_sheet
from checklists.sheet_fault import spoken_path
from mobileapp.journal.binding import not_bound
from mobileapp.journal.canonical import NOTHING_BEFORE, Envelope, NotCanonical, envelope_hash, read_canonical
from mobileapp.journal.fact_types import first_wrong
from mobileapp.journal.rows import EntryRow

_TYPES = (str, str, int, int, str, str, str, str, str, str, str)
#: What is known of an entry that is here already: device, seq, tick, hash, and what it had seen.
Known = tuple[str, int, int, str, str]
#: SQLite holds whole numbers up to this, and JSON's readers too.
_LARGEST = 2**53 - 1


class Refused(Exception):
    """Entries that cannot be accepted; the message says where and why."""


class RefusedFork(Refused):
    """A chain that contradicts the one already known."""


# --- each entry by itself


def check_contents(teardown: str, rows: Iterable[EntryRow]) -> None:
    """Every entry belongs to the teardown, is what its hash was made from, and can be read. Raises Refused."""
    sound: set[tuple[str, str]] = set()
    for row in rows:
        _check_columns(teardown, row)
        if (row.kind, row.body) not in sound:
            _check_body(row)
            sound.add((row.kind, row.body))
        _check_bound(row)
        try:
            right = envelope_hash(Envelope._make(row[:10])) == row.hash
        except NotCanonical as fault:
            raise Refused(f"{row.where}: it cannot be hashed: {fault}") from fault
        if not right:
            raise Refused(f"{row.where}: its content is not what its hash was made from; it was changed")


def _check_columns(teardown: str, row: EntryRow) -> None:
    if tuple(map(type, row)) != _TYPES:
        raise Refused(f"teardown {teardown}: an entry holds another kind of value than belongs there")
    if row.teardown != teardown or not row.teardown or not row.device:
        raise Refused(f"{row.where}: it belongs to another teardown than {teardown}, or to no device")
    if not (0 < row.seq <= row.tick <= _LARGEST):
        raise Refused(f"{row.where}: it cannot stand at place {row.seq} with tick {row.tick}")
    try:
        if datetime.fromisoformat(row.at).tzinfo is None:
            raise ValueError("no offset")
    except ValueError as fault:
        raise Refused(f"{row.where}: its time cannot be read or has no offset: {row.at}") from fault


def _check_body(row: EntryRow) -> None:
    try:
        plain = read_canonical(row.body)
        if not isinstance(plain, dict):
            raise Refused(f"{row.where}: its body is not one JSON object")
        fact = fact_from_plain(row.kind, plain)
        if wrong := first_wrong(fact):
            raise Refused(f"{row.where}: {wrong!r} holds another kind of value than belongs there")
        if isinstance(fact, Started) and (faults := check_sheet(fact.sheet, growing=not fact.sheet.closures)):
            raise Refused(f"{row.where}: its sheet has a fault: {spoken_path(faults[0].path)}: {faults[0].message}")
    except (NotCanonical, UnreadableFact, ArithmeticError) as fault:
        raise Refused(f"{row.where}: {fault}") from fault
    for move in moves_of(fact):
        if not 1 <= move.quantity <= _LARGEST:
            raise Refused(f"{row.where}: a movement that cannot be: {list(move)}")
        if not (is_well_formed(move.source) and is_well_formed(move.target)):
            raise Refused(f"{row.where}: there is no such place as {move.source!r} or {move.target!r}")


def _check_bound(row: EntryRow) -> None:
    """A signature stands where it was made, or is refused: what nobody signed here must not look signed here."""
    if '"head":' in row.body and (unbound := not_bound(fact_from_plain(row.kind, read_canonical(row.body)), row.prev)):
        raise Refused(f"{row.where}: {unbound}")


# --- the chain


class _Chains:
    """What is known of each device's chain, while new entries are put behind it."""

    def __init__(self, known: Iterable[Known]) -> None:
        self.hashes: dict[tuple[str, int], str] = {}
        self.ends: dict[str, tuple[int, int, str]] = {}
        self.by_hash: dict[str, tuple[str, int, int]] = {}
        self.seen: dict[str, dict[str, int]] = {}
        last_seen: dict[str, str] = {}
        for device, seq, tick, entry_hash, seen in known:
            self._add(device, seq, tick, entry_hash)
            last_seen[device] = seen
        for device, seen in last_seen.items():
            self.seen[device] = {other: self.by_hash[h][1] for other, h in read_canonical(seen).items()}

    def _add(self, device: str, seq: int, tick: int, entry_hash: str) -> None:
        self.hashes[device, seq] = entry_hash
        self.ends[device] = seq, tick, entry_hash
        self.by_hash[entry_hash] = device, seq, tick

    def knows(self, row: EntryRow) -> bool:
        """Whether this very entry is here already. Raises RefusedFork where another stands in its place."""
        known = self.hashes.get((row.device, row.seq))
        if known is not None and known != row.hash:
            raise RefusedFork(
                f"{row.where}: here another stands in its place ({known[:12]}, not {row.hash[:12]})"
            )
        return known is not None

    def carry_on(self, row: EntryRow) -> None:
        """Put one more entry behind its chain. Raises Refused where it does not link or had seen what is not here."""
        seq, tick, entry_hash = self.ends.get(row.device, (0, 0, NOTHING_BEFORE))
        if row.seq != seq + 1:
            raise Refused(f"{row.where}: entry {seq + 1} of its chain is due here; one is gone or was added")
        if row.prev != entry_hash:
            raise Refused(f"{row.where}: it does not link to the entry before it in its chain")
        due = max([tick, *self._ticks_seen(row)]) + 1
        if row.tick != due:
            raise Refused(f"{row.where}: its tick is {row.tick}, where {due} is due")
        self._add(row.device, row.seq, row.tick, row.hash)

    def _ticks_seen(self, row: EntryRow) -> list[int]:
        before = self.seen.setdefault(row.device, {})
        if row.seen == "{}" and not before:
            return []
        seen = _plain_seen(row)
        ticks = []
        for device, entry_hash in seen.items():
            known = self.by_hash.get(entry_hash) if isinstance(entry_hash, str) else None
            if known is None or known[0] != device or device == row.device:
                raise Refused(f"{row.where}: it had seen an entry of device {device} that is not here")
            if known[1] < before.get(device, 0):
                raise Refused(f"{row.where}: it had seen less of device {device} than the entry before it")
            before[device] = known[1]
            ticks.append(known[2])
        if missing := before.keys() - seen.keys():
            raise Refused(f"{row.where}: it no longer names device {', '.join(sorted(missing))}, seen before")
        return ticks


def _plain_seen(row: EntryRow) -> dict[str, Any]:
    try:
        plain = read_canonical(row.seen)
    except NotCanonical as fault:
        raise Refused(f"{row.where}: what it had seen cannot be read: {fault}") from fault
    if not isinstance(plain, dict):
        raise Refused(f"{row.where}: what it had seen is not one JSON object")
    return plain


def new_rows(known: Iterable[Known], rows: Iterable[EntryRow]) -> list[EntryRow]:
    """Those entries that are not here yet, in their order. `known` come in the order of seq. Raises Refused."""
    chains = _Chains(known)
    fresh: list[EntryRow] = []
    # An entry's tick is above the ticks of all it had seen, so in this order whatever it had seen comes first.
    for row in sorted(rows, key=lambda row: (row.tick, row.device, row.seq)):
        if not chains.knows(row):
            chains.carry_on(row)
            fresh.append(row)
    return fresh
