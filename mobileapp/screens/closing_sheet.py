"""The closing sheet: what it says as text, its state largest, and the key that writes it as a PDF to give away."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from checklists.account.parts import CLOSED, DRAFT, Account, Pictures
from checklists.closing_account import make_account
from mobileapp import look
from mobileapp.device.share import PDF, where
from mobileapp.photos.errors import PhotoError
from mobileapp.photos.store import PhotoStore
from mobileapp.screens.account_parts import shown
from mobileapp.screens.aside import in_steps, work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, facts, key_row
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading, Small

PAPERS = (Choice("A4", "A4", "210 x 297 mm"), Choice("Letter", "Letter", "8.5 x 11 in"))
_LOOKS = {CLOSED: ("sky", "gate"), DRAFT: ("bone", "unchosen")}
_DRAFT_MARK = "Every page of the PDF bears the mark DRAFT until the teardown is closed or released."


class ClosingSheetScreen(BaseScreen):
    """`section` is the number of the part that is read; without it the front page."""

    def build(self, section: int = -1, **_: Any) -> None:
        """The account is put together beside the main thread: of a long job it takes a while."""
        self.section, self.left = section, False
        self.account: Account | None = None
        self.title = "Closing sheet"
        self.drop_shown = not self.desk.state.ended
        self.waiting = Body(text="Reading the record…")
        self.add_widget(self.waiting)
        work = self.desk.work
        history, heads = tuple(work.state.history), work.journal.heads(work.id)
        work_aside(lambda: make_account(work.id, history, heads), self._read, (ValueError,))

    def leave(self) -> None:
        """Whatever comes now is not shown."""
        super().leave()
        self.left = True

    def _read(self, account: Account | Exception) -> None:
        if self.left:
            return
        self.body.remove_widget(self.waiting)
        if isinstance(account, Exception):
            self.add_widget(Plate(tone="yellow", shape="refused", text=f"The record cannot be told ({account})."))
            return
        self.account = account
        if 0 <= self.section < len(account.sections):
            self._show_section(account)
        else:
            self._show_front(account)

    # --- what it says

    def _show_front(self, account: Account) -> None:
        tone, shape = _LOOKS.get(account.state, ("yellow", "refused"))
        state = Plate(tone=tone, shape=shape, text=account.state, text_size_sp="44sp", most="52dp", glyph_mm=12)
        self.add_widget(state)
        self._offer_written()
        self.add_widget(key_row("See the pages", self._see, "as they will be printed", shape="look"))
        self.add_widget(Body(text=account.state_words))
        if account.is_draft:
            self.add_widget(Small(text=_DRAFT_MARK))
        self.add_widget(Heading(text=account.machine))
        ended = [f"Ended {account.ended}"] if account.ended else []
        said = [account.people, f"Started {account.started}", *ended, account.tally_words]
        self.add_widget(facts(account.sheet, said))
        self.paper = Choices(self.desk, "paper", "Paper", PAPERS, self._ready)
        self.add_widget(self.paper)
        self._ready()
        in_steps(partial(self._add, part) for part in self._sections(account))

    def _sections(self, account: Account) -> Iterator[Callable[[], Any]]:
        yield lambda: Heading(text="What it says")
        for number, section in enumerate(account.sections):
            photos = sum(len(block.pictures) for block in section.blocks if isinstance(block, Pictures))
            note = f"{photos} photo{'s' if photos > 1 else ''}" if photos else ""
            yield partial(key_row, section.title, partial(self.desk.go, "closing_sheet", section=number), note)
        yield lambda: Small(text="\n".join(f"Head {head[:16]}…" for _, head in account.heads))

    def _add(self, make: Callable[[], Any]) -> None:
        if not self.left:
            self.add_widget(make())

    def _show_section(self, account: Account) -> None:
        section = account.sections[self.section]
        self.title = section.title
        parts = (part for block in section.blocks for part in shown(block, self._look_at))
        in_steps(partial(self._add, partial(_itself, part)) for part in parts)

    def _look_at(self, sha: str) -> None:
        self.desk.go("photo_view", sha=sha)

    def _see(self) -> None:
        self.desk.go("sheet_preview", paper=str(self.desk.draft["paper"]))

    # --- writing it

    def _ready(self) -> None:
        self.desk.draft.setdefault("paper", "A4")
        self.act_text, self.act_shape, self.act_tone, self.act_ready = "Write the PDF", "signed", "orange", True
        draft = ", marked DRAFT" if self.account and self.account.is_draft else ""
        self.act_note = f"{self.desk.draft['paper']}{draft}"

    def on_act(self) -> None:
        """Write it beside the main thread: photos take their time."""
        if self.account is None or self.section >= 0 or not self.act_ready:
            return
        self.act_ready, self.act_text, self.act_note = False, "Writing…", ""
        target = self.desk.folder("sheets") / name_of(self.account)
        work = partial(write_sheet, self.account, self.desk.photos, target, str(self.desk.draft["paper"]))
        work_aside(work, self._written, (OSError, PhotoError, ValueError), long=True)

    def _written(self, path: Path | Exception) -> None:
        if self.left:
            return
        if isinstance(path, Exception):
            self.desk.draft.pop("written", None)
            self.desk.draft["fault"] = f"The sheet was not written ({path}). Free some space, then write it again."
            self.desk.signals.refused()
        else:
            self.desk.draft.update(written=str(path), fault="")
        self.desk.again()

    def _offer_written(self) -> None:
        if fault := self.desk.draft.get("fault"):
            self.add_widget(Plate(tone="yellow", shape="refused", text=fault, text_size_sp=look.BODY))
        written = self.desk.draft.get("written")
        if written:
            said = self.desk.draft.get("shared", "")
            place = where(Path(written))
            self.add_widget(Plate(tone="sky", shape="gate", text="The PDF is written", note=place, glyph_mm=7))
            self.add_widget(key_row("Share the PDF", self._share, said))

    def _share(self) -> None:
        path = Path(str(self.desk.draft["written"]))
        self.desk.draft["shared"] = self.desk.share.file(path, PDF, f"Closing sheet: {self.desk.state.machine}")
        self.desk.again()


def _itself(part: Any) -> Any:
    return part


def name_of(account: Account) -> str:
    """What the file is called: the teardown, and how it stands."""
    plain = "".join(letter if letter.isalnum() or letter in "-_" else "-" for letter in account.teardown)
    return f"closing-sheet-{plain}-{account.state.lower().replace(' ', '-')}.pdf"


def write_sheet(account: Account, photos: PhotoStore | None, target: Path, paper: str) -> Path:
    """Write the PDF of an account; where it is, once it is whole on the storage."""
    from mobileapp.paper.closing_sheet import closing_sheet, shas_of
    from mobileapp.paper.pictures import prepare_all
    from mobileapp.photos.safe_file import write_safely

    pictures = prepare_all(photos, shas_of(account)) if photos is not None else {}
    target.parent.mkdir(parents=True, exist_ok=True)
    write_safely(target, closing_sheet(account, pictures, paper))
    return target
