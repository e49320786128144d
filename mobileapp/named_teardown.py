"""Which teardown of a journal a command means: the one that is named, or the only one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from mobileapp.exit_codes import Trouble

if TYPE_CHECKING:
    from mobileapp.journal import Journal


def chosen_of(journal: Journal, teardown: str) -> str:
    """The teardown that is meant. Raises Trouble, with those that the journal holds, where that is not clear."""
    known = [card.teardown for card in journal.teardowns()]
    if teardown in known:
        return teardown
    if teardown or not known:
        raise Trouble(no_teardown(journal.path, teardown, known))
    if len(known) > 1:
        raise Trouble(f"{journal.path} holds several teardowns. Name one with --teardown: {', '.join(known)}")
    return known[0]


def no_teardown(path: Path, teardown: str, known: list[str]) -> str:
    """That a journal has no such teardown, and which it has."""
    if not known:
        return f"There is no teardown in {path} yet."
    return f"There is no teardown {teardown!r} in {path}. It holds: {', '.join(known)}"
