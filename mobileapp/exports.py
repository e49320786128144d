"""Tally and log of a teardown for a spreadsheet: CSV that any of them opens, and JSON for programs.

CSV is UTF-8 with a byte order mark (without it some spreadsheets read names as another alphabet), lines end as
RFC 4180 says, times carry their offset, and a cell that a spreadsheet would take for a formula is marked as text by an
apostrophe. JSON holds the same and is not marked.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from checklists import places
from checklists.facts import Entry, Move, moves_of
from checklists.naming import slug
from checklists.state import Teardown
from checklists.state import tally as figures_of
from checklists.story_words import say
from checklists.teardown import fold
from mobileapp.journal import Journal
from mobileapp.photos.safe_file import write_safely
from mobileapp.record_files import leave_the_record

KINDS = ("csv", "json")


class TallyRow(NamedTuple):
    """So many of a line at one place, and who moved some of it there or away last."""

    teardown: str
    line: str
    name: str
    kind: str
    quantity: int
    place: str
    where: str
    since: str
    who: str


class LogRow(NamedTuple):
    """One movement of an entry, or the entry itself where it moves nothing."""

    teardown: str
    number: int
    at: str
    who: str
    device: str
    seq: int
    kind: str
    what: str
    line: str
    name: str
    quantity: int | None
    source: str
    target: str
    hash: str


def tally_rows(teardown: str, state: Teardown) -> list[TallyRow]:
    """Where everything is, in the order of the sheet's lines."""
    rows = []
    for line in state.lines.values():
        for place, quantity in sorted(state.places_of(line.id).items()):
            if place == places.CONVERTED:
                continue
            mark = state.moved.get((line.id, place))
            since, who = (mark.at, mark.who) if mark else ("", "")
            where = state.say_place(place)
            rows.append(TallyRow(teardown, line.id, line.name, line.kind, quantity, place, where, since, who))
    return rows


def log_rows(teardown: str, state: Teardown, hashes: Sequence[str]) -> list[LogRow]:
    """What happened, in the order that is the same on every phone; `hashes` are those of the entries in that order."""
    return [
        LogRow(
            teardown, number, entry.at, entry.who, entry.device, entry.seq, entry.fact.kind, _what(state, entry),
            *_moved(state, move), own
        )
        for number, (entry, own) in enumerate(zip(state.history, hashes, strict=True), 1)
        for move in moves_of(entry.fact) or (None,)
    ]  # fmt: skip


def _what(state: Teardown, entry: Entry) -> str:
    return say(state, [entry.fact])


def _moved(state: Teardown, move: Move | None) -> tuple[str, str, int | None, str, str]:
    if move is None:
        return "", "", None, "", ""
    return move.line, state.lines[move.line].name, move.quantity, move.source, move.target


# --- writing them


#: A cell that begins so is run as a formula, or may be once its white space is taken off.
_FORMULA = re.compile(r"[\s\0]*[=+\-@＝＋－＠]|[\t\r\n\0]")
#: What no spreadsheet can hold.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def to_csv(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """Rows as CSV for a spreadsheet."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(columns)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue().encode("utf-8-sig", errors="replace")


def _cell(value: object) -> object:
    if not isinstance(value, str):
        return "" if value is None else value
    text = _CONTROL.sub("\N{REPLACEMENT CHARACTER}", value)
    return f"'{text}" if _FORMULA.match(value) else text


def to_json(teardown: str, state: Teardown, tally: Sequence[TallyRow], log: Sequence[LogRow]) -> bytes:
    """Tally and log as JSON."""
    plain = {
        "teardown": teardown,
        "machine": state.machine,
        "sheet": state.sheet.name,
        "started": state.started.at,
        "state": state.ended or "open",
        "figures": figures_of(state)._asdict(),
        "tally": [row._asdict() for row in tally],
        "log": [row._asdict() for row in log],
    }
    text = json.dumps(plain, ensure_ascii=False, indent=1) + "\n"
    return text.encode("utf-8", errors="replace")


def export(
    journal: Journal, teardown: str, folder: Path, kinds: Iterable[str] = KINDS, *, replace: bool = True
) -> list[Path]:
    """Write the tally and the log of a teardown into a folder; which files. Raises JournalError or OSError.

    Where a file is there that is not to be replaced none is written, and FileExistsError names it.
    """
    state = fold(journal.entries(teardown))
    tally = tally_rows(teardown, state)
    log = log_rows(teardown, state, [row.hash for row in journal.rows(teardown)])
    name = slug(teardown, "teardown")
    files: dict[Path, bytes] = {}
    if "csv" in kinds:
        files[folder / f"{name}-tally.csv"] = to_csv(TallyRow._fields, tally)
        files[folder / f"{name}-log.csv"] = to_csv(LogRow._fields, log)
    if "json" in kinds:
        files[folder / f"{name}.json"] = to_json(teardown, state, tally, log)
    for path in files:
        leave_the_record(path, journal.path)
    if not replace and (there := [path for path in files if path.exists()]):
        raise FileExistsError(f"{there[0]} is there already")
    folder.mkdir(parents=True, exist_ok=True)
    for path, data in files.items():
        write_safely(path, data)
    return list(files)
