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
from mobileapp.packs.errors import (
    AlreadyThere,
    IsAFolder,
    NothingToPack,
    OverTheRecord,
    PhotoLost,
    StillChanging,
    say,
    unwritable,
)
from mobileapp.packs.form import (
    EVERYTHING,
    JOURNAL,
    MANIFEST,
    PHOTOS,
    TEARDOWN,
    UNCLAIMED,
    Held,
    Manifest,
    Member,
    heads_of,
    line_of,
    manifest_text,
    photos_named,
)
from mobileapp.packs.left_lying import left_lying
from mobileapp.packs.part import Part, part_of
from mobileapp.packs.store_port import Photos, is_kept
from mobileapp.packs.unclaimed_form import NOTHING, Unclaimed, unclaimed_text
from mobileapp.photos.safe_file import clear_abandoned, name_aside, sync_folder
from mobileapp.record_files import InTheRecord, leave_the_record

_CHUNK = 1 << 20
#: The earliest date a zip can say; it stands for none.
_NO_DATE = (1980, 1, 1, 0, 0, 0)


class Packed(NamedTuple):
    """A pack that was written. `lacking` are photos that entries name and the store has lost.

    `awaited` photos of those were brought by a camera, and nobody came back for them.
    """

    path: Path
    size: int
    teardowns: int
    entries: int
    photos: int
    lacking: tuple[str, ...]
    awaited: int = 0


class _Contents(NamedTuple):
    """What goes into a pack."""

    holds: str
    rows: Mapping[str, Sequence[EntryRow]]
    photos: Sequence[Part]
    lacking: tuple[str, ...]
    unclaimed: Unclaimed = NOTHING
    awaited: Sequence[Part] = ()

    @property
    def texts(self) -> dict[str, bytes]:
        """The members that are text, by name."""
        journal = "".join(f"{line_of(row)}\n" for one in self.rows.values() for row in one)
        texts = {JOURNAL: journal.encode()}
        if self.unclaimed != NOTHING:
            texts[UNCLAIMED] = unclaimed_text(self.unclaimed).encode()
        return texts


def write_pack(
    journal: Journal, store: Photos, teardown: str, target: Path | str, *, without_lost: bool = False,
    replace: bool = False,
) -> Packed:  # fmt: skip
    """Put one teardown with its photos into a pack. Raises a PackError, and then nothing was written.

    A photo that an entry names and that is lost refuses the pack; `without_lost` packs without it and says so in it.
    """
    target = _free(target, replace, journal)
    rows = journal.rows(teardown)
    if not rows:
        raise say(NothingToPack, target.name, f"there is no teardown {teardown!r} in this journal")
    photos, lost = _sort_out({sha for _, sha, _ in photos_named(rows)}, store)
    if lost and not without_lost:
        raise say(PhotoLost, target.name, f"the photo {lost[0][:12]} is not in the store, or was altered")
    return _write(target, _Contents(TEARDOWN, {teardown: rows}, photos, lost))


def write_backup(journal: Journal, store: Photos, target: Path | str, *, replace: bool = False) -> Packed:
    """Put every teardown and every photo into one file, those that belong to nothing yet among them.

    A photo that is lost does not stop it; the file says so.
    """
    target = _free(target, replace, journal)
    rows = {card.teardown: journal.rows(card.teardown) for card in journal.teardowns()}
    named = {sha for one in rows.values() for _, sha, _ in photos_named(one)}
    photos, lost = _sort_out(named | {photo.sha for photo in store.photos()}, store)
    unclaimed, awaited = left_lying(target.name, journal, store, named, set(lost) - named)
    lacking = tuple(sha for sha in lost if sha in named)
    return _write(target, _Contents(EVERYTHING, dict(sorted(rows.items())), photos, lacking, unclaimed, awaited))


def _free(target: Path | str, replace: bool, journal: Journal) -> Path:
    target = Path(target)
    try:
        leave_the_record(target, journal.path)
    except InTheRecord as fault:
        raise say(OverTheRecord, target.name, str(fault)) from fault
    if target.is_dir():
        raise say(IsAFolder, target.name)
    if target.exists() and not replace:
        raise say(AlreadyThere, target.name)
    return target


def _write(target: Path, inside: _Contents) -> Packed:
    texts, files = inside.texts, (*inside.photos, *inside.awaited)
    held = tuple(Held(teardown, len(one), heads_of(one)) for teardown, one in inside.rows.items())
    members = [Member(name, sha256(text).hexdigest(), len(text)) for name, text in texts.items()]
    members += [part.member for part in files]
    manifest = manifest_text(Manifest(inside.holds, held, tuple(members), inside.lacking)).encode()
    try:
        size = _write_aside(target, {MANIFEST: manifest, **texts}, files)
    except OSError as fault:
        raise unwritable(fault, target.name) from fault
    entries = sum(map(len, inside.rows.values()))
    return Packed(target, size, len(held), entries, len(files), inside.lacking, len(inside.awaited))


def _sort_out(shas: Iterable[str], store: Photos) -> tuple[list[Part], tuple[str, ...]]:
    """The photos that are there as they were kept, and the hashes of those that are not."""
    there, lost = [], []
    for sha in sorted(shas):
        if is_kept(store, sha):
            there.append(part_of(PHOTOS + sha, store.path(sha), sha))
        else:
            lost.append(sha)
    return there, tuple(lost)


def _write_aside(target: Path, texts: Mapping[str, bytes], files: Sequence[Part]) -> int:
    clear_abandoned([target.parent], time.time(), escape(target.name))  # a killed try may have left much
    aside = name_aside(target)
    try:
        with aside.open("xb") as file:
            _write_zip(file, target.name, texts, files)
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


def _write_zip(file: IO[bytes], name: str, texts: Mapping[str, bytes], files: Sequence[Part]) -> None:
    pack = zipfile.ZipFile(file, "w")
    try:
        for member, text in texts.items():
            pack.writestr(_info(member, zipfile.ZIP_DEFLATED), text)
        for part in files:
            _copy(pack, part, name)
        pack.close()
    except BaseException:
        pack.fp = None  # what is half written is thrown away: do not try to end it properly
        raise
    file.seek(0, os.SEEK_END)


def _copy(pack: zipfile.ZipFile, part: Part, name: str) -> None:
    """Put a file in as it was when the manifest was made: a camera may be writing it at this very moment."""
    digest = sha256()
    try:
        source = part.path.open("rb")
    except FileNotFoundError as fault:
        raise say(StillChanging, name, f"the photo {part.path.name} went while it was packed") from fault
    # Photos are compressed already; stored, they can be copied out by the simplest tool.
    with source, pack.open(_info(part.member.name, zipfile.ZIP_STORED), "w") as member:
        while chunk := source.read(_CHUNK):
            digest.update(chunk)
            member.write(chunk)
    if digest.hexdigest() != part.member.sha256:
        raise say(StillChanging, name, f"the photo {part.path.name} changed while it was packed")


def _info(name: str, compression: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, _NO_DATE)
    info.create_system, info.external_attr, info.compress_type = 3, 0o100644 << 16, compression
    return info
