"""The camera as a port: a photo is asked for with what it is for, and comes back as a file, or with words why not.

A camera may kill the app that called it. So a `Camera` notes on the storage that a photo is awaited before it lets the
camera start (`camera_awaited`), and the note stays until `settle` is called with the shot: after the photo is kept and
recorded, or it came empty. `recover` gives every shot still noted, in the new process.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple, Protocol

from checklists.receipt import Receipt


class Purpose(NamedTuple):
    """What a photo is for: the teardown, what it belongs to and the moment, as `Photographed` takes them."""

    teardown: str
    about: str
    moment: str


@dataclass(frozen=True, slots=True)
class Shot:
    """What came of it: `path` of the photo, or None and `words`: what happened and what to do next."""

    purpose: Purpose
    path: Path | None
    words: str = ""
    #: Says which note it answers; empty where nothing was noted.
    note: str = ""
    #: When this phone had it, where that was not just now but before the app was stopped; None where it just came.
    received: Receipt | None = None


OnDone = Callable[[Shot], None]

CANCELLED = "No photo was taken. Take it again, or choose one that is on the phone."
NOT_ALLOWED = "The camera may not be used. Allow it in the phone's settings, or choose a photo that is on the phone."
NO_CAMERA = "No camera was found on this device. Choose a photo that is in a folder instead."
NO_CHOOSER = "This desktop has no file chooser. Choose a photo below, or type its path."
TAKE = "Take a photo"
CAME_EMPTY = "The camera gave back an empty photo. Take it again."


def failed(detail: str) -> str:
    """The words where a camera does not start, for a reason of its own."""
    return f"The camera did not start ({detail}). Try again, or choose a photo that is on the phone."


class Camera(Protocol):
    """Takes photos, or gets them otherwise."""

    #: What the key says that asks it.
    offer: str
    #: What is said while a photo is waited for on this screen; empty where something else stands before the person.
    waiting: str

    def take(self, purpose: Purpose, on_done: OnDone) -> None:
        """Ask for a photo. Returns at once; `on_done` gets the shot on the main thread, now or much later."""

    def cancel(self) -> None:
        """The person no longer waits on this screen. A camera that stands before them is not called back."""

    def poll(self, now: float) -> None:
        """Look whether something came; called several times a second. `now` in seconds of any clock."""

    def recover(self) -> list[Shot]:
        """The shots of an earlier process that were never settled, oldest first."""

    def settle(self, shot: Shot) -> None:
        """The photo is kept and recorded, or there is none: forget it, and its file with it."""

    def set_aside(self, shot: Shot) -> None:
        """The photo could not be kept: nobody waits for it any more, but its file stays, and `recover` offers it."""
