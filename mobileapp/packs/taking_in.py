"""Taking a pack in: verified whole before anything is written, then photos first and the entries in one transaction.

The photos are copied to a folder of their own beside the store while they are verified. Only when every one of them is
what its name says, and the journal can accept every entry, are they put in their place; then the entries are committed.
A process that dies in between leaves photos that nothing names yet, which the app offers, or all of it.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from mobileapp.journal import Journal
from mobileapp.journal.chain_check import Refused, check_contents, new_rows
from mobileapp.journal.errors import Forked, NotAccepted
from mobileapp.packs.errors import PackContradicts, PackRefused, PackTooLarge, say, unwritable
from mobileapp.packs.form import Manifest, Member
from mobileapp.packs.reading import Pack, damaged, open_pack
from mobileapp.packs.store_port import Photos
from mobileapp.packs.zip_check import ZIP_FAULTS, shown
from mobileapp.photos.kinds import ENDINGS, media_of
from mobileapp.photos.safe_file import sync_folder

_CHUNK = 1 << 20
_ASIDE = ".incoming-"
#: Left free on the storage, for the journal's own file to grow.
_SPARE = 16_000_000


class News(NamedTuple):
    """What a pack brought for one teardown; `was_known`: it was here already, and may have been merged."""

    teardown: str
    new_entries: int
    was_known: bool


class Unpacked(NamedTuple):
    """What a pack brought."""

    holds: str
    teardowns: tuple[News, ...]
    new_photos: int
    lacking: tuple[str, ...]

    @property
    def new_entries(self) -> int:
        """How many entries were new, in all."""
        return sum(news.new_entries for news in self.teardowns)


class Contents(NamedTuple):
    """What a pack holds, verified to the last photo, without taking it in."""

    manifest: Manifest
    photos: int
    photo_bytes: int


def check_pack(path: Path | str) -> Contents:
    """What a pack holds, every byte and every chain of it verified and nothing written. Raises a CannotRead."""
    with open_pack(path) as pack:
        try:
            for teardown, rows in pack.rows.items():
                check_contents(teardown, rows)
                new_rows((), rows)
        except Refused as fault:
            raise say(PackRefused, pack.path.name, str(fault)) from fault
        _verify(pack, pack.photos)
        return Contents(pack.manifest, len(pack.photos), sum(member.size for member in pack.photos))


def unpack(path: Path | str, journal: Journal, store: Photos) -> Unpacked:
    """Take in a pack or a backup: what is new comes in, what is known changes nothing, two phones' work is merged.

    Raises a PackError or a JournalError; then nothing was taken in.
    """
    with open_pack(path) as pack:
        clear_leftovers(store)
        known = {card.teardown for card in journal.teardowns()}
        wanted = [member for member in pack.photos if not _is_kept(store, member.sha256)]
        _verify(pack, set(pack.photos) - set(wanted))
        with _aside(pack, store, wanted) as staged:
            counts = _commit(pack, journal, store, staged)
        news = tuple(News(teardown, count, teardown in known) for teardown, count in counts.items())
        return Unpacked(pack.manifest.holds, news, len(wanted), pack.manifest.lacking)


def clear_leftovers(store: Photos) -> int:
    """Throw away copies that an interrupted taking-in left aside; how many folders. They were never taken in."""
    left = [folder for folder in store.folder.parent.glob(f"{_ASIDE}*") if folder.is_dir()]
    for folder in left:
        shutil.rmtree(folder, ignore_errors=True)
    return len(left)


def _is_kept(store: Photos, sha: str) -> bool:
    """Whether the store has the photo as it was kept; one that was altered since is put right from the pack."""
    if not store.has(sha):
        return False
    digest = sha256()
    try:
        with store.path(sha).open("rb") as file:
            while chunk := file.read(_CHUNK):
                digest.update(chunk)
    except OSError:
        return False
    return digest.hexdigest() == sha


# --- the photos


def _verify(pack: Pack, members: Iterable[Member]) -> None:
    for member in members:
        for _ in _verified(pack, member):
            pass


def _verified(pack: Pack, member: Member) -> Iterator[bytes]:
    """The bytes of a photo in pieces; raises PackDamaged at the end where they are not what they should be."""
    digest, size, head = sha256(), 0, b""
    try:
        with pack.zip.open(pack.infos[member.name]) as source:
            while chunk := source.read(_CHUNK):
                head = head or chunk[:16]
                digest.update(chunk)
                size += len(chunk)
                yield chunk
    except ZIP_FAULTS as fault:
        raise damaged(pack.path, f"the member {shown(member.name)} cannot be unpacked: {fault}") from fault
    if digest.hexdigest() != member.sha256 or size != member.size:
        raise damaged(pack.path, f"the photo {member.sha256[:12]} is not what its name says: its hash is another one")
    if not media_of(head):
        raise damaged(pack.path, f"the photo {member.sha256[:12]} is no picture of a kind that is kept")


class _Staged(NamedTuple):
    """A photo that waits aside, and its place in the store."""

    sha: str
    path: Path
    ending: str


@contextmanager
def _aside(pack: Pack, store: Photos, wanted: list[Member]) -> Iterator[list[_Staged]]:
    """The wanted photos copied aside, verified and durable; what was not put in its place goes afterwards."""
    _check_room(pack, store, sum(member.size for member in wanted))
    folder = store.folder.parent / f"{_ASIDE}{os.urandom(4).hex()}"
    try:
        if wanted:
            folder.mkdir(parents=True)
        yield [_copy(pack, member, folder) for member in wanted]
    except OSError as fault:
        raise unwritable(fault, pack.path.name) from fault
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _check_room(pack: Pack, store: Photos, size: int) -> None:
    with suppress(OSError):
        free = shutil.disk_usage(store.folder.parent).free
        if size + _SPARE > free:
            need = f"its photos need {size // 1_000_000} MB, and {free // 1_000_000} MB are free"
            raise say(PackTooLarge, pack.path.name, need)


def _copy(pack: Pack, member: Member, folder: Path) -> _Staged:
    path = folder / member.sha256
    head = b""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o444)
    try:
        for chunk in _verified(pack, member):
            head = head or chunk[:16]
            rest = memoryview(chunk)
            while rest:
                rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    finally:
        os.close(handle)
    return _Staged(member.sha256, path, ENDINGS[media_of(head)])


# --- photos first, then the entries


def _commit(pack: Pack, journal: Journal, store: Photos, staged: list[_Staged]) -> dict[str, int]:
    placed: list[Path] = []
    try:
        return journal.receive_all(pack.rows, lambda: _place(store, staged, placed))
    except BaseException as fault:
        # Nothing was committed, so nothing names these photos: leave the store as it was.
        for path in placed:
            with suppress(OSError):
                path.unlink()
        if isinstance(fault, Forked):
            raise say(PackContradicts, pack.path.name, _detail(fault)) from fault
        if isinstance(fault, NotAccepted):
            raise say(PackRefused, pack.path.name, _detail(fault)) from fault
        raise


def _place(store: Photos, staged: list[_Staged], placed: list[Path]) -> None:
    if not staged:
        return
    if not store.folder.is_dir():
        store.folder.mkdir(parents=True)
        sync_folder(store.folder.parent)
    for photo in staged:
        target = store.folder / f"{photo.sha}{photo.ending}"
        if not store.has(photo.sha):
            placed.append(target)
        os.replace(photo.path, target)
    sync_folder(store.folder)


def _detail(fault: NotAccepted) -> str:
    """What and where, out of the journal's own sentence."""
    text = str(fault)
    return text[text.index("(") + 1 : text.rindex(")")]
