"""What keeping a photo asks of the screen that chose it: the store works on its own thread, the journal on this one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from mobileapp import evidence
from mobileapp.desk import Desk
from mobileapp.device.camera import CAME_EMPTY, Purpose, Shot
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.store import PhotoStore
from mobileapp.service import Outcome
from mobileapp.unclaimed import strays


class PhotoKeeping:
    """Keeps photos of one thing and one moment.

    `came` gets the hash of one that is recorded, `fault` the words of one that is not; `remark` is what is odd about
    the one that came last. Once the screen has `left`
    neither is called; what was begun is kept and recorded all the same.
    """

    def __init__(
        self, desk: Desk, about: str, moment: str, came: Callable[[str], None], fault: Callable[[str], None]
    ) -> None:
        self.desk = desk
        self.store: PhotoStore | None = desk.photos if desk.service else None
        self.purpose = Purpose(desk.service.id if desk.service else "", about, moment)
        self._came, self._fault = came, fault
        self.left = False
        self.remark = ""
        self._busy = False

    def keep(self, path: str) -> None:
        """Keep a file."""
        if not path:
            self._fault("No file is named. Choose one below, or type its path.")
        elif stray := self._strays().get(path):
            self._shot(replace(stray, purpose=self.purpose))
        elif self.store and not self._busy:
            self._busy = True
            evidence.keep_photo_later(
                self.desk.work, self.store, Path(path), self.purpose.about, self.purpose.moment, self._record
            )

    def photograph(self) -> None:
        """Ask the camera."""
        if self.desk.camera and self.store:
            self.desk.camera.take(self.purpose, self._shot)

    def cancel(self) -> None:
        """Wait no longer for a photo that comes into a watched folder."""
        if self.desk.camera and self.store:
            self.desk.camera.cancel()

    def recover(self) -> None:
        """Keep what the camera took for this very purpose before the app was stopped."""
        if self.desk.camera and self.store:
            for shot in self.desk.camera.recover():
                if shot.purpose == self.purpose and shot.path:
                    self._shot(shot)
                    return

    def came_empty(self) -> str:
        """The words of a photo for this very purpose that came empty before the app was stopped; said once."""
        camera = self.desk.camera
        if camera is None or not self.store:
            return ""
        empty = [shot for shot in camera.recover() if shot.purpose == self.purpose and shot.words == CAME_EMPTY]
        for shot in empty:
            camera.settle(shot)
        return CAME_EMPTY if empty else ""

    def _strays(self) -> dict[str, Shot]:
        """By path: what the camera took for something else, or for nothing that is noted, and nobody came back for."""
        return {str(shot.path): shot for shot in strays(self.desk)} if self.store else {}

    def _shot(self, shot: Shot) -> None:
        if self.store and self.desk.camera and not self._busy:
            self._busy = True
            evidence.keep_shot_later(self.desk.work, self.store, self.desk.camera, shot, self._record)

    def unclaimed(self) -> list[str]:
        """Paths of photos that belong to nothing: the camera's that nobody came back for, then the kept ones."""
        kept = evidence.orphans(self.desk.journal, self.store) if self.store else []
        others = (path for path, shot in self._strays().items() if shot.purpose != self.purpose)  # its own comes
        return [*others, *(str(photo.path) for photo in kept)]

    def _record(self, record: Callable[[], evidence.Became]) -> None:
        self._busy = False
        refused: list[PhotoError] = []
        outcome = self.desk.guarded(partial(self._outcome, record, refused))
        if outcome is None or self.left:
            return  # the screen of the journal's trouble is shown already, or another one
        if outcome.entry is not None:
            self.remark = outcome.remark
            self._came(str(outcome.entry.fact.photo))  # type: ignore[union-attr]
        elif refused:
            self._fault(str(refused[0]))
        else:
            self._fault(" ".join(f"{reason.words} {reason.do_next}" for reason in outcome.reasons))

    @staticmethod
    def _outcome(record: Callable[[], evidence.Became], refused: list[PhotoError]) -> Outcome:
        became = record()
        if isinstance(became, Outcome):
            return became
        refused.append(became)
        return Outcome(None)
