"""The place on a form where a photo belongs. It shows which file was named and leads to the list of photos."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.properties import StringProperty

from mobileapp.desk import Desk
from mobileapp.widgets.plate import PlateButton

NONE_YET = "no photo yet"


class PhotoField(PlateButton):
    """`label` says what the photo shows; the path is kept in the screen's draft under `key`."""

    path = StringProperty("")

    def __init__(self, desk: Desk, key: str = "photo", label: str = "Photo", **kwargs: Any) -> None:
        self.desk, self.key = desk, key
        super().__init__(tone="steel", text=label, glyph_mm=7, **kwargs)
        self.bind(path=lambda *_: self._show())
        self.path = str(desk.draft.get(key, ""))
        self._show()

    def _show(self) -> None:
        self.note = Path(self.path).name if self.path else NONE_YET
        self.shape = "chosen" if self.path else "unchosen"

    def on_tap(self) -> None:
        """Choose a photo; the form stands as it is until then."""
        self.desk.go("photos", key=self.key)
