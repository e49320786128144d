"""Arithmetic on the time stamps that entries carry. Nothing here reads a clock."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import lru_cache


def seconds_between(earlier: str, later: str) -> float:
    """Seconds from one ISO 8601 stamp (with offset) to another; negative where the clock was set back."""
    return (_moment(later) - _moment(earlier)).total_seconds()


def microseconds_between(earlier: str, later: str) -> int:
    """The same in whole microseconds, which add up without rounding."""
    return (_moment(later) - _moment(earlier)) // timedelta(microseconds=1)


@lru_cache(maxsize=8192)
def _moment(stamp: str) -> datetime:
    """A long job's spells are added up again and again."""
    return datetime.fromisoformat(stamp)


def seconds_after(stamp: str, seconds: float) -> str:
    """The stamp so many seconds after `stamp`, in the same offset, to the millisecond."""
    moment = datetime.fromisoformat(stamp) + timedelta(seconds=seconds)
    return moment.isoformat(timespec="milliseconds")


def clock_face(stamp: str) -> str:
    """Hours and minutes of a stamp, as on the wall where it was made: "08:15"."""
    return stamp[11:16]


def day_and_clock(stamp: str) -> str:
    """The same with its day and its zone, for what is read later or elsewhere: "2026-03-02 08:15 +01:00"."""
    zone = stamp[stamp.rfind("+" if "+" in stamp else "-") :]
    return f"{stamp[:10]} {stamp[11:16]} {'+00:00' if stamp.endswith('Z') else zone}"


def duration_words(seconds: float) -> str:
    """A duration as a person says it: "40 s", "12 min", "2 h 5 min". Over a clock that was set back there is none."""
    if seconds <= -1:
        return "a time that cannot be told"
    whole = max(0, int(seconds))
    if whole < 60:
        return f"{whole} s"
    minutes = whole // 60
    if minutes < 60:
        return f"{minutes} min"
    return f"{minutes // 60} h {minutes % 60} min"
