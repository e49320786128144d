"""The preview is the sheet: as many pages, the same words at the same places, the same code, the same photos."""

from __future__ import annotations

from pathlib import Path

import pytest
import zxingcpp
from paper.paper_shop import PEOPLE, PaperShop, opened, words_of
from PIL import Image

from checklists.facts import Person
from mobileapp.paper.closing_sheet import closing_sheet, shas_of
from mobileapp.paper.code import read_code
from mobileapp.paper.ink import Photo, Text
from mobileapp.paper.measures import POINT, SIZES
from mobileapp.paper.pictures import Pictured, prepare_all
from mobileapp.paper.preview import HIGH, Preview

Drawn = tuple[bytes, Preview, list[Image.Image]]


def drawn(shop: PaperShop, paper: str) -> Drawn:
    account = shop.account()
    pictures: dict[str, Pictured] = prepare_all(shop.store, shas_of(account))
    preview = Preview(account, pictures, paper)
    return closing_sheet(account, pictures, paper), preview, [preview.draw(page) for page in range(preview.count)]


@pytest.fixture(scope="module", params=sorted(SIZES))
def closed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Drawn:
    people = (*PEOPLE, Person("张伟", "钳工"), Person("سامي الحداد", "fitter"), Person("Łucja Żółć", "fitter"))
    shop = PaperShop(tmp_path_factory.mktemp("preview"), people=people)
    shop.work()
    made = drawn(shop, request.param)
    shop.close()
    return made


@pytest.fixture
def draft(tmp_path: Path) -> Drawn:
    shop = PaperShop(tmp_path)
    made = drawn(shop, "A4")
    shop.close()
    return made


def darkest(image: Image.Image) -> int:
    return int(image.convert("L").getextrema()[0])


def texts_of(pdf: bytes, page: int) -> list[tuple[str, float, float, float]]:
    """Each printed text as pypdf reads it, with its start, baseline (points from the bottom left) and size."""
    found: list[tuple[str, float, float, float]] = []

    def note(operator: bytes, operands: list[object], cm: list[float], tm: list[float]) -> None:
        if operator == b"Tf":
            note.size = float(str(operands[1]))  # type: ignore[attr-defined]
        if operator == b"Tj":
            found.append((str(operands[0]), float(tm[4]) + cm[4], float(tm[5]) + cm[5], note.size))  # type: ignore[attr-defined]

    opened(pdf).pages[page].extract_text(visitor_operand_before=note)
    return found


def test_it_has_the_pages_of_the_pdf_in_its_shape(closed: Drawn) -> None:
    pdf, _, images = closed
    pages = opened(pdf).pages
    assert len(images) == len(pages) > 3
    for image, page in zip(images, pages, strict=True):
        assert image.height == HIGH
        assert image.width / image.height == pytest.approx(float(page.mediabox.width / page.mediabox.height), abs=1e-3)


def test_where_the_pdf_has_a_text_the_preview_has_ink_and_none_before_it(closed: Drawn) -> None:
    """Positions from pypdf: the letters stand on their baseline, and left of a line's first text the paper is bare."""
    pdf, _, images = closed
    looked = 0
    for number, image in enumerate(images):
        high = float(opened(pdf).pages[number].mediabox.height)
        scale = image.height / high
        for _, x, y, size in texts_of(pdf, number):
            left, base, letter = x * scale, (high - y) * scale, size * scale
            box = tuple(map(round, (left, base - 0.75 * letter, left + 0.75 * letter, base + 1)))
            assert darkest(image.crop(box)) < 140, (number, box)
            looked += 1
        margin = image.crop((0, 0, int(15 / 25.4 * 72 * scale), image.height))
        assert darkest(margin) == 255
    assert looked > 200


def test_a_line_ends_where_the_pdfs_line_ends(closed: Drawn) -> None:
    """The head's hash is 64 letters long: were they set by another measure, its end would be elsewhere."""
    _, preview, images = closed
    ink = next(one for one in preview.pages[0] if isinstance(one, Text) and one.text.startswith("head "))
    scale = HIGH / SIZES[preview.paper.name].height
    wide = preview.letters.width(ink.text, ink.size)
    top, base = round((ink.y - ink.size * POINT * 0.7) * scale), round(ink.y * scale)
    row = images[0].crop((0, top, round((ink.x + wide + 20) * scale), base))
    dark = row.convert("L").point(lambda level: 255 if level < 140 else 0).getbbox()
    assert dark is not None
    assert dark[2] / scale == pytest.approx(ink.x + wide, abs=0.4)


def test_each_page_says_the_words_of_the_pdfs_page(closed: Drawn) -> None:
    pdf, preview, _ = closed
    for page, words in zip(preview.pages, words_of(pdf), strict=True):
        said = [ink.text for ink in page if isinstance(ink, Text) and ink.text.isascii() and ink.text.strip()]
        assert said
        assert [text for text in said if " ".join(text.split()) not in words] == []


def test_its_code_can_be_read(closed: Drawn) -> None:
    (code,) = zxingcpp.read_barcodes(closed[2][0])
    says = read_code(code.text)
    assert says is not None
    assert says.state == "CLOSED"


def test_its_photos_stand_where_the_pdf_has_them(closed: Drawn) -> None:
    pdf, preview, images = closed
    counts = [sum(isinstance(ink, Photo) for ink in page) for page in preview.pages]
    assert counts == [len(page.images) for page in opened(pdf).pages]
    number = next(at for at, count in enumerate(counts) if count)
    ink = next(one for one in preview.pages[number] if isinstance(one, Photo))
    scale = HIGH / preview.paper.height
    x, y = round((ink.x + ink.width * 0.1) * scale), round((ink.y + ink.height * 0.1) * scale)
    red, green, _ = images[number].getpixel((x, y))  # type: ignore[misc]
    assert red > 180 > 80 > green, "the test photos have a red corner"


def test_a_draft_bears_its_mark_on_every_page_and_a_closed_sheet_none(closed: Drawn, draft: Drawn) -> None:
    def marked(image: Image.Image) -> bool:
        levels = image.convert("L").histogram()
        return levels[round(0.87 * 255)] > 50_000

    assert all(map(marked, draft[2]))
    assert not any(map(marked, closed[2]))


def test_it_is_drawn_alike_every_time(draft: Drawn) -> None:
    assert draft[1].draw(0).tobytes() == draft[2][0].tobytes()


def test_a_photo_that_cannot_be_shown_is_missing_in_the_preview_too(tmp_path: Path) -> None:
    shop = PaperShop(tmp_path)
    shop.store.path(shop.photograph("teardown:", "Ines Vardal")).unlink()
    pdf, preview, _ = drawn(shop, "A4")
    assert "missing from the store" in " ".join(words_of(pdf))
    assert "missing from the store" in " ".join(getattr(ink, "text", "") for page in preview.pages for ink in page)
    shop.close()
