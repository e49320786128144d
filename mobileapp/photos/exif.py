"""What a camera wrote into a photo: when it was taken, and which way up it was held.

Ids from CIPA DC-008 (Exif): DateTimeOriginal 0x9003, OffsetTimeOriginal 0x9011, Orientation 0x0112 (TIFF).
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from PIL.Image import Image

EXIF_IFD = 0x8769
ORIENTATION, DATE_TIME_ORIGINAL, OFFSET_TIME_ORIGINAL = 0x0112, 0x9003, 0x9011

_WHEN = re.compile(r"\d{4}:\d\d:\d\d \d\d:\d\d:\d\d")
_OFFSET = re.compile(r"[+-]\d\d:\d\d")


class Written(NamedTuple):
    """`taken` as the camera wrote it, with its offset where it gave one, or empty; `orientation` 1 to 8."""

    taken: str
    orientation: int


def written(image: Image) -> Written:
    """What the camera wrote. A damaged or missing block says nothing, which is no fault of the picture."""
    try:
        block = image.getexif()
        inner = block.get_ifd(EXIF_IFD)
        return Written(_taken(inner), _orientation(block.get(ORIENTATION)))
    except Exception:  # Pillow's reader raises nearly anything on a damaged block
        return Written("", 1)


def _taken(block: dict[int, object]) -> str:
    when = _text(block.get(DATE_TIME_ORIGINAL))
    if not _WHEN.fullmatch(when):
        return ""
    offset = _text(block.get(OFFSET_TIME_ORIGINAL))
    return when + offset if _OFFSET.fullmatch(offset) else when


def _text(value: object) -> str:
    if isinstance(value, bytes):
        value = value.decode("ascii", "replace")
    return value.strip("\x00 ") if isinstance(value, str) else ""


def _orientation(value: object) -> int:
    return value if isinstance(value, int) and 1 <= value <= 8 else 1


def can_be(taken: str) -> bool:
    """Whether such a time exists: a camera whose clock is broken writes anything."""
    try:
        datetime.strptime(taken[:19], "%Y:%m:%d %H:%M:%S")
        return not taken[19:] or datetime.strptime(taken[19:], "%z") is not None
    except ValueError:
        return False


def taken_words(taken: str) -> str:
    """When a photo was taken, in words; that the camera did not say is said."""
    if not taken:
        return "the camera wrote no time"
    if not can_be(taken):
        return f"the time that the camera wrote is unreadable: {taken}"
    if len(taken) == len("2026:03:02 08:15:30"):
        return f"taken {taken} by the camera's clock, which gave no time zone"
    return f"taken {taken[:19]} ({taken[19:]}) by the camera's clock"
