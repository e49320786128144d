"""Gaps that a storage fault tears into a JPEG: a stretch of zeros where its picture should be.

Pillow decodes such a file without a word, for zeros are a valid code. A whole picture has so many in a row only where
an even area was coded with tables made for it, so this is a remark for the person who looks, never a refusal.
"""

from __future__ import annotations

from pathlib import Path

from mobileapp.photos.kinds import JPEG, media_of

#: The least that storage loses at once: one sector (common practice, no source).
LEAST = 512
_SCAN, _END, _BARE = 0xDA, b"\xff\xd9", (0x01, *range(0xD0, 0xD9))


def gap_words(data: bytes) -> str:
    """What is odd about the picture data of a photo, in words; empty where nothing is, or where it is no JPEG."""
    zeros = zeros_in_picture(data) if media_of(data[:16]) == JPEG else 0
    return f"{zeros} zeros in a row in its picture data, as a storage fault leaves them" if zeros else ""


def gap_words_of(path: Path) -> str:
    """The same of a photo's file; empty where it cannot be read, which is told elsewhere. Not for the main thread."""
    try:
        return gap_words(path.read_bytes())
    except OSError:
        return ""


def zeros_in_picture(data: bytes) -> int:
    """How many zeros stand in a row at the first such place of a JPEG's picture data; 0 where there is none."""
    start = _first_scan(data)
    if not start:
        return 0
    end = data.find(_END, start)
    at = data.find(bytes(LEAST), start, end if end >= 0 else len(data))
    if at < 0:
        return 0
    stop = at + LEAST
    while stop < len(data) and not data[stop]:
        stop += 1
    return stop - at


def _first_scan(data: bytes) -> int:
    """Where the picture data begin (ITU-T T.81 annex B: segments of a marker and a length, up to the first scan)."""
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF or marker in _BARE:
            at += 1 if marker == 0xFF else 2
            continue
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if marker == _SCAN:
            return at
    return 0
