"""The place on a form where a photo belongs. It shows which one was chosen and leads to the list of photos."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.properties import StringProperty

from mobileapp.desk import Desk
from mobileapp.screens.photo_words import short_name
from mobileapp.widgets.plate import PlateButton

NONE_YET = "no photo yet"


class PhotoField(PlateButton):
    """`label` says what the photo shows; `about` and `moment` what it belongs to, as `Photographed` takes them.

    The hash of the kept photo is in the screen's draft under `key`; its path, where the desk keeps no photos.
    """

    path = StringProperty("")

    def __init__(self, desk: Desk, key: str = "photo", label: str = "Photo", about: str = "teardown:",
                 moment: str = "other", **kwargs: Any) -> None:  # fmt: skip
        self.desk, self.key = desk, key
        self.about, self.moment = about, moment
        super().__init__(tone="steel", text=label, glyph_mm=7, **kwargs)
        self.bind(path=lambda *_: self._show())
        self.path = str(desk.draft.get(key, ""))
        self._show()

    def _show(self) -> None:
        remark = str(self.desk.draft.get(f"{self.key} remark", ""))
        self.note = "\n".join(filter(None, (name_of(self.desk, self.path), remark))) if self.path else NONE_YET
        self.shape = "chosen" if self.path else "unchosen"

    def on_tap(self) -> None:
        """Choose a photo; the form stands as it is until then."""
        self.desk.go("photos", key=self.key, about=self.about, moment=self.moment)


def name_of(desk: Desk, photo: str) -> str:
    """How a photo is called on the screen: by the name it came with, once it is kept."""
    kept = desk.state.photos.get(photo) if desk.service else None
    return f"{short_name(kept[0].name)}, kept" if kept else short_name(Path(photo).name)
