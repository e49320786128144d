"""The closing sheet on the screen: its state largest, every part as text, the PDF written and shared."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from screens import touch
from screens.photo_work import PhotoWork

from checklists import builders
from checklists.closing_account import make_account
from checklists.facts import FindLogged
from mobileapp.device.share import PDF, where
from mobileapp.paper.closing_sheet import shas_of
from mobileapp.paper.pictures import prepare_all
from mobileapp.paper.preview import Preview
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.zoom_view import ZoomView


class KeptShare:
    """Keeps what it was asked to share."""

    def __init__(self) -> None:
        self.shared: list[tuple[Path, str, str]] = []

    def file(self, path: Path, media: str, title: str) -> str:
        self.shared.append((path, media, title))
        return "Offered."


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    work = PhotoWork(tmp_path)
    work.does(FindLogged("f1", "old washer", "", work.keeps("find:f1", "before", "washer.png")))
    yield work
    work.let_go()


def opens(work: PhotoWork, **args: Any) -> None:
    work.shows("closing_sheet", **args)
    work.wait()


def plate(work: PhotoWork, text: str) -> Any:
    return next(one for one in touch.find_all(work.screen, cls=Plate) if one.text == text)


def test_a_draft_says_so_in_the_largest_type_and_bears_its_mark(work: PhotoWork) -> None:
    work.shows("board")
    work.tap("Closing sheet")
    work.wait()
    others = [label for label in touch.labels(work.screen.body) if label.text != "DRAFT"]
    assert plate(work, "DRAFT")
    largest = max(label.font_size for label in others)
    drawn = next(label for label in touch.labels(work.screen.body) if label.text == "DRAFT")
    assert drawn.font_size > largest
    assert work.says("the teardown is still open")
    assert work.says("bears the mark DRAFT")
    assert work.screen.act_note == "A4, marked DRAFT"


def test_the_pdf_is_written_on_the_chosen_paper_and_shared(work: PhotoWork) -> None:
    work.desk.share = share = KeptShare()
    opens(work)
    work.chooses("Letter")
    work.act()
    work.wait()
    path = work.folder / "sheets" / "closing-sheet-id-2-draft.pdf"
    assert work.says(where(path))
    page = PdfReader(path).pages[0]
    assert [round(float(side)) for side in page.mediabox[2:]] == [612, 792]
    assert "DRAFT" in page.extract_text()
    work.wait()
    work.tap("Share the PDF")
    assert share.shared == [(path, PDF, "Closing sheet: harbour workboat, main engine")]


def test_every_part_can_be_read_and_its_photos_looked_at(work: PhotoWork) -> None:
    opens(work)
    work.tap(has="Finds")
    work.wait()
    assert work.screen.title == "Finds"
    assert work.says("Find 1: old washer")
    assert not work.screen.act_text
    work.tap(has="Photo 1")
    assert work.name == "photo_view"
    work.wait()


def test_released_is_no_closure_and_its_signature_is_shown(work: PhotoWork) -> None:
    drawn = ((100, 800, 500, 200, 900, 800),)
    work.does(builders.release("the lock closes", "ports, twice", work.desk.work.head, drawn))
    opens(work)
    assert plate(work, "NOT CLEAR").tone == "yellow"
    assert work.screen.act_note == "A4"
    assert not work.screen.drop_shown


def test_storage_that_cannot_be_written_is_said(work: PhotoWork) -> None:
    (work.folder / "sheets").write_text("a file where the folder should be")
    opens(work)
    work.act()
    work.wait()
    work.wait()
    assert work.says("The sheet was not written")
    assert work.screen.act_text == "Write the PDF"


# ---- its pages


def pages(work: PhotoWork, **args: Any) -> ZoomView:
    """The screen with the pages, the first one drawn."""
    work.shows("sheet_preview", **args)
    for _ in range(5):
        work.wait()
    return touch.find(work.screen, cls=ZoomView)


def test_the_pages_are_seen_as_they_will_be_printed(work: PhotoWork) -> None:
    opens(work)
    work.chooses("Letter")
    work.tap("See the pages")
    for _ in range(5):
        work.wait()
    view = touch.find(work.screen, cls=ZoomView)
    account = make_account(work.desk.work.id, work.state.history, work.desk.journal.heads(work.desk.work.id))
    preview = Preview(account, prepare_all(work.store, shas_of(account)), "Letter")
    assert work.screen.title == f"Page 1 of {preview.count}"
    assert tuple(view.texture.size) == preview.draw(0).size
    assert bytes(view.texture.pixels)[:: 4 * 997] == preview.draw(0).convert("RGBA").tobytes()[:: 4 * 997]
    assert work.key("Previous").disabled
    assert touch.faults(work.shell) == []


def test_pages_are_turned_by_keys_and_by_a_finger_and_looked_at_closely(work: PhotoWork) -> None:
    view = pages(work)
    touch.draw(view, ((0.8, 0.5), (0.3, 0.5)))
    work.wait()
    assert work.screen.title.startswith("Page 2 of ")
    work.act()
    assert view.zoom > 1
    touch.draw(view, ((0.8, 0.5), (0.3, 0.5)))
    work.wait()
    assert work.screen.title.startswith("Page 2 of "), "a page looked at closely is dragged, not turned"
    work.tap("Previous")
    work.wait()
    assert work.screen.title.startswith("Page 1 of ")
    work.tap("Next")
    work.kill_and_start()
    for _ in range(5):
        work.wait()
    assert work.screen.title.startswith("Page 2 of "), "a stopped app comes back to the page"
