"""A desktop's camera: a file chooser.

It is plyer's, imported when it is used. Where there is none, or it fails, that is said: the screen lists photos as
well. plyer waits for the chooser's window, so it runs on a thread of its own.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from mobileapp.device.camera import CANCELLED, NO_CHOOSER, OnDone, Purpose, Shot

#: Shows a file chooser and waits; the paths chosen, empty or None where it was closed.
Choose = Callable[[], list[str] | None]
Deliver = Callable[[Callable[[], None]], None]


def plyer_choose() -> list[str] | None:
    """plyer's file chooser."""
    from plyer import filechooser

    from mobileapp.photos.kinds import OFFERED  # the first board does not wait for what photos need

    chosen: list[str] | None = filechooser.open_file(
        title="Choose a photo", multiple=False, filters=[["Photos", *(f"*{ending}" for ending in OFFERED)]]
    )
    return chosen


def on_a_thread(work: Callable[[], None]) -> None:
    """Do work beside the main thread."""
    threading.Thread(target=work, name="file chooser", daemon=True).start()


class ChooserCamera:
    """A photo is chosen from the desktop's files. Nothing is awaited across a restart."""

    offer = "Look through the files"
    waiting = ""

    def __init__(
        self,
        deliver: Deliver,
        choose: Choose = plyer_choose,
        aside: Callable[[Callable[[], None]], None] = on_a_thread,
    ) -> None:
        self._deliver, self._choose, self._aside = deliver, choose, aside

    def take(self, purpose: Purpose, on_done: OnDone) -> None:
        """Show the chooser."""
        self._aside(lambda: self._ask(purpose, on_done))

    def _ask(self, purpose: Purpose, on_done: OnDone) -> None:
        try:
            chosen = self._choose()
        except Exception:  # plyer raises whatever the desktop raises where it has no chooser
            self._deliver(lambda: on_done(Shot(purpose, None, NO_CHOOSER)))
            return
        shot = Shot(purpose, Path(chosen[0])) if chosen else Shot(purpose, None, CANCELLED)
        self._deliver(lambda: on_done(shot))

    def cancel(self) -> None:
        """Do nothing: the chooser's own window stands before the person."""

    def poll(self, now: float) -> None:
        """Do nothing: the chooser answers by itself."""

    def recover(self) -> list[Shot]:
        """Nothing."""
        return []

    def settle(self, shot: Shot) -> None:
        """Do nothing: the file is the person's own."""

    def set_aside(self, shot: Shot) -> None:
        """Do nothing: the file is the person's own."""
