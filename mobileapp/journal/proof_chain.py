"""Walking every entry in order of arrival: chains link and rehash, the order holds, bodies can be read."""

from __future__ import annotations

import json
import sqlite3
from contextlib import suppress
from datetime import datetime
from operator import itemgetter
from typing import Any, NamedTuple

from checklists.fact_codec import UnreadableFact, fact_from_plain
from checklists.facts import Fact, Move, moves_of
from checklists.ledger import post
from checklists.places import is_well_formed
from mobileapp.journal.binding import not_bound
from mobileapp.journal.canonical import (
    NOTHING_BEFORE,
    Envelope,
    NotCanonical,
    arrival_after,
    canonical,
    envelope_hash,
)
from mobileapp.journal.replaying import by_the_rules, folded, replayed
from mobileapp.journal.rows import Finding

_EVENTS = (
    "SELECT id, teardown, device, seq, tick, at, who, kind, body, seen, prev, hash, arrival FROM event ORDER BY id"
)
_SHARED = "SELECT teardown FROM event GROUP BY teardown HAVING count(DISTINCT device) > 1"


class Row(NamedTuple):
    """One row of the event table."""

    id: int
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
    arrival: str

    @property
    def where(self) -> str:
        """The entry in words."""
        return f"teardown {self.teardown}, device {self.device}, entry {self.seq}"


_TYPES = (int, str, str, int, int, str, str, str, str, str, str, str, str)
_COLUMNS = tuple(zip(Row._fields, _TYPES, strict=True))

#: Stands before the first entry of a chain.
_BEFORE = (0, 0, NOTHING_BEFORE)


class ChainWalk:
    """What a walk over all entries found, and what the derived rows are to be held against."""

    def __init__(self, conn: sqlite3.Connection) -> None:
        self.faults: list[Finding] = []
        self.remarks: list[Finding] = []
        self.entries = 0
        #: By (teardown, device): seq, tick and hash of the last entry.
        self.heads: dict[tuple[str, str], tuple[int, int, str]] = {}
        #: By teardown: what a replay of all movements makes of (line, place).
        self.balances: dict[str, dict[tuple[str, str], int]] = {}
        #: By teardown: tick, device and time of the entry that is the last in order.
        self.last_at: dict[str, tuple[int, str, str]] = {}
        self._together: dict[str, list[tuple[int, str, tuple[Move, ...]]]] = {}
        self._by_the_rules: set[str] = set()
        self._clock: dict[tuple[str, str], tuple[datetime, str]] = {}
        self._arrival = NOTHING_BEFORE
        self._last_id = 0
        self._shared = {teardown for (teardown,) in conn.execute(_SHARED)}
        self._by_hash: dict[str, tuple[str, str, int, int]] = {}
        self._seen_so_far: dict[tuple[str, str], dict[str, int]] = {}
        for values in conn.execute(_EVENTS):
            self._step(Row(*values))
        self._replay_together(conn)

    def _fault(self, row: Row, what: str) -> None:
        self.faults.append(Finding(row.where, what))

    def _step(self, row: Row) -> None:
        self.entries += 1
        wrong = [name for (name, kind), value in zip(_COLUMNS, row, strict=True) if type(value) is not kind]
        if wrong:
            self._fault(row, f"{', '.join(wrong)} holds another kind of value than belongs there")
            return
        self._check_arrival(row)
        chain = row.teardown, row.device
        before = self.heads.get(chain, _BEFORE)
        self._check_link(row, before)
        self._check_hash(row)
        self._check_seen(row, before[1])
        self._check_body(row)
        self._check_clock(row)
        # What the row itself says goes on as the chain's state, so that one change is named once.
        self.heads[chain] = row.seq, row.tick, row.hash
        self.last_at[row.teardown] = max(
            self.last_at.get(row.teardown, (0, "", "")), (row.tick, row.device, row.at), key=itemgetter(0, 1)
        )
        if row.teardown in self._shared:
            self._by_hash[row.hash] = row.teardown, row.device, row.seq, row.tick

    def _check_arrival(self, row: Row) -> None:
        if row.id != self._last_id + 1:
            self._fault(row, f"it is number {row.id} in this file, where number {self._last_id + 1} is due")
        if row.arrival != arrival_after(self._arrival, row.hash):
            self._fault(row, "it did not arrive in this file after the entry that stands before it")
        self._last_id, self._arrival = row.id, row.arrival

    def _check_link(self, row: Row, before: tuple[int, int, str]) -> None:
        seq, _, entry_hash = before
        if row.seq != seq + 1:
            self._fault(row, f"entry {seq + 1} of its chain is due here; one is gone, was added or changed places")
        if row.prev != entry_hash:
            self._fault(row, "it does not link to the entry before it in its chain")

    def _check_hash(self, row: Row) -> None:
        try:
            right = envelope_hash(Envelope(*row[1:11])) == row.hash
        except NotCanonical as fault:
            self._fault(row, f"it cannot be hashed: {fault}")
            return
        if not right:
            self._fault(row, "its content is not what its hash was made from; it was changed")

    def _check_seen(self, row: Row, own_tick: int) -> None:
        seen = self._plain(row, "seen", row.seen)
        if seen is None:
            return
        so_far = self._seen_so_far.setdefault((row.teardown, row.device), {})
        ticks = [own_tick]
        for device, entry_hash in seen.items():
            known = self._by_hash.get(entry_hash) if isinstance(entry_hash, str) else None
            if known is None or known[:2] != (row.teardown, device) or device == row.device:
                self._fault(row, f"it had seen an entry of device {device} that is not in this file before it")
                continue
            if known[2] < so_far.get(device, 0):
                self._fault(row, f"it had seen less of device {device} than the entry before it")
            so_far[device] = known[2]
            ticks.append(known[3])
        self._check_tick(row, seen, so_far, max(ticks) + 1)

    def _check_tick(self, row: Row, seen: dict[str, Any], so_far: dict[str, int], due: int) -> None:
        if missing := so_far.keys() - seen.keys():
            self._fault(row, f"it no longer names device {', '.join(sorted(missing))}, seen before")
        if row.tick != due:
            self._fault(row, f"its tick is {row.tick}, where {due} is due")

    def _plain(self, row: Row, name: str, text: str) -> dict[str, Any] | None:
        try:
            plain = json.loads(text)
            if isinstance(plain, dict) and canonical(plain) == text:
                return plain
            self._fault(row, f"its {name} is not canonical JSON")
        except (ValueError, RecursionError) as fault:
            self._fault(row, f"its {name} cannot be read: {fault}")
        return None

    def _check_body(self, row: Row) -> None:
        plain = self._plain(row, "body", row.body)
        if plain is None:
            return
        try:
            fact = fact_from_plain(row.kind, plain)
        except (UnreadableFact, ArithmeticError) as fault:
            self._fault(row, str(fault))
            return
        if unbound := not_bound(fact, row.prev):
            self._fault(row, unbound)
        self._check_moves(row, fact)

    def _check_moves(self, row: Row, fact: Fact) -> None:
        moves = moves_of(fact)
        for move in moves:
            named = all(isinstance(text, str) for text in (move.line, move.source, move.target))
            if not named or type(move.quantity) is not int or move.quantity < 1:
                self._fault(row, f"a movement that cannot be: {list(move)}")
                return
            for place in (move.source, move.target):
                if not is_well_formed(place):
                    self._fault(row, f"there is no such place as {place!r}")
        if row.teardown in self._shared:
            self._together.setdefault(row.teardown, []).append((row.tick, row.device, moves))
            if by_the_rules(fact):
                self._by_the_rules.add(row.teardown)
            return
        balances = self.balances.setdefault(row.teardown, {})
        for line, quantity, source, _ in post(balances, moves):
            left = balances.get((line, source), 0) - quantity
            self._fault(row, f"it takes {line} at {source} below zero: {left}")

    def _replay_together(self, conn: sqlite3.Connection) -> None:
        """Teardowns of several devices are replayed in the order that is the same on every phone."""
        for teardown, acts in self._together.items():
            in_order = sorted(acts, key=itemgetter(0, 1))
            self.balances[teardown] = replayed(moves for _, _, moves in in_order)
            if teardown in self._by_the_rules:
                with suppress(Exception):  # where the rules cannot follow, the closures' proof says so
                    self.balances[teardown] = folded(conn, teardown)

    def _check_clock(self, row: Row) -> None:
        chain = row.teardown, row.device
        try:
            now = datetime.fromisoformat(row.at)
            before, said = self._clock.get(chain, (now, row.at))
            if now < before:
                self.remarks.append(Finding(row.where, f"the clock ran back: {row.at} after {said}"))
        except (ValueError, TypeError):
            self._fault(row, f"its time cannot be read or has no offset: {row.at}")
            return
        self._clock[chain] = now, row.at
