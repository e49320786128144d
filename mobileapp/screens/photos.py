"""Choose a photo: take one, or one of the newest files, or a path typed in. It is looked at before it is taken."""

from __future__ import annotations

from typing import Any

from kivy.metrics import mm

from mobileapp import look
from mobileapp.photo_file import PhotoFile, fault_of, newest
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.photo_keeping import PhotoKeeping
from mobileapp.screens.photo_words import short_name
from mobileapp.screens.stamps import when
from mobileapp.screens.thumbnail import Thumbnail
from mobileapp.widgets.field import Field
from mobileapp.widgets.plate import Plate, PlateButton
from mobileapp.widgets.text import Body, Heading


class PhotosScreen(BaseScreen):
    """Puts the chosen photo into the draft of the step before, under `key`, and goes back there.

    A desk that keeps photos keeps it and gives its hash; `about` and `moment` say what it belongs to. Else its path.
    """

    def build(self, key: str = "photo", about: str = "", moment: str = "other", unclaimed: bool = False,
              **args: Any) -> None:  # fmt: skip
        """What was wrong with the last one tried, the photos, and the place to type a path."""
        self.key = key
        self.title = "Photos that belong to nothing" if unclaimed else "Choose a photo"
        self.keeping = PhotoKeeping(self.desk, about, moment, self._came, self._fault) if about else None
        if self.keeping and (empty := self.keeping.came_empty()):
            self.desk.draft["fault"] = empty
        self._say_fault()
        if unclaimed and self.keeping:
            self._list([(path, "belongs to nothing yet") for path in self.keeping.unclaimed()])
            return
        self._offer_camera()
        self._offer_newest()
        self._offer_typing()
        self._offer_unclaimed(about, moment)

    def refresh(self) -> None:
        """A photo that was taken before the app was stopped comes first."""
        super().refresh()
        if self.keeping:
            self.keeping.recover()

    def leave(self) -> None:
        """What is being kept is kept all the same; it does not bring this screen back."""
        super().leave()
        if self.keeping:
            self.keeping.left = True
            self.keeping.cancel()

    # --- what is offered

    def _say_fault(self) -> None:
        self.said = Plate(tone="yellow", shape="refused", text=self.desk.draft.get("fault", ""))
        if self.said.text:
            self.add_widget(self.said)

    def _offer_camera(self) -> None:
        if self.keeping and self.desk.camera:
            self.act_text, self.act_note = self.desk.camera.offer, ""
            self.act_shape, self.act_tone, self.act_ready = "look", "orange", True

    def on_act(self) -> None:
        """Ask the camera; or, where a photo is waited for already, stop waiting."""
        if not self.keeping or not self.desk.camera:
            return
        if self.act_note:
            self.keeping.cancel()
            return
        if self.desk.camera.waiting:
            self.act_text, self.act_note, self.act_tone = "Stop waiting", self.desk.camera.waiting, "yellow"
        self.keeping.photograph()

    def _offer_newest(self) -> None:
        found = newest(self.desk.photo_folders)
        for fault in found.faults:
            self.add_widget(Body(text=fault, ink=look.YELLOW))
        if found.photos:
            self.add_widget(Body(text="Newest first"))
        for photo in found.photos:
            self._offer(photo)
        if not found.photos and not found.faults:
            self.add_widget(Body(text="No photo was found where photos usually are. Take it with the phone's camera "
                                      "and come back here, or type the path of a file."))

    def _offer(self, photo: PhotoFile) -> None:
        self._row(photo.path, when(photo.at, self.desk.clock()), short_name(photo.name))

    def _list(self, photos: list[tuple[str, str]]) -> None:
        for path, note in photos:
            self._row(path, "Photo", note)
        if not photos:
            self.add_widget(Body(text="Every photo belongs to something."))

    def _row(self, path: str, text: str, note: str) -> None:
        row = PlateButton(tone="steel", text=text, note=note)
        row.spacing = mm(3)
        row.add_widget(Thumbnail(path), index=len(row.children))
        row.bind(on_tap=lambda _: self.take(path))
        self.add_widget(row)

    def _offer_typing(self) -> None:
        self.add_widget(Heading(text="Or name a file"))
        self.typed = Field(label="Path of the photo", text=self.desk.draft.get("path", ""), hint="/sdcard/DCIM/…")
        self.typed.bind(text=self._typed, on_enter=lambda _: self.take(self.typed.text))
        self.add_widget(self.typed)
        self._key("Use this file", lambda: self.take(self.typed.text))

    def _offer_unclaimed(self, about: str, moment: str) -> None:
        if self.keeping and self.keeping.store:
            self._key("Photos that belong to nothing yet", lambda: self.desk.instead(
                "photos", key=self.key, about=about, moment=moment, unclaimed=True))  # fmt: skip

    def _key(self, text: str, act: Any) -> None:
        key = PlateButton(tone="steel", shape="go", text=text)
        key.bind(on_tap=lambda _: act())
        self.add_widget(key)

    def _typed(self, _: object, text: str) -> None:
        self.desk.draft["path"] = text
        self.desk.keep()

    # --- what is taken

    def take(self, path: str) -> None:
        """Take this photo if it opens as one; else say what is wrong. Nothing else changes then."""
        path = path.strip()
        if self.keeping and self.keeping.store:
            self.title = "Keeping the photo…"
            self.keeping.keep(path)
            return
        fault = fault_of(path)
        if fault:
            self._fault(fault)
        else:
            self._came(path)

    def _came(self, photo: str) -> None:
        draft = self.desk.trail[-2][1].setdefault("draft", {})
        draft[self.key] = photo
        draft.pop(f"{self.key} remark", None)
        if self.keeping and self.keeping.remark:
            draft[f"{self.key} remark"] = self.keeping.remark
        self.desk.back()

    def _fault(self, words: str) -> None:
        self.desk.draft["fault"] = words
        self.desk.signals.refused()
        self.desk.again()
