"""Does this closing sheet belong to this journal? It is made again from the journal, and every difference is named.

Made again by the same versions of program and libraries, the bytes must be the same. Made by others, every piece of
the file must be: what the sheet says about its own versions never spares it anything. Where another version may have
written a photo or a font otherwise, that is a doubt, and the sheet is not proven.
"""

from __future__ import annotations

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
from mobileapp.journal.opening import for_reading
from mobileapp.journal.reading import read_entries, read_rows
from mobileapp.journal.rows import Finding
from mobileapp.paper.closing_sheet import account_hash, closing_sheet, made_with, shas_of
from mobileapp.paper.measures import SIZES
from mobileapp.paper.pdf_objects import NotAPdf
from mobileapp.paper.pictures import NotShown, Photos, Pictured, prepare_all
from mobileapp.paper.sheet_reading import NotASheet, PageRead, SheetRead, read_sheet_file
from mobileapp.paper.sheet_structure import Odd, compare_files

_MOST = 12


class SheetProof(NamedTuple):
    """What proving a sheet found. Only without faults and doubts does it belong to the journal's head.

    A doubt is a piece that may be what the journal makes and cannot be told here.
    """

    faults: list[Finding]
    remarks: list[Finding]
    words: str
    doubts: tuple[Finding, ...] = ()


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
        conn = for_reading(path)
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
    ours_ = read_sheet_file(again)
    differences = list(_differences(sheet, ours_, account))
    odd = _odd_pieces(sheet, ours_, {one.where for one in differences})
    if sheet.made_with == made_with() and sheet.creator == ours_.creator:
        differences += [Finding(one.where, one.what) for one in odd] or (
            [] if differences else [Finding("the file", "All that it shows is right, but the file was packed anew.")]
        )
        return _verdict(faults + differences, remarks, "")
    remarks.append(Finding("the file", f"Made with {_said_versions(sheet)}; here are {_said_versions(ours_)}. {_HOW}"))
    differences += [Finding(one.where, one.what) for one in odd if one.sure]
    doubts = tuple(Finding(one.where, one.what) for one in odd if not one.sure)
    return _verdict(faults + differences, remarks, "" if differences else _BY_PIECES, doubts)


_SAME = "Its words, pages and drawing are what the journal tells"
_BY_PIECES = "in every page, letter and photo"
_HOW = "Bytes may be packed otherwise, so it was compared piece by piece."


def _said_versions(sheet: SheetRead) -> str:
    return f"{sheet.creator or 'nothing named'}, {sheet.made_with or 'nothing named'}"


def _odd_pieces(sheet: SheetRead, again: SheetRead, named: set[str]) -> list[Odd]:
    """What is not the same in the file, but on the pages that are `named` already; not more than anybody reads."""
    try:
        odd = [one for one in compare_files(sheet.file, again.file) if one.where not in named]
    except NotAPdf as fault:
        odd = [Odd("the file", str(fault))]
    odd = list(dict.fromkeys(odd))
    more = len(odd) - _MOST
    if more <= 0:
        return odd
    rest = Odd("the file", f"and {more} more pieces that differ.", any(one.sure for one in odd))
    return [*odd[:_MOST], rest]


def _verdict(faults: list[Finding], remarks: list[Finding], how: str, doubts: tuple[Finding, ...] = ()) -> SheetProof:
    if faults and not how:
        words = "It is not the sheet that this journal makes."
    elif doubts:
        words = f"It is not proven. {_SAME}; the rest cannot be told here."
        if faults:
            words += " And it is of an earlier head, not of the newest."
    elif faults:
        words = f"It is a true sheet of an earlier head ({how}), not of the newest."
    else:
        words = f"It belongs to this journal's head, {how}."
    return SheetProof(faults, remarks, words, doubts)


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


def _said(theirs: Iterable[str], again: Iterable[str]) -> str:
    reads, tells = " / ".join(theirs), " / ".join(again)
    if not reads:
        return f"It leaves out “{tells}”."
    return f"It reads “{reads}”, where the journal tells “{tells}”." if tells else f"“{reads}” is not in the journal."
