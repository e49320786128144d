"""Photos that belong to nothing yet: kept but named by no entry, or brought by a camera that nobody came back to.

They are found by themselves and offered with their number, never dropped. Finding them reads the folder and the
journal, so it is done beside the main thread.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the first board does not wait for what photos need
    from collections.abc import Callable
    from pathlib import Path

    from mobileapp.desk import Desk
    from mobileapp.device.camera import Shot


def strays(desk: Desk) -> list[Shot]:
    """What the camera took before the app was stopped and nobody came back for. For the main thread.

    What another open teardown waits for is left to it. One that has ended takes nothing more: what it waited for shows
    in every other; and with no teardown in hand everything shows.
    """
    shots = [shot for shot in (desk.camera.recover() if desk.camera else []) if shot.path]
    ours = ("", desk.service.id) if desk.service else None
    if ours is None or all(shot.purpose.teardown in ours for shot in shots):
        return shots
    left_to_others = _others_that_wait(desk, {shot.purpose.teardown for shot in shots}) - set(ours)
    return [shot for shot in shots if shot.purpose.teardown not in left_to_others]


def _others_that_wait(desk: Desk, asked: set[str]) -> set[str]:
    """Those of these teardowns that are still open, and claim their photos themselves; all, where nobody can tell."""
    from mobileapp.journal.errors import JournalError

    try:
        return {card.teardown for card in desk.journal.teardowns() if card.state == "open"} & asked
    except JournalError:
        return asked


def asked_elsewhere(desk: Desk, path: str) -> str:
    """Where the camera was asked for that photo in another teardown: in words. Empty where it was not."""
    from mobileapp.journal.errors import JournalError

    asked = {str(shot.path): shot.purpose.teardown for shot in strays(desk)}.get(path, "")
    if not asked or (desk.service and desk.service.id == asked):
        return ""
    try:
        (card,) = [card for card in desk.journal.teardowns() if card.teardown == asked]
    except (JournalError, ValueError):
        return "The camera was asked for it in a teardown that is not on this phone."
    ended = "" if card.state == "open" else ", which has ended"
    return f"The camera was asked for it in {'another' if desk.service else 'a'} teardown{ended}: {card.machine}."


def look_for(desk: Desk, then: Callable[[list[Path]], None]) -> None:
    """Find them; `then` gets their paths on the main thread, the camera's first. Where nothing can be read, none."""
    from mobileapp.journal.errors import JournalError
    from mobileapp.photos.errors import PhotoError
    from mobileapp.photos.store import PhotoStore, beside
    from mobileapp.screens.aside import work_aside

    first = [shot.path for shot in strays(desk) if shot.path]
    journal, folder = desk.journal, beside(desk.journal.path)

    def kept() -> list[Path]:
        from mobileapp.evidence import orphans

        return [photo.path for photo in orphans(journal, PhotoStore(folder))]

    def answer(found: list[Path] | Exception) -> None:
        then([*first, *(found if isinstance(found, list) else [])])

    if folder.is_dir():
        work_aside(kept, answer, (JournalError, PhotoError))
    else:
        then(first)
