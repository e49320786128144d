"""What is added during the work gets an id from its name: readable, allowed on a sheet, and its own."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from checklists.naming import slug, unique_id, unique_ids
from checklists.sheet import Sheet, Space
from checklists.sheet_check import check_sheet


def test_names_become_ids_a_sheet_allows():
    assert slug("Inlet port 2") == "inlet-port-2"
    assert slug("  M8 x 45 flange bolt ") == "m8-x-45-flange-bolt"
    assert slug("Kühlwasser-Stutzen (groß)") == "kuhlwasser-stutzen-gross"


def test_a_name_without_a_letter_to_use_falls_back():
    assert slug("燃料", "space") == "space"
    assert slug("---") == "item"


def test_a_second_of_the_same_name_gets_a_figure():
    assert unique_id("Rag piece", {"rag-piece", "rag-piece-2"}) == "rag-piece-3"
    assert unique_ids(["Bolt", "Bolt", "Nut"]) == ["bolt", "bolt-2", "nut"]


@given(st.text(max_size=80), st.text(max_size=80))
def test_whatever_is_typed_the_ids_are_sound(one, other):
    spaces = tuple(Space(made, "a space", "harm") for made in unique_ids([one, other]))
    assert check_sheet(Sheet("trial", "", spaces=spaces), growing=True) == ()
