"""A sheet that grows during the work: what it may still lack, what it may not, and how parts are put together."""

from dataclasses import replace
from decimal import Decimal

from sheet_texts import SMALL

from checklists.sheet import Closure, Fastener, Line, Opening, Passage, Shape, Sheet, Space
from checklists.sheet_reading import BLANK, check_sheet, merge_sheets, read_sheet

VALVE_GEAR = Space("valve-gear", "Valve gear", "A stray item bends a valve.")
ROCKER_COVER = Closure("rocker-cover", "Rocker cover", (Fastener("bolt", "M6 bolt", 8),), (), "", (), True)
HEAD_TOP = Opening(
    "head-top", "Top of the head", "valve-gear", Shape("circle", (Decimal(150),)), "rocker-cover", "Clean rags."
)


def grown(*parts: Sheet) -> Sheet:
    sheet = BLANK
    for part in parts:
        sheet = merge_sheets(sheet, part)
    return sheet


def part(**rows: tuple) -> Sheet:
    return Sheet("", "", **rows)


def test_work_may_start_on_a_blank_sheet():
    assert check_sheet(BLANK, growing=True) == ()
    assert [fault.path for fault in check_sheet(BLANK)] == ["machine"]


def test_a_closure_and_a_space_may_come_before_the_opening_between_them():
    sheet = grown(part(closures=(ROCKER_COVER,)), part(spaces=(VALVE_GEAR,)))
    assert check_sheet(sheet, growing=True) == ()
    assert [f.path for f in check_sheet(replace(sheet, machine="diesel"))] == ["closure[0]", "space[0]"]


def test_a_sheet_grown_to_the_end_is_as_sound_as_one_from_a_file():
    sheet = grown(part(closures=(ROCKER_COVER,)), part(spaces=(VALVE_GEAR,)), part(openings=(HEAD_TOP,)))
    assert check_sheet(replace(sheet, machine="diesel")) == ()


def test_an_opening_may_not_come_before_its_closure_or_its_space():
    faults = check_sheet(grown(part(openings=(HEAD_TOP,))), growing=True)
    assert [fault.path for fault in faults] == ["opening[0].space", "opening[0].closure"]


def test_a_part_that_uses_a_taken_id_is_found_out():
    sheet = grown(part(closures=(ROCKER_COVER,)), part(closures=(ROCKER_COVER,)))
    (fault,) = check_sheet(sheet, growing=True)
    assert (fault.path, fault.source) == ("closure[1].id", "")
    assert "already taken by closure[1]" in fault.message


def test_a_closure_added_on_top_may_not_close_a_loop():
    lower = replace(ROCKER_COVER, lies_over=("shield",))
    shield = replace(ROCKER_COVER, id="shield", name="Heat shield", lies_over=("rocker-cover",))
    (fault,) = check_sheet(grown(part(closures=(lower,)), part(closures=(shield,))), growing=True)
    assert "'rocker-cover' over 'shield' over 'rocker-cover'" in fault.message


def test_every_lying_over_that_makes_a_loop_is_told_but_what_leads_to_it_is_not():
    beneath = {"a": ("b",), "b": ("c", "d"), "c": ("b",), "d": ("b",), "top": ("a",), "floor": ()}
    closures = tuple(replace(ROCKER_COVER, id=id, lies_over=lower) for id, lower in beneath.items())
    faults = check_sheet(part(closures=closures), growing=True)
    assert [(f.path, f.message.split(": ")[-1].split(";")[0]) for f in faults if "loop" in f.message] == [
        ("closure[1].lies_over", "'b' over 'c' over 'b'"),
        ("closure[1].lies_over", "'b' over 'd' over 'b'"),
    ]


def test_ten_thousand_closures_in_one_loop_are_one_fault():
    ids = [f"c{n}" for n in range(10_000)]
    closures = tuple(replace(ROCKER_COVER, id=id, lies_over=(ids[n - 1],)) for n, id in enumerate(ids))
    assert len([f for f in check_sheet(part(closures=closures), growing=True) if "loop" in f.message]) == 1


def test_putting_sheets_together_keeps_the_order_and_the_first_name():
    sheet, _ = read_sheet(SMALL, "")
    assert sheet is not None
    more = Sheet(
        "Another name",
        "another machine",
        spaces=(VALVE_GEAR,),
        passages=(Passage("valve-gear", "block-coolant", None, "falls"),),
        items=(Line("tape", "Tape", "cover", 1, "stores"),),
    )
    both = merge_sheets(sheet, more)
    assert (both.name, both.machine) == (sheet.name, sheet.machine)
    assert both.spaces == (*sheet.spaces, VALVE_GEAR)
    assert both.passages == sheet.passages + more.passages
    assert both.items == sheet.items + more.items
    assert (both.cautions, both.openings, both.closures) == (sheet.cautions, sheet.openings, sheet.closures)


def test_a_name_left_blank_is_taken_from_the_part():
    both = merge_sheets(Sheet("", ""), Sheet("Sump off", "diesel"))
    assert (both.name, both.machine) == ("Sump off", "diesel")
