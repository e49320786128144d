"""Reading a file that a person wrote: its text, or one plain sentence on why it cannot be read."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from checklists.sheet_fault import near_miss, shown

#: Thirty times the largest file shipped is surely something else.
MOST_BYTES = 250_000


class Unreadable(Exception):
    """The file cannot be read; the message says why and what to do."""


def read_text(path: Path, source: str, what: str, shipped: Iterable[str]) -> str:
    """The text of a file. `what` it should be ("sheet", "story") and the `shipped` ones are for the message."""
    try:
        return _bytes(path, source, what, shipped).decode("utf-8-sig")
    except UnicodeDecodeError as broken:
        raise Unreadable(f"this file is not UTF-8 text (byte {broken.start + 1}); save it as UTF-8") from broken


def _bytes(path: Path, source: str, what: str, shipped: Iterable[str]) -> bytes:
    try:
        if path.is_dir():
            raise Unreadable(f"this is a folder, not a {what}; {_files_in(path)}")
        if path.exists() and not path.is_file():
            raise Unreadable(f"this is a device or a pipe, not a file; name a {what} file")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError) as missing:
        raise Unreadable(f"there is no such file; {_shipped_instead(source, what, shipped)}") from missing
    except PermissionError as barred:
        raise Unreadable("this file may not be read; change its permissions or copy it") from barred
    except (OSError, ValueError) as broken:
        why = getattr(broken, "strerror", None) or str(broken)
        raise Unreadable(f"this file cannot be read ({why}); try a fresh copy of it") from broken
    if len(data) > MOST_BYTES:
        raise Unreadable(f"this file is larger than {MOST_BYTES} bytes, so it is no {what}; name a {what} file")
    return data


def _files_in(folder: Path) -> str:
    names = [path.name for path in sorted(folder.glob("*.toml"))]
    return f"name one of its files: {', '.join(names[:9])}" if names else "name a file that ends in .toml"


def _shipped_instead(source: str, what: str, shipped: Iterable[str]) -> str:
    known = list(shipped)
    names = ", ".join(shown(name) for name in known)
    return f"check its spelling, or use a shipped {what}: {names}{near_miss(source, known)}"
