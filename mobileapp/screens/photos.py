"""Choose a photo: the newest files of the usual folders, or a path typed in. It is looked at before it is taken."""

from __future__ import annotations

from typing import Any

from kivy.metrics import mm

from mobileapp import look
from mobileapp.photo_file import PhotoFile, fault_of, newest
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.stamps import when
from mobileapp.screens.thumbnail import Thumbnail
from mobileapp.widgets.field import Field
from mobileapp.widgets.plate import Plate, PlateButton
from mobileapp.widgets.text import Body, Heading


class PhotosScreen(BaseScreen):
    """Writes the chosen path into the draft of the step before, under `key`, and goes back there."""

    def build(self, key: str = "photo", **args: Any) -> None:
        """What was wrong with the last one tried, the newest photos, and the place to type a path."""
        self.key = key
        self.title = "Choose a photo"
        found = newest(self.desk.photo_folders)
        self._say_fault()
        for fault in found.faults:
            self.add_widget(Body(text=fault, ink=look.YELLOW))
        if found.photos:
            self.add_widget(Body(text="Newest first"))
        for photo in found.photos:
            self._offer(photo)
        if not found.photos and not found.faults:
            self.add_widget(Body(text="No photo was found where photos usually are. Take it with the phone's camera "
                                      "and come back here, or type the path of a file."))
        self._offer_typing()

    def _say_fault(self) -> None:
        self.said = Plate(tone="yellow", shape="refused", text=self.desk.draft.get("fault", ""))
        if self.said.text:
            self.add_widget(self.said)

    def _offer(self, photo: PhotoFile) -> None:
        row = PlateButton(tone="steel", text=when(photo.at, self.desk.clock()), note=photo.name)
        row.spacing = mm(3)
        row.add_widget(Thumbnail(photo.path), index=len(row.children))
        row.bind(on_tap=lambda _: self.take(photo.path))
        self.add_widget(row)

    def _offer_typing(self) -> None:
        self.add_widget(Heading(text="Or name a file"))
        self.typed = Field(label="Path of the photo", text=self.desk.draft.get("path", ""), hint="/sdcard/DCIM/…")
        self.typed.bind(text=self._typed, on_enter=lambda _: self.take(self.typed.text))
        self.add_widget(self.typed)
        use = PlateButton(tone="steel", shape="go", text="Use this file")
        use.bind(on_tap=lambda _: self.take(self.typed.text))
        self.add_widget(use)

    def _typed(self, _: object, text: str) -> None:
        self.desk.draft["path"] = text
        self.desk.keep()

    def take(self, path: str) -> None:
        """Take this photo if it opens as one; else say what is wrong. Nothing else changes then."""
        path = path.strip()
        fault = fault_of(path)
        if fault:
            self.desk.draft["fault"] = fault
            self.desk.signals.refused()
            self.desk.again()
            return
        self.desk.trail[-2][1].setdefault("draft", {})[self.key] = path
        self.desk.back()
