"""When something happened, as a person says it. Pure, no widgets."""

from __future__ import annotations

from checklists.times import clock_face


def when(stamp: str, now: str) -> str:
    """A time stamp seen from `now`: "08:15" on the same day, "2026-03-02 08:15" on another; empty stays empty."""
    if not stamp:
        return ""
    return clock_face(stamp) if stamp[:10] == now[:10] else f"{stamp[:10]} {clock_face(stamp)}"


def since_whom(stamp: str, who: str, now: str) -> str:
    """Since when and by whom something stands as it does: "since 08:15, Ada Berg"."""
    return f"since {when(stamp, now)}, {who}" if stamp else ""
