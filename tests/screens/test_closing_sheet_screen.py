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
from checklists.facts import FindLogged
from mobileapp.device.share import PDF, where
from mobileapp.widgets.plate import Plate


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
