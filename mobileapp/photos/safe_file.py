"""Writing a file so that after a kill or a power cut it is there whole or not at all."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable
from pathlib import Path

PART = ".part"


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
    aside = target.parent / f".{target.name}.{os.urandom(4).hex()}{PART}"
    try:
        _write(aside, data, mode, sync if durable else None)
        os.replace(aside, target)
    except BaseException:
        with contextlib.suppress(OSError):
            aside.unlink()
        raise
    if durable:
        sync_folder(target.parent, sync)


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
