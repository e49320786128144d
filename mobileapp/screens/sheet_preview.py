"""The pages of the closing sheet as they will be printed: turned over, and looked at closely."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from kivy.metrics import mm

from checklists.account.parts import Account
from checklists.closing_account import make_account
from mobileapp import look
from mobileapp.screens.aside import work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import side_by_side
from mobileapp.screens.pixels import Pixels, texture_of
from mobileapp.screens.zoom_keys import ZoomKeys
from mobileapp.widgets.text import Small
from mobileapp.widgets.zoom_view import ZoomView

if TYPE_CHECKING:
    from mobileapp.paper.pictures import Pictured
    from mobileapp.paper.preview import Preview


class SheetPreviewScreen(BaseScreen):
    """`paper` is its size, `page` the one that is shown, counted from 0.

    Account, photos and pages are made beside the main thread. The photos, print size, are held as for the PDF; of the
    pages only the one that is shown.
    """

    def build(self, paper: str = "A4", page: int = 0, **_: Any) -> None:
        """The page gets all the room there is, the tally's too."""
        self.title, self.paper, self.page, self.left = "Pages", paper, page, False
        self.drop_shown = not self.desk.state.ended
        self.scrolls = self.tally_shown = False
        self.body.spacing = mm(2)
        self.preview: Preview | None = None
        self.pictures: dict[str, Pictured] = {}
        self.view = ZoomView()
        self.add_widget(self.view)
        self.said = Small(text="Reading the record…", most=look.TIGHT_MOST)
        self.add_widget(self.said)
        self.keys = ZoomKeys(self, self.view, self._turn)
        self.keys.say_place(0, 1)
        self.add_widget(side_by_side(self.keys.previous, self.keys.next))
        work = self.desk.work
        history, heads = tuple(work.state.history), work.journal.heads(work.id)
        work_aside(lambda: make_account(work.id, history, heads), self._read, (ValueError,), long=True)

    def leave(self) -> None:
        """Whatever comes now is not shown."""
        super().leave()
        self.left = True

    def _read(self, account: Account | Exception) -> None:
        if isinstance(account, Exception):
            self._say(f"The record cannot be told ({account}).")
        elif not self.left:
            self._prepare(account, _shas(account) if self.desk.photos is not None else [])

    def _prepare(self, account: Account, shas: list[str], done: int = 0) -> None:
        """The photos one by one, so that it can be left at any time; then the pages."""
        if self.left:
            return
        if done < len(shas):
            self.said.text = f"Making photo {done + 1} of {len(shas)} ready…"
            sha = shas[done]
            work = partial(_prepared, self.desk.photos, sha)
            work_aside(work, lambda one: self._kept(account, shas, done, one), long=True)
            return
        self.said.text = "Setting the pages…"
        work_aside(partial(_pages, account, self.pictures, self.paper), self._paged, (OSError,), long=True)

    def _kept(self, account: Account, shas: list[str], done: int, one: Pictured) -> None:
        self.pictures[shas[done]] = one
        self._prepare(account, shas, done + 1)

    def _paged(self, preview: Preview | Exception) -> None:
        if isinstance(preview, Exception):
            self._say(f"The pages cannot be made ({preview}).")
        elif not self.left:
            self.preview = preview
            self.page = min(max(self.page, 0), preview.count - 1)
            self._show()

    # --- one page

    def _turn(self, by: int) -> None:
        self.page += by
        self.desk.trail[-1][1]["page"] = self.page
        self.desk.keep()
        self._show()

    def _show(self) -> None:
        preview = self.preview
        if preview is None:
            return
        self.title = f"Page {self.page + 1} of {preview.count}"
        self.said.text = f"{self.paper}, as printed. Drag aside to turn."
        self.keys.say_place(self.page, preview.count)
        work_aside(partial(_pixels, preview, self.page), partial(self._drawn, self.page), (OSError,))

    def _drawn(self, page: int, pixels: Pixels | Exception) -> None:
        if self.left or page != self.page:
            return
        if isinstance(pixels, Exception):
            self._say(f"This page cannot be drawn ({pixels}).")
        else:
            self.view.show(texture_of(pixels))

    def _say(self, words: str) -> None:
        self.said.ink, self.said.text = look.YELLOW, words

    def on_act(self) -> None:
        """Closer."""
        self.keys.closer()


# --- beside the main thread; what makes paper is loaded there as well


def _shas(account: Account) -> list[str]:
    return list(dict.fromkeys(picture.sha for picture in account.pictures() if picture.kept))


def _prepared(photos: Any, sha: str) -> Pictured:
    from mobileapp.paper.pictures import prepare

    return prepare(photos, sha)


def _pages(account: Account, pictures: dict[str, Pictured], paper: str) -> Preview:
    from mobileapp.paper.preview import Preview

    return Preview(account, pictures, paper)


def _pixels(preview: Preview, page: int) -> Pixels:
    image = preview.draw(page)
    return Pixels(image.size, image.tobytes())
