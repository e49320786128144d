"""What a sheet may say besides: shapes of items, limits, positions and passes. An older journal does not say them."""

import json
from decimal import Decimal

import pytest
import rfc8785
from sheet_texts import SMALL, spoilt

from checklists.fact_codec import fact_from_plain, fact_to_plain
from checklists.facts import Converted
from checklists.sheet import ItemSize, Limit, Line
from checklists.sheet_plain import sheet_from_plain, sheet_to_plain
from checklists.sheet_reading import read_sheet

TORQUE = 'torque = "10 N.m"\n'
MEASURES = """\
positions = [[0, 0], [40, 0.5], [40, 30], [0, 30]]
passes = [30, 70, 100]

  [[closure.limit]]
  id = "proud"
  name = "Push rod proud"
  least = "0.522 in"
  most = "0.525 in"
"""
SHAPED = (
    (TORQUE, TORQUE + MEASURES),
    ('spec = "M6 x 25 flange bolt"\n', 'spec = "M6 x 25 flange bolt"\n  shape = { kind = "nut", mm = [10, 5.2] }\n'),
    ('name = "Housing gasket"\n', 'name = "Housing gasket"\n  shape = { kind = "box", mm = [90, 60, 1] }\n'),
    ('kind = "rag"\n', 'kind = "rag"\nshape = { kind = "soft", mm = [25] }\n'),
)


def faults(*edits: tuple[str, str]) -> list[str]:
    return [str(fault) for fault in read_sheet(spoilt(*edits), "")[1]]


def test_a_sheet_says_shapes_limits_positions_and_passes():
    sheet, wrong = read_sheet(spoilt(*SHAPED), "")
    assert wrong == ()
    housing = sheet.closures[1]
    assert housing.limits == (Limit("proud", "Push rod proud", "0.522 in", "0.525 in"),)
    assert housing.positions[1] == (Decimal(40), Decimal("0.5"))
    assert (housing.passes, housing.y_down) == ((30, 70, 100), False)
    assert {line.id: str(line.shape) for line in sheet.lines if line.shape} == {
        "housing.bolt-m6": "nut 10 x 5.2 mm",
        "housing.gasket": "box 90 x 60 x 1 mm",
        "rag": "soft 25 mm",
    }
    assert sheet_from_plain(json.loads(rfc8785.dumps(sheet_to_plain(sheet)))) == sheet


def test_a_sheet_that_says_none_of_it_is_written_as_it_always_was():
    sheet, _ = read_sheet(SMALL, "")
    assert set(sheet_to_plain(sheet)["closure"][1]) == {
        "id", "name", "fastener", "part", "torque", "lies_over", "second_count",
    }  # fmt: skip
    assert set(sheet_to_plain(sheet)["line"][0]) == {"id", "name", "kind", "quantity"}


def test_the_lines_that_something_became_keep_their_shape_and_older_ones_read_without():
    made = Converted("broken", (Line("half", "half clip", "part", 2, "stores", ItemSize("wire", (Decimal(2),) * 2)),
                                Line("rest", "rest", "part", 1, "stores")), ())  # fmt: skip
    plain = fact_to_plain(made)
    assert [len(row) for row in plain["lines"]] == [6, 5]
    assert fact_from_plain("converted", json.loads(rfc8785.dumps(plain))) == made


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('kind = "nut"', 'kind = "nutt"', "closure[2].fastener[1].shape.kind: 'nutt' is not known here; use ball"),
        ("mm = [10, 5.2]", "mm = [10]", "a nut is measured by across flats, thickness, in mm; number given here: 1"),
        ("mm = [10, 5.2]", "mm = [10, -5]", "closure[2].fastener[1].shape.mm[2]: -5 mm is no size"),
        ('least = "0.522 in"', 'least = "0.522"', "closure[2].limit[1].least: The unit is missing"),
        ('least = "0.522 in"', 'least = "0.6 in"', "closure[2].limit[1]: 0.6 in is more than 0.525 in"),
        ('least = "0.522 in"\n', 'leest = "0.522 in"\n', "closure[2].limit[1].leest: this key is not known here; did"),
        ("[40, 0.5]", "[0, 0]", "two fasteners sit at [0, 0]"),
        ("[40, 0.5]", "[40]", "closure[2].positions[2]: should be a position [x, y]"),
        ("[0, 30]]", "[0, 30], [1, 1]]", "5 positions are too many; the most here is 4"),
        ("passes = [30, 70, 100]", "passes = [30, 70]", "The last pass must be 100 %."),
        ("passes = [30, 70, 100]", "passes = [30, 100, 100]", "Two passes are alike"),
        ("positions = [[0, 0], [40, 0.5], [40, 30], [0, 30]]\n", "", "passes go with positions"),
    ],
)
def test_what_is_wrong_with_a_measure_is_said(old, new, told):
    assert any(told in fault for fault in faults(*SHAPED, (old, new))), faults(*SHAPED, (old, new))


def test_a_torque_in_two_units_that_are_not_the_same_is_a_fault_of_the_sheet():
    assert faults((TORQUE, 'torque = "10 N.m (7.4 lbf.ft)"\n')) == []
    (fault,) = faults((TORQUE, 'torque = "10 N.m (7.4 lbf.in)"\n'))
    assert fault.startswith("closure[2].torque: 10 N.m and 7.4 lbf.in are not the same torque: 10 N.m is 88.5 lbf.in.")
    assert faults((TORQUE, 'torque = "hand tight, then sealed (thin)"\n')) == [], "words are taken as they are"


def test_the_makers_stages_are_the_passes_of_a_sheet_that_says_positions():
    """They are written down with the sheet, so that nothing is reckoned from the torque later."""
    stages = 'torque = "4 N.m, 7 N.m, 10 N.m"\n'
    sheet, wrong = read_sheet(spoilt((TORQUE, stages + "positions = [[0, 0], [40, 0.5], [40, 30], [0, 30]]\n")), "")
    assert wrong == ()
    assert sheet.closures[1].passes == (40, 70, 100)
    assert read_sheet(spoilt((TORQUE, stages)), "")[0].closures[1].passes == ()
    assert faults((TORQUE, stages + MEASURES)) == [
        "closure[2].passes: torque gives stages of 40, 70, 100 %; "
        "leave passes out, for the maker's stages are the passes"
    ]
    same = MEASURES.replace("[30, 70, 100]", "[40, 70, 100]")
    assert faults((TORQUE, stages + same)) == []
