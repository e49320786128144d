"""The photos of a teardown: a strip of them, and one to look at closely with fingers or with large keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from kivy.metrics import mm
from kivy.uix.image import Image

from mobileapp import look
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.store import PhotoStore
from mobileapp.screens.aside import in_steps
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import key_row, side_by_side
from mobileapp.screens.photo_words import caption, taken_and_kept
from mobileapp.screens.pixels import CLOSE_SIDE, SMALL_SIDE, Pixels, Seen, looked_at, pixels_of, texture_of
from mobileapp.screens.stamps import when
from mobileapp.screens.zoom_keys import ZoomKeys
from mobileapp.widgets.plate import PlateButton
from mobileapp.widgets.text import Body, Small
from mobileapp.widgets.zoom_view import ZoomView

#: So many rows at a time.
CHUNK = 8
ROOMY_MM = 120


class PhotoViewScreen(BaseScreen):
    """`sha` is the photo to look at; without it the strip. `about` keeps to the photos of one thing."""

    def build(self, sha: str = "", about: str = "", **_: Any) -> None:
        """The strip, or the one photo."""
        self.about, self.sha, self.left = about, sha, False
        t = self.desk.state
        self.drop_shown = not t.ended
        self.shas = [one for one, (fact, _) in t.photos.items() if about in ("", fact.about)]
        self.store: PhotoStore | None = self.desk.photos
        if sha in t.photos:
            self._show_one()
        else:
            self._show_strip()

    def leave(self) -> None:
        """Pictures still being made are not shown any more."""
        super().leave()
        self.left = True

    # --- the strip

    def _show_strip(self) -> None:
        self.title = "Photos"
        if not self.shas:
            self.add_widget(Body(text="No photo is kept yet. Photos of openings, finds and closures come here."))
        self._add_rows(max(CHUNK, self.desk.draft.get("shown", 0)))

    def _add_rows(self, most: int) -> None:
        in_steps(partial(self._add, part) for part in self._rows(most))

    def _rows(self, most: int) -> Iterator[Callable[[], Any]]:
        for sha in reversed(self.shas[-most:]):
            yield partial(self._row, sha)
        if (more := len(self.shas) - most) > 0:
            yield lambda: key_row(f"{more} older", partial(self._more, most + CHUNK), shape="more")

    def _add(self, make: Callable[[], Any]) -> None:
        if not self.left:
            self.add_widget(make())

    def _more(self, most: int) -> None:
        self.desk.draft["shown"] = most
        self.desk.again()

    def _row(self, sha: str) -> PlateButton:
        fact, mark = self.desk.state.photos[sha]
        note = f"{when(mark.at, self.desk.clock())}, {mark.who}"
        row = PlateButton(tone="steel", text=caption(self.desk.state, fact), note=note, text_size_sp=look.BODY)
        row.spacing = mm(3)
        picture = Image(size_hint=(None, None), size=(mm(20), mm(16)), pos_hint={"center_y": 0.5},
                        fit_mode="contain")  # fmt: skip
        picture.color = (1, 1, 1, 0.08)
        row.add_widget(picture, index=len(row.children))
        row.bind(on_tap=lambda _: self.desk.go("photo_view", sha=sha, about=self.about))
        self._make(sha, SMALL_SIDE, partial(_put, picture), row)
        return row

    # --- one of them

    def _show_one(self) -> None:
        """The picture gets all the room there is, the tally's too: one is looking, not counting."""
        self.scrolls = self.tally_shown = False
        self.body.spacing = mm(2)
        self.view = ZoomView()
        self.add_widget(self.view)
        self.said = Small(most=look.TIGHT_MOST)
        self.add_widget(self.said)
        self.keys = ZoomKeys(self, self.view, self._turn)
        if len(self.shas) > 1:
            self.add_widget(side_by_side(self.keys.previous, self.keys.next))
        self._look()

    @staticmethod
    def _has_room() -> bool:
        """Where height is short the picture comes first: the strip says the times too."""
        from kivy.core.window import Window

        return bool(Window.height > mm(ROOMY_MM))

    def _turn(self, by: int) -> None:
        """Another one of the strip, as near and at the same spot: so one compares. Coming back comes back to it."""
        self.sha = self._strip[self._at + by]
        self.desk.trail[-1][1]["sha"] = self.sha
        self.desk.keep()
        self._look()

    @property
    def _strip(self) -> list[str]:
        """The photos as the strip shows them: newest first."""
        return self.shas[::-1]

    @property
    def _at(self) -> int:
        return self._strip.index(self.sha)

    def _look(self) -> None:
        t = self.desk.state
        fact, mark = t.photos[self.sha]
        self.title = f"{self._at + 1} of {len(self.shas)}" if len(self.shas) > 1 else "Photo"
        self.keys.say_place(self._at, len(self.shas))
        self.said.ink = look.DIM
        times = taken_and_kept(fact, mark, self.desk.clock())
        self.said.text = f"{caption(t, fact)}. {times}" if self._has_room() else caption(t, fact)
        self.view.texture = None
        self._make(self.sha, SMALL_SIDE * 2, partial(self._first, self.sha), None)

    def _first(self, sha: str, pixels: Pixels) -> None:
        """The small picture at once, then the one to look at closely."""
        self.view.show(texture_of(pixels))
        store = self.store
        if store is not None:
            store.later(lambda: looked_at(store.path(sha), CLOSE_SIDE), partial(self._close, sha))

    def _close(self, sha: str, seen: Seen | PhotoError) -> None:
        if self.left or sha != self.sha:
            return
        if not isinstance(seen, Seen):
            self._say(str(seen))
        elif seen.pixels is None:
            self._say("It cannot be opened any larger.")
        else:
            self.view.show(texture_of(seen.pixels))
            if seen.remark:
                self._say(f"{self.said.text} {seen.remark}".strip())

    # --- beside the main thread

    def _make(self, sha: str, side: int, show: Any, row: Any) -> None:
        """Make a small picture of a photo and show it, or say why there is none."""
        store = self.store
        if store is None:
            self._fault(row, "This desk keeps no photos.")
            return

        def made(pixels: Pixels | PhotoError | None) -> None:
            if self.left or (row is None and sha != self.sha):
                return
            if isinstance(pixels, Pixels):
                show(pixels)
            else:
                self._fault(row, str(pixels) if pixels else "It cannot be opened.")

        store.later(lambda: pixels_of(Path(store.thumbnail(sha)), side), made)

    def _fault(self, row: Any, words: str) -> None:
        if row is None:
            self._say(words)
        else:
            row.note = f"{row.note}\n{words}"

    def _say(self, words: str) -> None:
        self.said.ink, self.said.text = look.YELLOW, words

    def on_act(self) -> None:
        """Closer."""
        if self.sha in self.desk.state.photos:
            self.keys.closer()


def _put(picture: Any, pixels: Pixels) -> None:
    picture.texture = texture_of(pixels)
    picture.color = (1, 1, 1, 1)
