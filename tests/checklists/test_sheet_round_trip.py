"""A sheet goes into the journal and comes out the same, as exact data without floats."""

import json
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from sheet_texts import SMALL

from checklists.sheet import Sheet
from checklists.sheet_plain import sheet_from_plain, sheet_to_plain
from checklists.sheet_reading import read_sheet
from mobileapp.shelf import shipped_sheets

CLEAR = 'clear = { shape = "circle", mm = [32] }'
TEXTS = {"small": SMALL, **{name: path.read_text("utf-8") for name, path in shipped_sheets().items()}}


def read(text: str) -> Sheet:
    sheet, faults = read_sheet(text, "")
    assert faults == ()
    assert sheet is not None
    return sheet


def kinds_of(value: Any) -> set[type]:
    if isinstance(value, dict):
        return set().union(*(kinds_of(v) for v in value.values()), {type(k) for k in value})
    if isinstance(value, list):
        return set().union(*(kinds_of(v) for v in value))
    return {type(value)}


@pytest.mark.parametrize("name", TEXTS)
def test_a_sheet_comes_back_from_canonical_json_unchanged(name: str):
    sheet = read(TEXTS[name])
    plain = sheet_to_plain(sheet)
    assert kinds_of(plain) <= {str, int, bool}
    back = json.loads(rfc8785.dumps(plain), parse_float=pytest.fail)
    assert sheet_from_plain(back) == sheet


def test_sizes_keep_the_figures_that_were_typed():
    sheet = read(SMALL)
    assert [str(opening.clear) for opening in sheet.openings] == ["oval 42 x 34.5 mm", "round, 32 mm"]


@pytest.mark.parametrize("name", TEXTS)
def test_a_file_has_the_very_keys_that_the_journal_has(name: str):
    """Whatever `sheet_to_plain` writes, typed as TOML, reads as the same sheet."""
    sheet = read(TEXTS[name])
    assert read(as_toml(sheet_to_plain(sheet))) == sheet


def as_toml(plain: dict[str, Any]) -> str:
    return "\n".join(f"{key} = {_value(value)}" for key, value in plain.items())


def _value(value: Any, key: str = "") -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {_value(v, k)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_value(item, key) for item in value) + "]"
    if key in ("mm", "positions"):
        return value
    return json.dumps(value)


def test_every_shipped_sheet_was_compared():
    assert {Path(name).stem for name in TEXTS} == {
        "small",
        "inlet-manifold-inline-four",
        "lift-pump-and-side-cover",
        "rocker-cover",
        "valley-cover-v-engine",
    }


def test_an_opening_behind_a_cover_has_no_sizes():
    text = SMALL.replace(CLEAR, 'clear = { shape = "behind a cover" }')
    assert text != SMALL
    sheet = read(text)
    clears = [opening.clear for opening in sheet.openings if opening.clear.kind == "behind a cover"]
    assert clears[0].mm == ()
    assert str(clears[0]) == "behind a cover, size not known"
    assert sheet_from_plain(json.loads(rfc8785.dumps(sheet_to_plain(sheet)))) == sheet


def test_sizes_behind_a_cover_are_a_fault_and_a_circle_still_needs_its_own():
    for clear in ('{ shape = "behind a cover", mm = [12] }', '{ shape = "circle" }'):
        sheet, faults = read_sheet(SMALL.replace(CLEAR, f"clear = {clear}"), "")
        assert sheet is None
        assert "mm" in str(faults[0])
