"""Copying a pack's photos aside, each verified as it is copied, a few at a time.

Hashing, writing and waiting for the storage let other threads run, so the photos are copied while the journal looks at
the entries; nothing of them is in its place before both are done.
"""

from __future__ import annotations

import os
import shutil
import struct
import threading
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from hashlib import sha256
from math import inf
from pathlib import Path
from types import TracebackType
from typing import NamedTuple
from zipfile import ZIP_STORED, BadZipFile, ZipInfo

from mobileapp.packs.errors import NoRoom, PackError, say, unwritable
from mobileapp.packs.form import PHOTOS, Member
from mobileapp.packs.reading import Pack, damaged
from mobileapp.packs.store_port import Photos
from mobileapp.packs.zip_check import ZIP_FAULTS, shown
from mobileapp.photos.kinds import ENDINGS, media_of

#: Small enough to stay near the processor from reading over hashing to writing.
_CHUNK = 1 << 17
_ASIDE = ".incoming-"
_LOCAL_HEADER = 30
#: Enough for hashing on two cores while two others wait for the storage.
_THREADS = 4
#: Left free on the storage, for the journal's own file to grow.
_SPARE = 16_000_000


class Staged(NamedTuple):
    """A member that waits aside, and the ending of its kind of picture; empty where it is none."""

    member: Member
    path: Path
    ending: str


class Stopped(Exception):
    """The copying was given up because something else was refused."""


class Aside:
    """A folder beside the store into which wanted photos are copied; what was not taken from it goes at the end."""

    def __init__(self, pack: Pack, store: Photos, wanted: Iterable[Member]) -> None:
        self._pack, self._wanted = pack, tuple(wanted)
        self._folder = store.folder.parent / f"{_ASIDE}{os.urandom(4).hex()}"
        self._workers = ThreadPoolExecutor(max_workers=_THREADS, thread_name_prefix="unpacking")
        self._stopped, self._lock = threading.Event(), threading.Lock()
        self._copies: list[Future[Staged]] = []

    def __enter__(self) -> Aside:
        try:
            if self._wanted:
                _check_room(self._pack, self._folder.parent, sum(member.size for member in self._wanted))
                self._folder.mkdir(parents=True)
            self._copies = [self._workers.submit(self._copy, member) for member in self._wanted]
        except OSError as fault:
            raise unwritable(fault, self._pack.path.name) from fault
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        self._stopped.set()
        self._workers.shutdown(wait=True, cancel_futures=True)
        shutil.rmtree(self._folder, ignore_errors=True)

    def photos(self) -> list[Staged]:
        """All of them, once each is copied, verified and durable. Raises what the first that failed met."""
        try:
            return [copy.result() for copy in self._copies]
        except OSError as fault:
            raise unwritable(fault, self._pack.path.name) from fault

    def _copy(self, member: Member) -> Staged:
        path = self._folder / member.name.replace("/", "-")
        head = b""
        mode = 0o444 if member.name.startswith(PHOTOS) else 0o644  # a kept photo is never written again
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
        try:
            for chunk in verified(self._pack, member, self._lock):
                if self._stopped.is_set():
                    raise Stopped
                head = head or chunk[:16]
                rest = memoryview(chunk)
                while rest:
                    rest = rest[os.write(handle, rest) :]
            os.fsync(handle)
        finally:
            os.close(handle)
        return Staged(member, path, ENDINGS.get(media_of(head), ""))


def clear_leftovers(beside: Path, before: float = inf) -> int:
    """Throw away copies that an interrupted taking-in left aside; how many folders. They were never taken in.

    Only those into which nothing was copied since `before`.
    """
    left = [folder for folder in beside.glob(f"{_ASIDE}*") if folder.is_dir() and folder.stat().st_mtime < before]
    for folder in left:
        shutil.rmtree(folder, ignore_errors=True)
    return len(left)


def verify(pack: Pack, members: Iterable[Member]) -> None:
    """Raise PackDamaged where a photo is not what it should be."""
    for member in members:
        for _ in verified(pack, member, threading.Lock()):
            pass


def verified(pack: Pack, member: Member, lock: threading.Lock) -> Iterator[bytes]:
    """The bytes of a photo in pieces; raises PackDamaged at the end where they are not what they should be.

    `lock` is held while the zip counts its readers; they may read at the same time.
    """
    digest, size, head = sha256(), 0, b""
    info = pack.infos[member.name]
    try:
        for chunk in _stored(pack.path, info) if info.compress_type == ZIP_STORED else _packed(pack, info, lock):
            head = head or chunk[:16]
            digest.update(chunk)
            size += len(chunk)
            yield chunk
    except ZIP_FAULTS as fault:
        raise damaged(pack.path, f"the member {shown(member.name)} cannot be unpacked: {fault}") from fault
    if digest.hexdigest() != member.sha256 or size != member.size:
        raise damaged(pack.path, f"the photo {member.sha256[:12]} is not what its name says: its hash is another one")
    if member.name.startswith(PHOTOS) and not media_of(head):
        raise damaged(pack.path, f"the photo {member.sha256[:12]} is no picture of a kind that is kept")


def _stored(path: Path, info: ZipInfo) -> Iterator[bytes]:
    """The bytes of a member that is stored as it is, straight from the file: SHA-256 says more than the zip's CRC."""
    if info.header_offset < 0:
        raise BadZipFile("it begins before the file")
    with path.open("rb", buffering=0) as file:
        file.seek(info.header_offset)
        header = file.read(_LOCAL_HEADER)
        name_size, extra_size = struct.unpack("<2H", header[26:])
        name = file.read(name_size)
        if header[:4] != b"PK\x03\x04" or name != info.orig_filename.encode():
            raise BadZipFile("its own header is another one than the list of members names")
        file.seek(extra_size, os.SEEK_CUR)
        left = info.file_size
        while left and (chunk := file.read(min(_CHUNK, left))):
            left -= len(chunk)
            yield chunk


def _packed(pack: Pack, info: ZipInfo, lock: threading.Lock) -> Iterator[bytes]:
    """The bytes of a member that another tool has deflated."""
    with lock:
        source = pack.zip.open(info)
    try:
        while chunk := source.read(_CHUNK):
            yield chunk
    finally:
        with lock:
            source.close()


def _check_room(pack: Pack, folder: Path, size: int) -> None:
    with suppress(OSError):
        free = shutil.disk_usage(folder).free
        if size + _SPARE > free:
            raise no_room(pack.path.name, size, free)


def no_room(name: str, size: int, free: int) -> PackError:
    """That there is too little room for a pack's photos, with every figure that decided so."""
    spare = f"{_megabytes(_SPARE)} more are kept free for the journal to grow"
    return say(NoRoom, name, f"its photos need {_megabytes(size)}, {spare}, and {_megabytes(free)} are free")


def _megabytes(size: int) -> str:
    return f"{size / 1_000_000:.1f} MB"
