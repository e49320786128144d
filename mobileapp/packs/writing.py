"""Writing packs and backups: aside, synchronised, renamed, so that one is there whole or not at all.

The same journal and photos give the same bytes: fixed dates, fixed order, nothing of the day or the machine.
"""

from __future__ import annotations

import contextlib
import os
import time
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from glob import escape
from hashlib import sha256
from pathlib import Path
from typing import IO, NamedTuple

from mobileapp.journal import Journal
from mobileapp.journal.rows import EntryRow
from mobileapp.packs.errors import AlreadyThere, NothingToPack, PhotoLost, say, unwritable
from mobileapp.packs.form import (
    EVERYTHING,
    JOURNAL,
    MANIFEST,
    PHOTOS,
    TEARDOWN,
    Held,
    Manifest,
    Member,
    heads_of,
    line_of,
    manifest_text,
    photos_named,
)
from mobileapp.packs.store_port import Photos, is_kept
from mobileapp.photos.safe_file import clear_abandoned, name_aside, sync_folder

_CHUNK = 1 << 20
#: The earliest date a zip can say; it stands for none.
_NO_DATE = (1980, 1, 1, 0, 0, 0)


class Packed(NamedTuple):
    """A pack that was written. `lacking` are photos that entries name and the store has lost."""

    path: Path
    size: int
    teardowns: int
    entries: int
    photos: int
    lacking: tuple[str, ...]


def write_pack(
    journal: Journal, store: Photos, teardown: str, target: Path | str, *, without_lost: bool = False,
    replace: bool = False,
) -> Packed:  # fmt: skip
    """Put one teardown with its photos into a pack. Raises a PackError, and then nothing was written.

    A photo that an entry names and that is lost refuses the pack; `without_lost` packs without it and says so in it.
    """
    target = Path(target)
    rows = journal.rows(teardown)
    if not rows:
        raise say(NothingToPack, target.name, f"there is no teardown {teardown!r} in this journal")
    named = {sha for _, sha, _ in photos_named(rows)}
    return _write(target, TEARDOWN, {teardown: rows}, named, store, without_lost, replace)


def write_backup(journal: Journal, store: Photos, target: Path | str, *, replace: bool = False) -> Packed:
    """Put every teardown and every photo into one file. A photo that is lost does not stop it; the file says so."""
    target = Path(target)
    rows = {card.teardown: journal.rows(card.teardown) for card in journal.teardowns()}
    named = {sha for one in rows.values() for _, sha, _ in photos_named(one)}
    shas = named | {photo.sha for photo in store.photos()}
    return _write(target, EVERYTHING, dict(sorted(rows.items())), shas, store, True, replace)


def _write(
    target: Path,
    holds: str,
    rows: Mapping[str, Sequence[EntryRow]],
    shas: Iterable[str],
    store: Photos,
    without_lost: bool,
    replace: bool,
) -> Packed:
    if target.exists() and not replace:
        raise say(AlreadyThere, target.name)
    photos, lost = _sort_out(shas, store)
    if lost and not without_lost:
        raise say(PhotoLost, target.name, f"the photo {lost[0][:12]} is not in the store, or was altered")
    text = "".join(f"{line_of(row)}\n" for one in rows.values() for row in one).encode()
    held = tuple(Held(teardown, len(one), heads_of(one)) for teardown, one in rows.items())
    members = [Member(JOURNAL, sha256(text).hexdigest(), len(text))]
    members += [Member(PHOTOS + sha, sha, path.stat().st_size) for sha, path in photos]
    manifest = manifest_text(Manifest(holds, held, tuple(members), tuple(lost))).encode()
    try:
        size = _write_aside(target, manifest, text, photos)
    except OSError as fault:
        raise unwritable(fault, target.name) from fault
    return Packed(target, size, len(rows), sum(map(len, rows.values())), len(photos), tuple(lost))


def _sort_out(shas: Iterable[str], store: Photos) -> tuple[list[tuple[str, Path]], list[str]]:
    """The photos that are there as they were kept, and the hashes of those that are not."""
    there, lost = [], []
    for sha in sorted(shas):
        if is_kept(store, sha):
            there.append((sha, store.path(sha)))
        else:
            lost.append(sha)
    return there, lost


def _write_aside(target: Path, manifest: bytes, text: bytes, photos: Sequence[tuple[str, Path]]) -> int:
    clear_abandoned([target.parent], time.time(), escape(target.name))  # a killed try may have left much
    aside = name_aside(target)
    try:
        with aside.open("xb") as file:
            _write_zip(file, manifest, text, photos)
            file.flush()
            os.fsync(file.fileno())
            size = file.tell()
        os.replace(aside, target)
        sync_folder(target.parent)
    except BaseException:
        with contextlib.suppress(OSError):
            aside.unlink()
        raise
    return size


def _write_zip(file: IO[bytes], manifest: bytes, text: bytes, photos: Sequence[tuple[str, Path]]) -> None:
    pack = zipfile.ZipFile(file, "w")
    try:
        pack.writestr(_info(MANIFEST, zipfile.ZIP_DEFLATED), manifest)
        pack.writestr(_info(JOURNAL, zipfile.ZIP_DEFLATED), text)
        for sha, path in photos:
            # Photos are compressed already; stored, they can be copied out by the simplest tool.
            with path.open("rb") as source, pack.open(_info(PHOTOS + sha, zipfile.ZIP_STORED), "w") as member:
                while chunk := source.read(_CHUNK):
                    member.write(chunk)
        pack.close()
    except BaseException:
        pack.fp = None  # what is half written is thrown away: do not try to end it properly
        raise
    file.seek(0, os.SEEK_END)


def _info(name: str, compression: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, _NO_DATE)
    info.create_system, info.external_attr, info.compress_type = 3, 0o100644 << 16, compression
    return info
