"""Does this closing sheet belong to this journal? It is made again from the journal, and every difference is named.

Made again by the same versions of the libraries, the bytes must be the same. Made by others, words and photos must be.
"""

from __future__ import annotations

import io
import sqlite3
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from pathlib import Path
from typing import NamedTuple

from checklists.account.parts import Account
from checklists.closing_account import make_account
from checklists.fact_codec import UnreadableFact
from checklists.facts import Entry
from mobileapp.journal.errors import Damaged, ours, say
from mobileapp.journal.opening import read_only
from mobileapp.journal.reading import read_entries, read_rows
from mobileapp.journal.rows import Finding
from mobileapp.paper.closing_sheet import account_hash, closing_sheet, made_with, shas_of
from mobileapp.paper.measures import SIZES
from mobileapp.paper.pictures import NotShown, Photos, Pictured, prepare_all
from mobileapp.paper.sheet_reading import NotASheet, PageRead, SheetRead, read_sheet_file

_MOST = 12
#: Two libraries may round the same photo otherwise: by so much of 255 levels on average.
_ALIKE = 4.0


class SheetProof(NamedTuple):
    """What proving a sheet found. Without faults the sheet belongs to the journal's head; `words` say how surely."""

    faults: list[Finding]
    remarks: list[Finding]
    words: str


class _Journal(NamedTuple):
    entries: list[Entry]
    hashes: list[str]


def prove_sheet(pdf: bytes, journal_path: Path, photos: Photos) -> SheetProof:
    """Hold a sheet against a journal, which is only read. Raises a JournalError where that cannot be read."""
    try:
        sheet = read_sheet_file(pdf)
    except NotASheet as fault:
        return _failed("the sheet", str(fault))
    journal = _read(journal_path, sheet.teardown)
    if not journal.entries:
        return _failed("the sheet", f"It is of a teardown {sheet.teardown} that is not in this journal.")
    known = {(entry.device, entry_hash): entry for entry, entry_hash in zip(*journal, strict=True)}
    heads = [(device, head) for device, head in sheet.heads.items()]
    strange = [head for device, head in heads if (device, head) not in known]
    if strange or not heads:
        named = ", ".join(f"{head[:16]}…" for head in strange) or "none"
        what = f"The sheet's head ({named}) is not in this journal: another journal, or an altered one."
        return _failed("head", what)
    upto = {device: known[device, head].seq for device, head in heads}
    told = [entry for entry in journal.entries if entry.seq <= upto.get(entry.device, 0)]
    newer = len(journal.entries) - len(told)
    faults = [_outlived(len(told), newer)] if newer else []
    account = make_account(sheet.teardown, told, sheet.heads)
    return _compare(pdf, sheet, account, photos, faults)


def _failed(where: str, what: str) -> SheetProof:
    return SheetProof([Finding(where, what)], [], "It does not belong to this journal.")


def _read(path: Path, teardown: str) -> _Journal:
    try:
        conn = read_only(path)
        try:
            return _Journal(read_entries(conn, teardown), [row.hash for row in read_rows(conn, teardown)])
        finally:
            conn.close()
    except sqlite3.Error as fault:
        raise ours(fault, path) from fault
    except (ValueError, UnreadableFact) as fault:
        raise say(Damaged, path, f"an entry of teardown {teardown} cannot be read: {fault}") from fault


def _outlived(told: int, newer: int) -> Finding:
    return Finding("head", f"The sheet is of entry {told}; the journal has {newer} newer entries. Print a new sheet.")


def _compare(pdf: bytes, sheet: SheetRead, account: Account, photos: Photos, faults: list[Finding]) -> SheetProof:
    pictures = prepare_all(photos, shas_of(account))
    again = closing_sheet(account, pictures, sheet.paper if sheet.paper in SIZES else "A4")
    remarks = [*_unshown(account, pictures)]
    if pdf == again:
        return _verdict(faults, remarks, "to the byte")
    differences = list(_differences(sheet, read_sheet_file(again), account))
    if pdf.startswith(again):
        differences.append(Finding("the file", f"{len(pdf) - len(again)} bytes were added behind its end."))
    if differences:
        return _verdict(faults + differences, remarks, "")
    if sheet.made_with == made_with():
        what = "Its words and photos are right, but lines, letter shapes or the file itself were changed."
        return _verdict([*faults, Finding("the file", what)], remarks, "")
    what = f"Made with {sheet.made_with}; here are {made_with()}. Bytes cannot be compared, so words and photos were."
    return _verdict(faults, [*remarks, Finding("the file", what)], "in every word and photo")


def _verdict(faults: list[Finding], remarks: list[Finding], how: str) -> SheetProof:
    if faults and how:
        return SheetProof(faults, remarks, f"It is a true sheet of an earlier head ({how}), not of the newest.")
    if faults:
        return SheetProof(faults, remarks, "It is not the sheet that this journal makes.")
    return SheetProof(faults, remarks, f"It belongs to this journal's head, {how}.")


def _unshown(account: Account, pictures: dict[str, Pictured]) -> Iterator[Finding]:
    for picture in account.pictures():
        if isinstance(why := pictures.get(picture.sha), NotShown):
            yield Finding(f"photo {picture.number}, {picture.sha[:12]}", why.words)


# --- differences


def _differences(sheet: SheetRead, again: SheetRead, account: Account) -> Iterator[Finding]:
    if sheet.state != account.state:
        yield Finding("state", f"The sheet's own information says {sheet.state}, the journal {account.state}.")
    if sheet.account != account_hash(account):
        yield Finding("account", "The hash of what the sheet tells is not that of what the journal tells.")
    if sheet.date != again.date:
        yield Finding("date", f"The sheet is dated {sheet.date}, the journal's entry {again.date}.")
    if len(sheet.pages) != len(again.pages):
        yield Finding("pages", f"The sheet has {len(sheet.pages)} pages, the journal makes {len(again.pages)}.")
    found = [one for number, (theirs, ours_) in enumerate(zip(sheet.pages, again.pages, strict=False), 1)
             for one in _page_differences(number, theirs, ours_)]  # fmt: skip
    yield from found[:_MOST]
    if len(found) > _MOST:
        yield Finding("pages", f"and {len(found) - _MOST} more differences.")


def _page_differences(number: int, theirs: PageRead, again: PageRead) -> Iterator[Finding]:
    where = f"page {number}"
    for tag, a1, a2, b1, b2 in SequenceMatcher(None, theirs.texts, again.texts, autojunk=False).get_opcodes():
        if tag != "equal":
            yield Finding(where, _said(theirs.texts[a1:a2], again.texts[b1:b2]))
    if len(theirs.photos) != len(again.photos):
        yield Finding(where, f"It shows {len(theirs.photos)} photos, the journal {len(again.photos)}.")
    elif not all(_alike(one, other) for one, other in zip(theirs.photos, again.photos, strict=True)):
        yield Finding(where, "A photo on it is another one.")


def _said(theirs: Iterable[str], again: Iterable[str]) -> str:
    reads, tells = " / ".join(theirs), " / ".join(again)
    if not reads:
        return f"It leaves out “{tells}”."
    return f"It reads “{reads}”, where the journal tells “{tells}”." if tells else f"“{reads}” is not in the journal."


def _alike(one: bytes, other: bytes) -> bool:
    """Whether two JPEGs show the same, though not byte by byte."""
    if one == other:
        return True
    from PIL import Image, ImageChops, ImageStat

    try:
        with Image.open(io.BytesIO(one)) as first, Image.open(io.BytesIO(other)) as second:
            if first.size != second.size or first.mode != second.mode:
                return False
            return max(ImageStat.Stat(ImageChops.difference(first, second)).mean) <= _ALIKE
    except Exception:  # a damaged picture makes Pillow's readers raise nearly anything
        return False
