"""How times and photos are written in an account: always with the zone, never shortened to what seems enough."""

from __future__ import annotations

import re
from datetime import datetime

_STAMP = re.compile(r"(\d{4}-\d\d-\d\d)T(\d\d:\d\d:\d\d)(?:\.\d+)?(Z|[+-]\d\d:\d\d)")
_EXIF = re.compile(r"(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)([+-]\d\d:\d\d)?")


def when(at: str) -> str:
    """A time stamp with its zone: "2026-03-02 08:15:30 +01:00"."""
    return _when(at, " ")


def when_cell(at: str) -> str:
    """The same on two lines, for a table."""
    return _when(at, "\n")


def _when(at: str, between: str) -> str:
    if not (match := _STAMP.fullmatch(at)):
        return at
    day, time, zone = match.groups()
    return f"{day}{between}{time} {'+00:00' if zone == 'Z' else zone}"


def taken(exif: str) -> str:
    """When the camera says that a photo was taken; what the camera did not say is said."""
    if not exif:
        return "The camera wrote no time."
    if not (match := _EXIF.fullmatch(exif)):
        return f"The camera wrote: {exif}"
    year, month, day, time, zone = match.groups()
    try:
        datetime.fromisoformat(f"{year}-{month}-{day}T{time}{zone or ''}")
    except ValueError:
        return f"The time that the camera wrote is unreadable: {exif}"
    return f"Taken {year}-{month}-{day} {time} {zone or '(zone not given)'} by the camera"


def size_words(size: int) -> str:
    """A file's size in round figures."""
    return f"{size / 1_000_000:.1f} MB" if size >= 1_000_000 else f"{max(1, round(size / 1000))} kB"
