"""The closing sheet as an owner or a court reads it: by an independent PDF reader and an independent code reader."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
import zxingcpp
from paper.paper_shop import JOB, PEOPLE, PaperShop, opened, words_of
from photos.photo_maker import jpeg, scene
from PIL import Image
from pypdf import PdfReader
from searched_twice import searched_twice

from checklists import builders
from checklists.facts import FindLogged, FindRemoved, Person
from mobileapp.paper.closing_sheet import closing_sheet, shas_of
from mobileapp.paper.code import read_code
from mobileapp.paper.measures import SIZES
from mobileapp.paper.pictures import SIDE, prepare, prepare_all

REASON = "The boat must leave the berth before the storm; she will be towed."
SEARCH = "Ports with mirror and magnet, bilge sieved; nothing found."


def in_mm(points: object) -> float:
    return float(str(points)) / 72 * 25.4


def sizes_of(page: object) -> dict[str, float]:
    """The size in which each text of a page is set, in points."""
    sizes: dict[str, float] = {}

    def note(text: str, _cm: object, _tm: object, _font: object, size: float) -> None:
        for line in text.strip().splitlines():
            sizes[line] = max(sizes.get(line, 0.0), size)

    page.extract_text(visitor_text=note)
    return sizes


def release(shop: PaperShop) -> None:
    shop.work_until("look")
    shop.record(builders.miss(shop.teardown, "rag", 1, "stores", "counted short"), "Ines Vardal")
    for fact, who in searched_twice(shop.teardown, "Ines Vardal", "Tomas Reke"):
        shop.record(fact, who)
    shop.record(builders.released(shop.teardown, REASON, SEARCH, ""), "Tomas Reke")


# ---- what it says first


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_it_is_on_the_paper_that_was_asked_for(closed: PaperShop, paper: str) -> None:
    for page in opened(closed.sheet(paper)).pages:
        wide, high = in_mm(page.mediabox.width), in_mm(page.mediabox.height)
        assert (wide, high) == pytest.approx((SIZES[paper].width, SIZES[paper].height), abs=0.1)


def test_closed_stands_in_the_largest_type(closed: PaperShop) -> None:
    first, *others = opened(closed.sheet()).pages
    sizes = sizes_of(first)
    assert sizes.pop("CLOSED") > 3 * max(sizes.values())
    assert all(max(sizes_of(page).values()) < 20 for page in others)


def test_released_not_clear_stands_in_the_largest_type_with_reason_search_and_name(shop: PaperShop) -> None:
    release(shop)
    pages = opened(shop.sheet()).pages
    sizes = sizes_of(pages[0])
    assert sizes.pop("NOT CLEAR") > 3 * max(sizes.values())
    first = words_of(shop.sheet())[0]
    assert f"Why it was released: {REASON}" in first
    assert "Search made: Rag: searched sump by magnet (Ines Vardal, 2026-03-02 " in first
    assert f"By a second person as well: sump, valve gear and inlet tract behind the breather. {SEARCH}" in first
    told = " ".join(words_of(shop.sheet()))
    assert "Searched for: 1 rag" in told
    assert told.count("twice, two people") == 3
    assert "Released by Tomas Reke, 2026-03-02" in first
    assert "This is not a closure" in first
    assert "CLOSED" not in first
    assert all("NOT CLEAR" in words for words in words_of(shop.sheet()))


def test_a_draft_is_marked_on_every_page_and_a_closed_sheet_on_none(shop: PaperShop) -> None:
    shop.work_until("second count")
    drafts = opened(shop.sheet()).pages
    assert len(drafts) > 1
    assert all(sizes_of(page)["DRAFT"] > 100 for page in drafts)
    assert "What stands against closing" in words_of(shop.sheet())[0]
    shop.work()
    assert not any("DRAFT" in words for words in words_of(shop.sheet()))


def test_every_page_has_the_head_and_its_number(closed: PaperShop) -> None:
    pages = words_of(closed.sheet())
    for number, words in enumerate(pages, 1):
        assert f"head {closed.journal.head(JOB)}" in words
        assert f"page {number} of {len(pages)}" in words


# ---- the code


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_the_code_tells_teardown_state_and_head_to_any_reader(closed: PaperShop, paper: str) -> None:
    """The code's squares are taken from the page's own boxes, drawn as a printer would, and read by zxing."""
    page = opened(closed.sheet(paper)).pages[0]
    (read,) = zxingcpp.read_barcodes(drawn(page.get_contents().get_data(), page.mediabox))
    assert read.format == zxingcpp.BarcodeFormat.QRCode
    says = read_code(read.text)
    assert (says.teardown, says.state, says.heads) == (JOB, "CLOSED", (("phone-a", closed.journal.head(JOB)),))


def drawn(content: bytes, box: object, scale: float = 4.0) -> Image.Image:
    """The filled boxes of a page as a picture."""
    wide, high = float(box.width), float(box.height)
    picture = Image.new("L", (round(wide * scale), round(high * scale)), 255)
    for found in re.finditer(rb"([\d.-]+) ([\d.-]+) ([\d.-]+) ([\d.-]+) re f", content):
        x, y, width, height = map(float, found.groups())
        left, top, right, bottom = x, high - max(y, y + height), x + width, high - min(y, y + height)
        picture.paste(0, tuple(round(edge * scale) for edge in (left, top, right, bottom)))
    return picture


# ---- photos


def test_every_photo_is_there_with_its_caption_and_hash(shop: PaperShop) -> None:
    shop.work_until("look")
    before = shop.photograph("find:flake", "Ines Vardal", "before")
    shop.photograph(f"opening:{next(iter(shop.teardown.openings))}", "Ines Vardal", "baseline")
    shop.record(FindLogged("flake", "a flake of paint", "", before), "Ines Vardal")
    shop.record(FindRemoved("flake", "with fingers", "to be taken", "in the job box"), "Tomas Reke")
    shop.work()
    words = " ".join(words_of(shop.sheet()))
    account = shop.account()
    numbers = [picture.number for picture in account.pictures()]
    assert sorted(numbers) == list(range(1, len(shop.teardown.photos) + 1))
    for picture in account.pictures():
        assert f"Photo {picture.number}. {picture.title}" in words
        assert f"SHA-256 {picture.sha[:12]}" in words
    assert re.search(r"Taken 2026-03-02 \d\d:\d\d:\d\d \+01:00 by the camera", words)
    assert "Find before: a flake of paint" in words
    assert "Find after: a flake of paint" in words


def test_the_photos_are_shown_upright_and_no_larger_than_print_needs(closed: PaperShop) -> None:
    images = [image for page in opened(closed.sheet()).pages for image in page.images]
    assert len(images) == len(closed.teardown.photos)
    for image in images:
        picture = Image.open(io.BytesIO(image.data)).convert("RGB")
        assert max(picture.size) <= SIDE
        red, green, blue = picture.getpixel((20, 20))
        assert red > 180 > 60 > max(green, blue)  # the scene's red corner is top left


def test_a_photo_that_is_missing_or_altered_is_said_so_in_its_place(closed: PaperShop) -> None:
    first, second = list(closed.teardown.photos)[:2]
    closed.store.path(first).unlink()
    altered = closed.store.path(second)
    altered.chmod(0o644)
    altered.write_bytes(altered.read_bytes()[:-1] + b"\x00")
    words = " ".join(words_of(closed.sheet()))
    assert "This photo is missing from the store." in words
    assert "This photo was altered after it was kept: its bytes have another hash. It is not shown." in words
    for picture in closed.account().pictures():
        assert f"Photo {picture.number}. {picture.title}" in words
    shown = [image for page in opened(closed.sheet()).pages for image in page.images]
    assert len(shown) == len(closed.teardown.photos) - 2


def test_a_torn_photo_is_shown_and_what_its_bytes_say_stands_below_it(closed: PaperShop) -> None:
    torn = jpeg(scene(640, 480, seed=99))
    torn = torn[: len(torn) // 2] + bytes(600) + torn[len(torn) // 2 + 600 :]
    account = closed.account()
    pictures = prepare_all(closed.store, shas_of(account))
    pictures[next(iter(pictures))] = prepare(closed.store, closed.store.keep(torn, closed.now).sha)
    words = " ".join(words_of(closing_sheet(account, pictures)))
    odd = "zeros in a row in its picture data, as a storage fault leaves them. It is shown as it came."
    assert words.count(odd) == 1
    assert "zeros in a row" not in " ".join(words_of(closed.sheet()))


# ---- letters


NAMES = ["Łucja Żółćiński", "Ελένη Παππά", "Ждан Ющенко", "Şükrü Çağlayıcı", "Nguyễn Thị Hồng Hạnh", "Jiří Dvořák"]


def test_names_of_many_languages_are_printed_and_read_back(tmp_path: Path) -> None:
    shop = PaperShop(tmp_path, people=tuple(Person(name, "fitter") for name in NAMES))
    words = " ".join(words_of(shop.sheet()))
    assert all(name in words for name in NAMES)
    assert "no letters for" not in words
    shop.close()


def test_letters_beyond_the_fonts_are_said_by_number_and_the_sheet_says_so(tmp_path: Path) -> None:
    """Also a sign that turns the reading direction: it is shown, not obeyed."""
    shop = PaperShop(tmp_path, people=(Person("𐎠𐎡𐎢", "fitter"), Person("Ines\u202eladraV", "fitter")))
    words = " ".join(words_of(shop.sheet()))
    assert "[U+103A0 U+103A1 U+103A2]" in words
    assert "Ines[U+202E]ladraV" in words
    assert "This sheet has no letters for U+202E, U+103A0, U+103A1, U+103A2." in words
    shop.close()


def test_every_font_is_embedded(tmp_path: Path) -> None:
    shop = PaperShop(tmp_path, people=(*PEOPLE, Person("Łucja Żółć", "fitter")))
    fonts = fonts_of(opened(shop.sheet()))
    assert {name.partition("+")[2] for name in fonts} == {"B612", "B612Bold", "CountbackWide"}
    for font in fonts.values():
        descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert descriptor["/FontFile2"].get_object().get_data()[:4] == b"\x00\x01\x00\x00"
        assert "/ToUnicode" in font
    shop.close()


def fonts_of(reader: PdfReader) -> dict[str, dict]:
    found = [font.get_object() for page in reader.pages for font in page["/Resources"]["/Font"].values()]
    return {font["/BaseFont"]: font for font in found}


# ---- the same again


def test_the_same_journal_gives_the_same_bytes(closed: PaperShop) -> None:
    once = closed.sheet()
    assert closed.sheet() == once
    information = opened(once).metadata
    assert information.creation_date.isoformat() == f"{closed.teardown.last_entry.at[:19]}+01:00"


def test_one_more_entry_gives_another_sheet(shop: PaperShop) -> None:
    once = shop.sheet()
    shop.work_until("count out")
    assert shop.sheet() != once
