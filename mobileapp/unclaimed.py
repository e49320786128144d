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

    What another teardown waits for is left to it; with no teardown in hand everything shows.
    """
    shots = desk.camera.recover() if desk.camera else []
    ours = ("", desk.service.id) if desk.service else None
    return [shot for shot in shots if shot.path and (ours is None or shot.purpose.teardown in ours)]


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
