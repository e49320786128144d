"""The page on sheets: its example is a sound sheet, and no key that a sheet may say is missing from it."""

import re
from pathlib import Path

import pytest

from checklists import sheet_reading
from checklists.sheet import LINE_KINDS, SHAPES, WAYS
from checklists.sheet_reading import read_sheet
from checklists.whereabouts.items import ITEM_KINDS

PAGE = (Path(sheet_reading.__file__).parent / "sheets" / "README.md").read_text(encoding="utf-8")
SOURCE = Path(sheet_reading.__file__).read_text(encoding="utf-8")


def example() -> str:
    (text,) = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    return text


def test_the_example_has_no_fault_and_says_something_of_everything() -> None:
    sheet, faults = read_sheet(example(), "README.md")
    assert faults == ()
    assert sheet is not None
    for rows in (sheet.cautions, sheet.spaces, sheet.passages, sheet.openings, sheet.closures, sheet.items):
        assert rows
    (closure,) = sheet.closures
    assert closure.fasteners
    assert closure.parts
    assert closure.limits
    assert len(closure.positions) == sum(fastener.quantity for fastener in closure.fasteners)


def test_every_key_is_on_the_page() -> None:
    """The keys as the reader asks for them, in its own source."""
    keys = set(re.findall(r'table\.\w+\("([a-z_]+)"', SOURCE)) | {"shape", "kind", "mm"}
    assert {"passes", "lies_over", "harm", "spec"} <= keys
    assert [key for key in sorted(keys) if key not in PAGE] == []


@pytest.mark.parametrize("words", [*SHAPES, *WAYS, *LINE_KINDS, *ITEM_KINDS])
def test_every_choice_is_on_the_page(words: str) -> None:
    assert re.search(rf"[`\"]{words}[`\"]", PAGE)


def test_the_sizes_of_an_item_are_as_the_search_takes_them() -> None:
    rows = dict(re.findall(r"^\| `(\w+)` \| ([^|]+) \|$", PAGE, re.MULTILINE))
    assert {kind: rows[kind] for kind in ITEM_KINDS} == {kind: ", ".join(sizes) for kind, sizes in ITEM_KINDS.items()}
