"""Receipts kept aside: one small file a photo says when it was received, for the one whose entry never came.

A copy of the folder, or a restore, gives a file a new time; the note goes with it. One that a power cut took, or that
an older Countback never wrote, leaves the file's own time, and that is said (`receipt.FILE`).
"""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

from checklists.receipt import FILE, KINDS, Receipt
from mobileapp.photos.safe_file import write_safely

#: The folder of receipts, in the one of kept photos.
FOLDER = "received"


def read_receipt(path: Path) -> Receipt | None:
    """The receipt in a file; None where there is none that can be read."""
    try:
        return sound(json.loads(path.read_bytes()))
    except (OSError, ValueError, RecursionError):
        return None


def sound(plain: object) -> Receipt | None:
    """A receipt out of plain data; None where it is none."""
    if not isinstance(plain, dict) or plain.keys() != {"at", "by"}:
        return None
    at, by = plain["at"], plain["by"]
    return Receipt(at, by) if isinstance(at, str) and is_stamp(at) and by in KINDS else None


def is_stamp(at: str) -> bool:
    """Whether it is a time with its offset."""
    try:
        return datetime.fromisoformat(at).tzinfo is not None
    except ValueError:
        return False


def write_receipt(path: Path, receipt: Receipt) -> None:
    """Note a receipt. Not waited for: what a power cut takes leaves the file's own time. Raises OSError."""
    write_safely(path, json.dumps(receipt._asdict()).encode(), durable=False)


def file_time(path: Path) -> str:
    """A file's own time, as this phone writes times. Raises OSError."""
    return datetime.fromtimestamp(path.stat().st_mtime).astimezone().isoformat(timespec="milliseconds")


def by_file(path: Path) -> Receipt:
    """What a file's own time says, where nothing better is left. Raises OSError."""
    return Receipt(file_time(path), FILE)
