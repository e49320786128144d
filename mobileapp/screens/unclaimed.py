"""Photos that belong to nothing yet: each is looked at, and it is said what it belongs to. None is ever deleted."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from kivy.metrics import mm
from kivy.uix.image import Image

from checklists.receipt import ASKED, FILE, NOTED, RESTORED
from checklists.state import Teardown
from checklists.words import sentence
from mobileapp import look
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.receipts import by_file
from mobileapp.screens.aside import in_steps, work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, Faulty
from mobileapp.screens.photo_keeping import PhotoKeeping
from mobileapp.screens.pixels import SMALL_SIDE, Seen, looked_at, texture_of
from mobileapp.screens.stamps import when
from mobileapp.screens.thumbnail import Thumbnail
from mobileapp.unclaimed import asked_elsewhere, look_for, strays
from mobileapp.widgets.plate import Plate, PlateButton
from mobileapp.widgets.text import Body

TITLE = "Photos that belong to nothing"
_WHY = "The app was stopped before it was written down what they show. Say what each belongs to; none is deleted."
_SINCE = {
    NOTED: "received {}", ASKED: "camera asked for it {}", FILE: "file of {}", RESTORED: "back from a backup {}",
}  # fmt: skip
_ENDED = "Nothing is added to a teardown that has ended. "
_NONE_IN_HAND = "Take an open teardown in hand, and say there what it belongs to. Until then it stays where it is."


class UnclaimedScreen(BaseScreen):
    """`path` is the photo to look at; without it the list."""

    def build(self, path: str = "", **_: Any) -> None:
        """The list, or the one photo and what it may belong to."""
        self.path, self.left = path, False
        self.keeping: PhotoKeeping | None = None
        self.title = TITLE
        if path:
            self._show_one()
        else:
            look_for(self.desk, self._list)

    def leave(self) -> None:
        """What is still being made is not shown any more; what is being kept is kept all the same."""
        super().leave()
        self.left = True
        if self.keeping is not None:
            self.keeping.left = True

    # --- the list

    def _list(self, paths: list[Path]) -> None:
        if self.left:
            return
        self.brought = {shot.path: shot.received for shot in strays(self.desk)}
        self.add_widget(Body(text=_WHY if paths else "Every photo belongs to something."))
        in_steps(partial(self._add, path) for path in paths)

    def _add(self, path: Path) -> None:
        if not self.left:
            self.add_widget(self._row(path))

    def _row(self, path: Path) -> PlateButton:
        row = PlateButton(tone="steel", text="Photo", note=self._when(path), text_size_sp=look.BODY)
        row.spacing = mm(3)
        row.add_widget(Thumbnail(str(path)), index=len(row.children))
        row.bind(on_tap=lambda _: self.desk.go("unclaimed", path=str(path)))
        return row

    def _when(self, path: Path) -> str:
        """When this phone had it, and by what that is known."""
        store = self.desk.photos
        try:
            receipt = self.brought.get(path) or (store and store.receipt_of(path)) or by_file(path)
        except (OSError, PhotoError):
            return "of an unknown time"
        return _SINCE[receipt.by].format(when(receipt.at, self.desk.clock()))

    # --- one of them

    @property
    def _open(self) -> bool:
        return self.desk.service is not None and not self.desk.state.ended

    def _show_one(self) -> None:
        self.title = "What does it show?"
        if fault := self.desk.draft.get("fault", ""):
            self.add_widget(Plate(tone="yellow", shape="refused", text=fault))
        self.picture = Image(size_hint_y=None, height=mm(34), fit_mode="contain", color=(1, 1, 1, 0.08))
        self.under = Faulty(self.picture)
        self.add_widget(self.under)
        work_aside(partial(looked_at, Path(self.path), SMALL_SIDE * 3), self._put)
        if asked := asked_elsewhere(self.desk, self.path):
            self.add_widget(Body(text=asked))
        if not self._open:
            self.add_widget(Body(text=("" if self.desk.service is None else _ENDED) + _NONE_IN_HAND))
            return
        self.belongs = Choices(self.desk, "about", "It belongs to", choices(self.desk.state), self._offer)
        self.add_widget(self.belongs)
        self.keeping = PhotoKeeping(self.desk, "", "other", lambda _: self.desk.back(), self._fault)
        self._offer()

    def _offer(self) -> None:
        ready = bool(self.belongs.value)
        self.act_text, self.act_shape, self.act_tone, self.act_ready = "Keep it with this", "look", "orange", ready
        self.act_note = "" if ready else "choose what it belongs to"

    def _put(self, seen: Seen) -> None:
        if self.left:
            return
        if seen.pixels is None:
            self.under.say_fault("It cannot be opened as a picture. Its file is left as it is.")
            return
        self.picture.texture, self.picture.color = texture_of(seen.pixels), (1, 1, 1, 1)
        self.under.say_fault(seen.remark)

    def on_act(self) -> None:
        """Keep it with what was chosen."""
        if self.keeping is not None and self.belongs.value:
            self.keeping.purpose = self.keeping.purpose._replace(about=self.belongs.value)
            self.keeping.keep(self.path)

    def _fault(self, words: str) -> None:
        self.desk.draft["fault"] = words
        self.desk.signals.refused()
        self.desk.again()


def choices(t: Teardown) -> list[Choice]:
    """Everything of a teardown that a photo can belong to: what one photographs most often comes first."""
    return [
        Choice("teardown:", "The machine as a whole"),
        *(Choice(f"opening:{key}", sentence(one.name), "opening") for key, one in t.openings.items()),
        *(Choice(f"find:{key}", sentence(one.logged.what), "find") for key, one in t.finds.items()),
        *(Choice(f"closure:{key}", sentence(one.name), "closure") for key, one in t.closures.items()),
        Choice("handover:", "The handover"),
        *(Choice(f"line:{key}", sentence(one.name), "item or broken part") for key, one in t.lines.items()),
    ]
