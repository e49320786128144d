"""A desktop's camera beside what a phone's camera left: a restored backup brings photos that nobody came back for."""

from __future__ import annotations

from mobileapp.device.camera import Camera, OnDone, Purpose, Shot
from mobileapp.device.camera_awaited import NotedPhotos


class BesideLeft:
    """A `camera` that notes nothing itself, and the `notes` that came with a backup: these are recovered."""

    def __init__(self, camera: Camera, notes: NotedPhotos) -> None:
        self._camera, self._notes = camera, notes
        self.offer, self.waiting = camera.offer, camera.waiting

    def take(self, purpose: Purpose, on_done: OnDone) -> None:
        """Ask the camera."""
        self._camera.take(purpose, on_done)

    def cancel(self) -> None:
        """The camera waits no longer."""
        self._camera.cancel()

    def poll(self, now: float) -> None:
        """The camera looks whether something came."""
        self._camera.poll(now)

    def recover(self) -> list[Shot]:
        """What was left on the phone that was backed up."""
        return self._notes.recover()

    def settle(self, shot: Shot) -> None:
        """Forget what was left; a file of the person's own stays."""
        if shot.note:
            self._notes.settle(shot.note)

    def set_aside(self, shot: Shot) -> None:
        """Offer what was left as of nothing; a file of the person's own stays."""
        if shot.note:
            self._notes.set_aside(shot.note)
