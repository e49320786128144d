"""Where an item could get to: through an opening into its space, and on through every inner passage from there."""

from dataclasses import replace

from workboat_model import SHEET

from checklists.sheet import Passage, Space
from checklists.ways_in import WaysIn
from mobileapp.shelf import load_sheet


def test_from_the_port_past_the_valve_and_out_to_the_turbine():
    ways = WaysIn(load_sheet("inlet-manifold-inline-four"))
    assert ways.from_opening["inlet-2"] == {"port-2", "cylinder-2", "exhaust"}
    assert ways.from_opening["coolant-outlet"] == {"head-coolant", "block-coolant"}
    assert ways.sealed_by["inlet-manifold"] == {
        *(f"port-{n}" for n in range(1, 5)), *(f"cylinder-{n}" for n in range(1, 5)), "exhaust"}  # fmt: skip


def test_passages_are_one_way():
    ways = WaysIn(SHEET)
    assert ways.from_space["cylinder-1"] == {"cylinder-1"}
    assert ways.from_space["port-1"] == {"port-1", "cylinder-1"}


def test_passages_in_a_ring_are_walked_once():
    ring = (Passage("jacket", "pump", None, "drains"), Passage("pump", "jacket", None, "drains"))
    sheet = replace(SHEET, spaces=(*SHEET.spaces, Space("pump", "the pump", "It jams.")), passages=ring)
    assert WaysIn(sheet).from_opening["outlet"] == {"jacket", "pump"}


def test_an_empty_sheet_has_no_ways_in():
    ways = WaysIn.empty()
    assert (ways.from_opening, ways.sealed_by, ways.union([])) == ({}, {}, frozenset())
