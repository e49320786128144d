"""Taking a pack in: verified whole before anything is written, then photos first and the entries in one transaction.

The photos are copied to a folder of their own beside the store while they are verified. Only when the journal can
accept every entry, and every photo is what its name says, are they put in their place; then the entries are committed.
A process that dies in between leaves photos that nothing names yet, which the app offers, or all of it.
"""

from __future__ import annotations

import os
import time
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from mobileapp.evidence import known_photos
from mobileapp.journal import Journal
from mobileapp.journal.chain_check import Refused, check_contents, new_rows
from mobileapp.journal.errors import Forked, NotAccepted
from mobileapp.packs.bringing_back import Due, due_from, put_back, put_receipts
from mobileapp.packs.copying import Aside, Staged, clear_leftovers, verify
from mobileapp.packs.errors import PackContradicts, PackRefused, say, unwritable
from mobileapp.packs.form import PHOTOS, Manifest
from mobileapp.packs.left_lying import awaited_beside
from mobileapp.packs.reading import Pack, open_pack
from mobileapp.packs.store_port import Photos, is_kept
from mobileapp.photos.safe_file import ABANDONED, sync_folder


class News(NamedTuple):
    """What a pack brought for one teardown; `was_known`: it was here already, and may have been merged."""

    teardown: str
    new_entries: int
    was_known: bool


class Unpacked(NamedTuple):
    """What a pack brought; `awaited` of the new photos belong to nothing yet and wait where the camera left them."""

    holds: str
    teardowns: tuple[News, ...]
    new_photos: int
    lacking: tuple[str, ...]
    awaited: int = 0

    @property
    def new_entries(self) -> int:
        """How many entries were new, in all."""
        return sum(news.new_entries for news in self.teardowns)


class Contents(NamedTuple):
    """What a pack holds, verified to the last photo, without taking it in."""

    manifest: Manifest
    photos: int
    photo_bytes: int
    awaited: int = 0


def check_pack(path: Path | str) -> Contents:
    """What a pack holds, every byte and every chain of it verified and nothing written. Raises a CannotRead."""
    with open_pack(path) as pack:
        try:
            for teardown, rows in pack.rows.items():
                check_contents(teardown, rows)
                new_rows((), rows)
        except Refused as fault:
            raise say(PackRefused, pack.path.name, str(fault)) from fault
        files = (*pack.photos, *pack.awaited)
        verify(pack, files)
        return Contents(pack.manifest, len(files), sum(member.size for member in files), len(pack.awaited))


def unpack(path: Path | str, journal: Journal, store: Photos) -> Unpacked:
    """Take in a pack or a backup: what is new comes in, what is known changes nothing, two phones' work is merged.

    Raises a PackError or a JournalError; then nothing was taken in.
    """
    with open_pack(path) as pack:
        clear_leftovers(store.folder.parent, time.time() - ABANDONED)  # another program may be taking one in
        known = {card.teardown for card in journal.teardowns()}
        due = due_from(pack, awaited_beside(journal), known_photos(journal))
        wanted = [member for member in pack.photos if not is_kept(store, member.sha256)]
        wanted += [one.photo for one in due if one.photo]
        verify(pack, {*pack.photos, *pack.awaited} - set(wanted))
        with Aside(pack, store, wanted) as aside:
            counts = _commit(pack, journal, store, aside, due)
        news = tuple(News(teardown, count, teardown in known) for teardown, count in counts.items())
        awaited = sum(one.photo is not None for one in due)
        return Unpacked(pack.manifest.holds, news, len(wanted), pack.manifest.lacking, awaited)


# --- photos first, then the entries


def _commit(pack: Pack, journal: Journal, store: Photos, aside: Aside, due: list[Due]) -> dict[str, int]:
    placed: list[Path] = []

    def place() -> None:
        staged = aside.photos()
        new = _place(store, [one for one in staged if one.member.name.startswith(PHOTOS)], placed)
        put_receipts(pack, new, store, placed)
        put_back(due, {one.member.name: one.path for one in staged}, awaited_beside(journal), placed)

    try:
        return journal.receive_all(pack.rows, place)
    except BaseException as fault:
        # Nothing was committed, so nothing names these photos: leave the store as it was.
        for path in placed:
            with suppress(OSError):
                path.unlink()
        if isinstance(fault, Forked):
            raise say(PackContradicts, pack.path.name, _detail(fault)) from fault
        if isinstance(fault, NotAccepted):
            raise say(PackRefused, pack.path.name, _detail(fault)) from fault
        if isinstance(fault, OSError):
            raise unwritable(fault, pack.path.name) from fault
        raise


def _place(store: Photos, staged: list[Staged], placed: list[Path]) -> list[Path]:
    """Put photos into the store; which are new there, where one altered was not in their place."""
    if not staged:
        return []
    new = []
    if not store.folder.is_dir():
        store.folder.mkdir(parents=True)
        sync_folder(store.folder.parent)
    for photo in staged:
        sha = photo.member.sha256
        target = store.folder / f"{sha}{photo.ending}"
        if not store.has(sha):
            new.append(target)
            placed.append(target)
        os.replace(photo.path, target)
    sync_folder(store.folder)
    return new


def _detail(fault: NotAccepted) -> str:
    """What and where, out of the journal's own sentence."""
    text = str(fault)
    return text[text.index("(") + 1 : text.rindex(")")]
