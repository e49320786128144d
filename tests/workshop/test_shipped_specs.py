"""The shipped sheets' own specifications and torques, read by the workshop."""

import pytest

from checklists.sheet import Closure
from checklists.workshop.fastener import find_fastener
from checklists.workshop.fastener_spec import read_spec
from checklists.workshop.torque import check_torque, torque_band
from checklists.workshop.torque_figure import TorqueFigure, read_torque
from mobileapp.shelf import load_sheet, shipped_sheets
from mobileapp.tables import fastener_tables

TABLES = fastener_tables()
CLOSURES = [closure for name in shipped_sheets() for closure in load_sheet(name).closures]
SPECS = sorted({fastener.spec for closure in CLOSURES for fastener in closure.fasteners})
#: These have no thread, or a shape that no standard settles.
TO_MEASURE = {"Hose clip 25 mm", "M6 sealing washer"}


@pytest.mark.parametrize("spec", SPECS)
def test_a_shipped_specification_has_a_shape_or_is_said_to_need_measuring(spec: str):
    reading = read_spec(spec, TABLES)
    if spec in TO_MEASURE:
        assert reading.faults or any("measure it" in note for note in reading.notes)
        return
    assert reading.spec
    assert reading.understood
    fastener = find_fastener(reading.spec, TABLES)
    assert fastener.hexagon or fastener.socket or fastener.washer


@pytest.mark.parametrize("closure", [c for c in CLOSURES if c.torque], ids=lambda c: f"{c.name} {c.torque}")
def test_a_shipped_torque_is_plausible_for_its_bolts(closure: Closure):
    figure = read_torque(closure.torque)
    assert isinstance(figure, TorqueFigure)
    bolts = [read_spec(fastener.spec, TABLES).spec for fastener in closure.fasteners]
    for bolt in bolts:
        if bolt and bolt.kind == "hex bolt" and bolt.thread:
            band = torque_band(bolt.thread, bolt.strength, "not said", TABLES)
            assert check_torque(figure, band).verdict == "plausible"
