"""Whether a file is a zip that can be a pack: its members' names, kinds and sizes, before any of them is unpacked."""

from __future__ import annotations

import errno
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mobileapp.packs.errors import NotAPack, PackDamaged, PackTooLarge, say, unreadable
from mobileapp.packs.form import AWAITED_MEMBER, JOURNAL, MANIFEST, PHOTO_MEMBER, UNCLAIMED
from mobileapp.photos.kinds import MOST_BYTES

#: A thousand teardowns with a hundred photos each; more is not what a phone holds.
MOST_MEMBERS = 100_002
#: A thousand entries take some 400 kB: this is a hundred times the longest job that was ever tried.
MOST_JOURNAL, MOST_MANIFEST = 512_000_000, 64_000_000
#: What a camera brought is taken as it is, though it be too large to be kept as a photo.
MOST_AWAITED = 1_000_000_000
_MOST = {MANIFEST: MOST_MANIFEST, JOURNAL: MOST_JOURNAL, UNCLAIMED: MOST_MANIFEST}
_PLAIN = (MANIFEST, JOURNAL, UNCLAIMED)
#: Deflate packs a long run of the same byte about a thousand to one. Text of entries gives ten to twenty to one.
MOST_RATIO = 300
_KINDS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_ENCRYPTED = 0x1

#: What the zip reader raises on a file that is not, or is no longer, a zip in good order.
ZIP_FAULTS = (
    zipfile.BadZipFile, zlib.error, struct.error, EOFError, NotImplementedError, RuntimeError, ValueError,
    OverflowError, IndexError, KeyError,
)  # fmt: skip


@contextmanager
def opened(path: Path) -> Iterator[tuple[zipfile.ZipFile, dict[str, zipfile.ZipInfo]]]:
    """The zip and its members by name, once each is known to be one that a pack has. Raises a CannotRead."""
    try:
        if path.is_dir():
            raise say(NotAPack, path.name, "it is a folder")
        with path.open("rb") as file:
            try:
                pack = zipfile.ZipFile(file)
            except ZIP_FAULTS as fault:
                raise _not_a_zip(path, fault) from fault
            with pack:
                yield pack, _members(path, pack.infolist())
    except OSError as fault:
        if fault.errno == errno.EINVAL:  # a list of members that points outside the file
            raise say(PackDamaged, path.name, "its list of members is broken") from fault
        raise unreadable(fault, path.name) from fault


def _not_a_zip(path: Path, fault: Exception) -> Exception:
    with path.open("rb") as file:
        begins_as_zip = file.read(4) == b"PK\x03\x04"
    if begins_as_zip:
        return say(PackDamaged, path.name, f"it is cut short or its list of members is broken: {fault}")
    return say(NotAPack, path.name, "it is not a zip file")


def _members(path: Path, infos: list[zipfile.ZipInfo]) -> dict[str, zipfile.ZipInfo]:
    names = [info.filename for info in infos]
    if MANIFEST not in names:
        raise say(NotAPack, path.name, f"it is a zip file without a {MANIFEST}")
    if len(infos) > MOST_MEMBERS:
        raise say(PackTooLarge, path.name, f"{len(infos)} members")
    for info in infos:
        if fault := _fault(info):
            raise say(PackDamaged, path.name, f"the member {shown(info.orig_filename)} {fault}")
        _check_size(path, info)
    if twice := {name for name in names if names.count(name) > 1} if len(set(names)) < len(names) else set():
        raise say(PackDamaged, path.name, f"the member {shown(min(twice))} is there twice")
    if sum(info.compress_size for info in infos) > path.stat().st_size:
        raise say(PackDamaged, path.name, "its members overlap")
    return {info.filename: info for info in infos}


def _fault(info: zipfile.ZipInfo) -> str:
    name = info.orig_filename
    ours = name in _PLAIN or PHOTO_MEMBER.fullmatch(name) or AWAITED_MEMBER.fullmatch(name)
    if name != info.filename or not ours:
        return "does not belong in a pack"
    if info.flag_bits & _ENCRYPTED:
        return "is locked by a password"
    if info.compress_type not in _KINDS:
        return f"is packed in a way that is not used here ({info.compress_type})"
    return ""


def _check_size(path: Path, info: zipfile.ZipInfo) -> None:
    most = _MOST.get(info.filename, MOST_AWAITED if AWAITED_MEMBER.fullmatch(info.filename) else MOST_BYTES)
    if info.file_size > most:
        raise say(PackTooLarge, path.name, f"the member {shown(info.filename)} claims {info.file_size} bytes")
    if info.file_size > max(1, info.compress_size) * MOST_RATIO:
        what = f"the member {shown(info.filename)} would unpack {info.compress_size} bytes to {info.file_size}"
        raise say(PackTooLarge, path.name, what)


def shown(name: str) -> str:
    """A member's name, short enough to be read and with nothing in it that could upset a terminal."""
    return ascii(name if len(name) <= 48 else f"{name[:45]}...")
