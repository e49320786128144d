"""Long tables and many photos over pages: nothing is cut, nothing lost, and no heading stands alone."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from paper.paper_shop import PaperShop, opened, words_of

from checklists.sheet import Line
from mobileapp.paper.flow import onto_pages
from mobileapp.paper.ink import Slab, Text
from mobileapp.paper.measures import MARGIN, SIZES
from mobileapp.shelf import load_sheet

TOOLS = 300


@pytest.fixture
def long_shop(tmp_path: Path):
    """A job with 300 lines on the tally, all of them used."""
    sheet = load_sheet("rocker-cover")
    tools = tuple(Line(f"tool-{n}", f"Tool number {n} of the long list", "tool", 1, "stores") for n in range(TOOLS))
    shop = PaperShop(tmp_path, replace(sheet, items=sheet.items + tools))
    shop.work_until("count out")
    from checklists import builders

    for tool in tools:
        shop.record(builders.count_out(shop.teardown, tool.id), "Ines Vardal")
    yield shop
    shop.close()


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_three_hundred_lines_each_once_under_their_heads(long_shop: PaperShop, paper: str) -> None:
    pages = words_of(long_shop.sheet(paper))
    rows = [number for page in pages for number in re.findall(r"Tool number (\d+) of the long list 1 ", page)]
    assert sorted(rows, key=int) == [str(number) for number in range(TOOLS)]
    carried = [page for page in pages if re.search(r"of the long list 1 ", page)]
    assert len(carried) > 5
    assert all("item belongs count out back now" in page for page in carried)


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_everything_stands_within_the_margins(long_shop: PaperShop, paper: str) -> None:
    size = SIZES[paper]
    for page in opened(long_shop.sheet(paper)).pages:
        places = []

        def note(text, _cm, tm, _font, font_size, places=places):
            if text.strip() and font_size < 100:  # the draft mark lies across the page
                places.append((tm[4] / 72 * 25.4, tm[5] / 72 * 25.4))

        page.extract_text(visitor_text=note)
        assert places
        assert all(MARGIN - 1 <= x <= size.width - MARGIN for x, _ in places)
        assert all(MARGIN - 3 <= y <= size.height - MARGIN for _, y in places)


def slab(name: str, height: float, keep: bool = False, head: Slab | None = None) -> Slab:
    return Slab(height, [Text(0, 0, name, 9)], keep, head)


def names(pages: list) -> list[list[str]]:
    return [[ink.text for ink in page] for page in pages]


def test_a_heading_goes_to_the_next_page_with_what_it_heads() -> None:
    filling = slab("filling", SIZES["A4"].bottom - MARGIN - 20)
    pages = onto_pages([filling, slab("title", 10, True), slab("heading", 5, True), slab("words", 8)], SIZES["A4"])
    assert names(pages) == [["filling"], ["title", "heading", "words"]]


def test_a_tables_heads_are_said_again_and_never_stand_last() -> None:
    head = slab("heads", 8, True)
    rows = [slab(f"row {number}", 60, head=head) for number in range(6)]
    pages = names(onto_pages([head, *rows], SIZES["A4"]))
    assert pages == [["heads", "row 0", "row 1", "row 2", "row 3"], ["heads", "row 4", "row 5"]]


def test_a_text_longer_than_a_page_is_parted_and_loses_nothing(shop: PaperShop) -> None:
    from checklists.facts import WorkDone

    shop.work_until("work done")
    note = " ".join(f"word{number}" for number in range(3000))
    shop.record(WorkDone(note), "Ines Vardal")
    told = re.findall(r"word\d+", " ".join(words_of(shop.sheet())))
    assert told == note.split()
