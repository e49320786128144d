"""What the account rests on: the phones and their entries, their clocks, and how it is proven."""

from __future__ import annotations

from itertools import pairwise

from checklists.account.album import Album
from checklists.account.parts import Section, Table, Words
from checklists.account.walk import Walk
from checklists.account.writing import when
from checklists.facts import Entry
from checklists.times import seconds_between
from checklists.words import listing

_ORDER = "Order is the order of the entries, never the clock's. Each time is that of the phone's clock, with its zone."
_PROVE = (
    "Every entry carries the hash of the one before it, so the head stands for all of them. "
    "“countback prove SHEET.pdf JOURNAL” makes this sheet again from the journal and says whether anything differs."
)


def times_and_proof(walk: Walk, album: Album) -> Section:
    """The phones, their clocks, and how to prove the sheet."""
    history = walk.teardown.history
    phones: dict[str, list[Entry]] = {}
    for entry in history:
        phones.setdefault(entry.device, []).append(entry)
    rows = tuple(
        (phone, str(len(made)), when(made[0].at), when(made[-1].at), str(_ran_back(made)))
        for phone, made in sorted(phones.items())
    )
    heads = ("phone", "entries", "first", "last", "clock ran back")
    zones = sorted({zone_of(entry.at) for entry in history})
    table = Table(heads, (24, 12, 26, 26, 12), rows)
    return Section("Times and proof", (table, Words(f"Zones: {listing(zones)}. {_ORDER}"), Words(_PROVE)))


def zone_of(at: str) -> str:
    """The offset at the end of a time stamp: "+01:00"."""
    return "+00:00" if at.endswith("Z") else at[-6:]


def _ran_back(made: list[Entry]) -> int:
    """How often a phone's entry has an earlier time than the one before it."""
    return sum(_earlier(later.at, sooner.at) for sooner, later in pairwise(made))


def _earlier(later: str, sooner: str) -> bool:
    if later[-6:] == sooner[-6:] and len(later) == len(sooner):
        return later < sooner
    return seconds_between(sooner, later) < 0
