"""Writing a file so that after a kill or a power cut it is there whole or not at all."""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Callable, Iterable
from pathlib import Path

PART = ".part"
#: A part that nothing was written to for so many seconds belongs to nobody who is still at work.
ABANDONED = 600.0
_OURS = re.compile(rf"\..+\.[0-9a-f]{{8}}{re.escape(PART)}")


def write_safely(
    target: Path,
    data: bytes,
    *,
    durable: bool = True,
    mode: int = 0o644,
    sync: Callable[[int], None] = os.fsync,
) -> None:
    """Write aside, synchronise, rename, synchronise the folder. Raises OSError; then nothing of it is left.

    Where not `durable` a power cut may lose the file or its end: for what can be made again.
    """
    aside = name_aside(target)
    try:
        _write(aside, data, mode, sync if durable else None)
        os.replace(aside, target)
    except BaseException as fault:
        with contextlib.suppress(OSError):
            aside.unlink()
        if isinstance(fault, OSError) and fault.errno:
            raise _of(fault, target) from fault
        raise
    if durable:
        sync_folder(target.parent, sync)


def _of(fault: OSError, target: Path) -> OSError:
    """The same about the file that was meant: of the name that it is written under aside nobody knows."""
    return OSError(fault.errno, fault.strerror, str(target))


def name_aside(target: Path) -> Path:
    """A new name in the same folder, hidden, to write aside under."""
    return target.parent / f".{target.name}.{os.urandom(4).hex()}{PART}"


def clear_abandoned(folders: Iterable[Path], now: float, name: str = "*") -> int:
    """Throw away what killed writers left: hidden, named as by `name_aside`, and old; how many.

    Only for folders of ours, or with the `name` of a file that we write ourselves.
    """
    cleared = 0
    for folder in folders:
        for part in sorted(folder.glob(f".{name}.*{PART}")):
            with contextlib.suppress(OSError):
                if _OURS.fullmatch(part.name) and part.is_file() and part.stat().st_mtime < now - ABANDONED:
                    part.unlink()
                    cleared += 1
    return cleared


def _write(path: Path, data: bytes, mode: int, sync: Callable[[int], None] | None) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        if sync:
            sync(handle)
    finally:
        os.close(handle)


def sync_folder(folder: Path, sync: Callable[[int], None] = os.fsync) -> None:
    """Make a rename in a folder durable, where the system can."""
    if os.name == "nt":
        return  # Windows opens no folder; NTFS journals the rename itself
    handle = os.open(folder, os.O_RDONLY)
    try:
        sync(handle)
    finally:
        os.close(handle)
