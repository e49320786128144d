"""Reading a pack: everything in it verified but the bytes of the photos, which `taking_in` verifies as it copies."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from checklists.fact_codec import UnreadableFact
from mobileapp.journal.rows import EntryRow
from mobileapp.packs.errors import NewerPack, NotAPack, PackDamaged, say
from mobileapp.packs.form import (
    AWAITED,
    EVERYTHING,
    JOURNAL,
    MANIFEST,
    PHOTOS,
    UNCLAIMED,
    BadForm,
    Held,
    Manifest,
    Member,
    NewerForm,
    heads_of,
    photos_named,
    read_manifest,
    row_of,
)
from mobileapp.packs.unclaimed_form import NOTHING, Unclaimed, read_unclaimed
from mobileapp.packs.zip_check import ZIP_FAULTS, opened, shown


class Pack(NamedTuple):
    """An open pack: its manifest, its entries by teardown, its photos, and the zip they are still in.

    `awaited` are the camera's files of a backup, and `unclaimed` what is noted of them; `named` the photos of entries.
    """

    path: Path
    zip: zipfile.ZipFile
    infos: dict[str, zipfile.ZipInfo]
    manifest: Manifest
    rows: dict[str, list[EntryRow]]
    photos: tuple[Member, ...]
    awaited: tuple[Member, ...]
    unclaimed: Unclaimed
    named: frozenset[str]


@contextmanager
def open_pack(path: Path | str) -> Iterator[Pack]:
    """A pack whose form, manifest and entries are verified. Raises a CannotRead."""
    path = Path(path)
    with opened(path) as (pack, infos):
        manifest = _manifest(path, pack, infos)
        _check_members(path, manifest, infos)
        rows = _rows(path, manifest, pack, infos)
        photos = tuple(member for member in manifest.members if member.name.startswith(PHOTOS))
        awaited = tuple(member for member in manifest.members if member.name.startswith(AWAITED))
        named = _check_photos(path, manifest, rows, photos)
        unclaimed = _unclaimed(path, manifest, pack, infos)
        _check_unclaimed(path, unclaimed, awaited, {member.sha256 for member in photos} - named)
        yield Pack(path, pack, infos, manifest, rows, photos, awaited, unclaimed, named)


def damaged(path: Path, what: str) -> Exception:
    """The refusal of a pack, with what is wrong in it."""
    return say(PackDamaged, path.name, what)


def read_member(path: Path, pack: zipfile.ZipFile, info: zipfile.ZipInfo) -> bytes:
    """A whole member. Raises PackDamaged where it does not unpack to what the zip says."""
    try:
        with pack.open(info) as member:
            data = member.read(info.file_size + 1)
    except ZIP_FAULTS as fault:
        raise damaged(path, f"the member {shown(info.filename)} cannot be unpacked: {fault}") from fault
    if len(data) != info.file_size:
        raise damaged(path, f"the member {shown(info.filename)} has not the size it claims")
    return data


def _manifest(path: Path, pack: zipfile.ZipFile, infos: dict[str, zipfile.ZipInfo]) -> Manifest:
    data = read_member(path, pack, infos[MANIFEST])
    try:
        return read_manifest(data.decode())
    except UnicodeDecodeError as fault:
        raise damaged(path, f"the manifest is not UTF-8 text (byte {fault.start + 1})") from fault
    except NewerForm as fault:
        raise say(NewerPack, path.name, str(fault)) from fault
    except BadForm as fault:
        kind = NotAPack if "not one of Countback" in str(fault) else PackDamaged
        raise say(kind, path.name, str(fault)) from fault


def _check_members(path: Path, manifest: Manifest, infos: dict[str, zipfile.ZipInfo]) -> None:
    named = {member.name: member for member in manifest.members}
    if JOURNAL not in named:
        raise damaged(path, f"the manifest does not name {JOURNAL}")
    for name in sorted(named.keys() | (infos.keys() - {MANIFEST})):
        if name not in infos:
            raise damaged(path, f"the member {shown(name)} is missing")
        if name not in named:
            raise damaged(path, f"the member {shown(name)} is not in the manifest")
        if infos[name].file_size != named[name].size:
            raise damaged(path, f"the member {shown(name)} has not the size in the manifest")


def _rows(
    path: Path, manifest: Manifest, pack: zipfile.ZipFile, infos: dict[str, zipfile.ZipInfo]
) -> dict[str, list[EntryRow]]:
    data = _hashed(path, manifest, pack, infos, JOURNAL)
    rows: dict[str, list[EntryRow]] = {held.id: [] for held in manifest.teardowns}
    for number, line in enumerate(_lines(path, data), 1):
        try:
            row = row_of(line)
            rows[row.teardown].append(row)
        except BadForm as fault:
            raise damaged(path, f"{JOURNAL}, line {number}: {fault}") from fault
        except KeyError as fault:
            raise damaged(path, f"{JOURNAL}, line {number}: the manifest names no teardown {fault}") from fault
    for held in manifest.teardowns:
        _check_held(path, held, rows[held.id])
    return rows


def _hashed(
    path: Path, manifest: Manifest, pack: zipfile.ZipFile, infos: dict[str, zipfile.ZipInfo], name: str
) -> bytes:
    """A whole member, which is what the manifest names."""
    data = read_member(path, pack, infos[name])
    due = next(member.sha256 for member in manifest.members if member.name == name)
    if sha256(data).hexdigest() != due:
        raise damaged(path, f"{name} is not what the manifest names: its hash is another one")
    return data


def _text(path: Path, name: str, data: bytes) -> str:
    try:
        return data.decode()
    except UnicodeDecodeError as fault:
        raise damaged(path, f"{name} is not UTF-8 text (byte {fault.start + 1})") from fault


def _lines(path: Path, data: bytes) -> list[str]:
    text = _text(path, JOURNAL, data)
    if text and not text.endswith("\n"):
        raise damaged(path, f"{JOURNAL} ends in the middle of a line")
    return text.split("\n")[:-1]


def _check_held(path: Path, held: Held, rows: list[EntryRow]) -> None:
    if len(rows) != held.entries or not rows:
        raise damaged(path, f"teardown {held.id}: {len(rows)} entries, where the manifest names {held.entries}")
    if heads_of(rows) != held.heads:
        raise damaged(path, f"teardown {held.id}: its chains do not end where the manifest says")


def _check_photos(
    path: Path, manifest: Manifest, rows: dict[str, list[EntryRow]], photos: tuple[Member, ...]
) -> frozenset[str]:
    """That every photo which an entry names is there or said to be lost; which these are."""
    sizes = {member.sha256: member.size for member in photos}
    named = set()
    try:
        for row, sha, size in photos_named(row for one in rows.values() for row in one):
            named.add(sha)
            if sha not in sizes and sha not in manifest.lacking:
                raise damaged(path, f"{row.where} names the photo {sha[:12]}, which is not in it")
            if size is not None and sizes.get(sha, size) != size:
                raise damaged(path, f"{row.where}: the photo {sha[:12]} has not the size the entry says")
    except (UnreadableFact, ValueError, TypeError, AttributeError) as fault:
        raise damaged(path, f"an entry that names a photo cannot be read: {fault}") from fault
    if manifest.holds != EVERYTHING and (stray := sizes.keys() - named):
        raise damaged(path, f"the photo {min(stray)[:12]} belongs to nothing in it")
    if set(manifest.lacking) - named or sizes.keys() & set(manifest.lacking):
        raise damaged(path, "the manifest names lost photos that no entry names, or that are there")
    return frozenset(named)


def _unclaimed(
    path: Path, manifest: Manifest, pack: zipfile.ZipFile, infos: dict[str, zipfile.ZipInfo]
) -> Unclaimed:
    if UNCLAIMED not in infos:
        return NOTHING
    try:
        return read_unclaimed(_text(path, UNCLAIMED, _hashed(path, manifest, pack, infos, UNCLAIMED)))
    except BadForm as fault:
        raise damaged(path, f"{UNCLAIMED}: {fault}") from fault


def _check_unclaimed(path: Path, unclaimed: Unclaimed, awaited: tuple[Member, ...], orphans: set[str]) -> None:
    """Every file of the camera's has its note, and every receipt its photo."""
    files = {member.name: member.sha256 for member in awaited}
    noted = {AWAITED + one.note: one.sha256 for one in unclaimed.awaited if one.sha256}
    if files != noted:
        name = min(dict(files.items() ^ noted.items()))
        raise damaged(path, f"the member {shown(name)} is not what {UNCLAIMED} notes of it")
    if stray := {sha for sha, _ in unclaimed.received} - orphans:
        raise damaged(path, f"{UNCLAIMED}: the photo {min(stray)[:12]} belongs to something, or is not in it")
