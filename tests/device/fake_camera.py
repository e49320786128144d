"""A camera for tests: it takes the pictures it is given, one an ask."""

from __future__ import annotations

from pathlib import Path

from mobileapp.device.camera import CANCELLED, TAKE, OnDone, Purpose, Shot


class FakeCamera:
    """Each ask gets the next picture; one of None is a person who changed their mind. Keeps what was settled."""

    offer = TAKE
    waiting = ""

    def __init__(self, folder: Path, pictures: list[bytes | None]) -> None:
        self.folder, self.pictures = folder, pictures
        self.asked: list[Purpose] = []
        self.standing: list[Shot] = []

    def take(self, purpose: Purpose, on_done: OnDone) -> None:
        """Take the next picture."""
        self.asked.append(purpose)
        picture = self.pictures.pop(0)
        shot = Shot(purpose, None, CANCELLED) if picture is None else self._shot(purpose, picture)
        self.standing.append(shot)
        on_done(shot)

    def _shot(self, purpose: Purpose, picture: bytes) -> Shot:
        path = self.folder / f"{len(self.asked)}.jpg"
        path.write_bytes(picture)
        return Shot(purpose, path, note=path.stem)

    def cancel(self) -> None:
        """Nothing."""

    def poll(self, now: float) -> None:
        """Nothing."""

    def recover(self) -> list[Shot]:
        """What was never settled."""
        return list(self.standing)

    def set_aside(self, shot: Shot) -> None:
        """Nobody waits for it; its file is offered as of nothing."""
        nothing = Purpose("", "teardown:", "other")
        self.standing = [Shot(nothing, one.path, "", one.note) if one is shot else one for one in self.standing]

    def settle(self, shot: Shot) -> None:
        """Forget it."""
        self.standing = [one for one in self.standing if one.note != shot.note]
