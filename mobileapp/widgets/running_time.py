"""How long something has been going on, in figures."""

from __future__ import annotations

#: Instead of a time that the clock does not tell.
CLOCK_BACK = "clock set back"


def running_time(seconds: float) -> str:
    """Minutes and seconds below an hour (4:07), hours too from there on (1:02:30). Never below zero."""
    whole = max(0, int(seconds))
    minutes, rest = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"
