"""An item as it is typed for a search: a specification, or a simple body with its sizes in mm or inches."""

from __future__ import annotations

import pytest

from checklists.whereabouts.items import ItemShape
from mobileapp.screens.item_typed import read_item
from mobileapp.tables import fastener_tables

TABLES = fastener_tables()
OR_SIZES = "Or give its sizes, like ball 6 mm or rod 1/4 x 1 in."


@pytest.mark.parametrize(
    ("typed", "shape"),
    [
        ("ball 6 mm", ItemShape("ball", (6.0,))), ("Ball 1/4 in", ItemShape("ball", (6.35,))),
        ('ball 1/4"', ItemShape("ball", (6.35,))), ("rod 8 x 30", ItemShape("rod", (8.0, 30.0))),
        ("rod 1/4 x 1 in", ItemShape("rod", (6.35, 25.4))),
        ("washer 5/8 x 1/16 in", ItemShape("washer", (15.875, 1.5875))),
        ("washer 16 x 1,5 mm", ItemShape("washer", (16.0, 1.5))), ("nut 13 x 6.5 mm", ItemShape("nut", (13.0, 6.5))),
        ("box 2 x 1 x 1/2 in", ItemShape("box", (50.8, 25.4, 12.7))), ("soft 20mm", ItemShape("soft", (20.0,))),
    ],
)  # fmt: skip
def test_a_simple_body_is_read_in_mm_or_inches(typed: str, shape: ItemShape):
    assert read_item(typed, TABLES) == shape


@pytest.mark.parametrize("typed", ["washer 1/4 in", "nut 1/4-20", "bolt 1/4-20 x 1 hex", "nut M8", "washer M8"])
def test_what_names_a_thread_is_the_fastener_of_that_thread(typed: str):
    found = read_item(typed, TABLES)
    assert isinstance(found, ItemShape)
    assert found.kind == typed.split()[0]
    assert min(found.mm) < 8


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("ball", "A ball has 1 size, in mm or in: diameter; write it like ball 6 mm."),
        ("rod 8 mm",
         "A rod has 2 sizes, in mm or in: diameter, length; write it like rod 8 x 30 mm or rod 1/4 x 1 in."),
        ("ball 3 g", "g measures mass, and a length is wanted here; write it like 0.525 in or 13.3 mm."),
        ("rod 1/4 x 1", "'1/4' can hardly be in mm; write it like 1/4 in."),
        ("10mm bolt", "'10mm' can be the size of the thread (M10) or of the spanner (M6 takes that): measure the "
         f"thread and write it, like M10 or M6. {OR_SIZES}"),
        ("thingummy", "'thingummy' has no thread size that is known here; write it like M8x25 8.8, 1/4-28 x 1 gr 5 "
         f"or M6 washer. {OR_SIZES}"),
        ("M8", f"Say what it is: bolt, socket screw, nut, washer or stud. {OR_SIZES}"),
    ],
)  # fmt: skip
def test_what_is_not_understood_says_how_to_write_it(typed: str, why: str):
    assert read_item(typed, TABLES) == (why,)
