"""Two phones write one thing onto the sheet unlike: both ways stand until somebody says which is right."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from two_phones import exchange, state_of, two_phones
from workboat_model import INES, NUT, TOMAS, codes, only

from checklists import builders, gate
from checklists.closing_account import make_account
from checklists.facts import Fact, SheetSettled
from checklists.judge import judge
from checklists.next_act import next_act
from checklists.sheet import Caution, Closure, Fastener, ItemSize, Line, Opening, Part, Shape, Sheet, Space
from checklists.teardown import fold
from checklists.two_ways import as_part, differences

CLOSURE = Closure("heater", "Heater flange", (Fastener("bolt", "M8 x 20 bolt", 2),), (), "", (), False)


def heater(across: int = 20, closure: Closure = CLOSURE, name: str = "Heater hole") -> Sheet:
    """A closure with its opening and the space behind it."""
    opening = Opening("heater", name, "heater", Shape("circle", (Decimal(across),)), "heater", "cap")
    return Sheet("", "", spaces=(Space("heater", "Heater", "blocks it"),), openings=(opening,), closures=(closure,))


def meet(ines: Sheet, tomas: Sheet):
    """Each writes their own, then the phones meet."""
    phones = two_phones()
    phones[0].do(builders.grow(ines))
    phones[1].do(builders.grow(tomas))
    return phones, exchange(*phones)


def in_two_ways(t) -> list[str]:
    return [reason.words for reason in gate.why_not_close(t) if reason.code == "written in two ways"]


def test_an_opening_of_two_sizes_holds_the_gate_until_one_is_chosen():
    (ines, tomas), t = meet(heater(20), heater(26))
    reason = only(gate.why_not_close(t), "written in two ways")
    assert reason.words == f"The opening heater hole was written down in two ways, by {INES} and {TOMAS}."
    assert (reason.opening, reason.who) == ("heater", TOMAS)
    two = t.two_ways["opening", "heater"]
    assert differences(t, two) == [("clear size", "round, 20 mm", "round, 26 mm")]
    assert next_act(t, ines.now).do == "settle", "the doubled bolts come first"
    tomas.do(SheetSettled("opening", as_part(two, two.other)))
    t = exchange(ines, tomas)
    assert t.openings["heater"].clear.mm == (Decimal(26),)
    assert t.sheet.openings[-1] == t.openings["heater"]
    assert in_two_ways(t) == []
    assert state_of(fold(ines.entries)) == state_of(fold(tomas.entries))


def test_alike_but_for_capital_letters_is_one_way():
    _, t = meet(heater(name="Heater hole"), heater(name="HEATER HOLE"))
    assert t.two_ways == {}


def test_a_closure_that_both_wrote_keeps_the_fasteners_and_parts_of_both():
    studs = replace(CLOSURE, fasteners=(Fastener("stud", "M8 stud", 3),), parts=(Part("gasket", "gasket", 1),))
    (ines, _), t = meet(heater(), heater(closure=studs))
    assert [f.id for f in t.closures["heater"].fasteners] == ["bolt", "stud"]
    assert (t.quantity("heater.bolt", "fitted/heater"), t.quantity("heater.stud", "fitted/heater")) == (2, 3)
    assert {"heater.bolt", "heater.stud", "heater.gasket"} <= set(t.lines_of("heater"))
    ines.count("heater.stud", 3, "fitted/heater", "tray")


@pytest.mark.parametrize(
    ("ines", "tomas", "what", "label"),
    [
        (heater(), heater(closure=replace(CLOSURE, torque="24 N.m")), "closure", "torque"),
        (heater(), heater(closure=replace(CLOSURE, second_count=True)), "closure", "second count"),
        (heater(), heater(closure=replace(CLOSURE, fasteners=(Fastener("bolt", "M8 x 30 bolt", 2),))), "line", "name"),
        (Sheet("", "", cautions=(Caution("hot", "Hot oil."),)), Sheet("", "", cautions=(Caution("hot", "Fuel."),)),
         "caution", "text"),
        (Sheet("", "", spaces=(Space("sump", "Sump", "it"),)), Sheet("", "", spaces=(Space("sump", "Pan", "it"),)),
         "space", "name"),
        (Sheet("", "", items=(Line("pin", "Pin", "tool", 1, "stores"),)),
         Sheet("", "", items=(Line("pin", "Pin", "tool", 1, "stores", ItemSize("ball", (Decimal(4),))),)),
         "line", "shape"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("way", ["first", "other"])
def test_everything_on_a_sheet_can_differ_and_either_way_can_be_right(ines, tomas, what, label, way):
    (one, other), t = meet(ines, tomas)
    (two,) = t.two_ways.values()
    assert two.what == what
    assert label in [row[0] for row in differences(t, two)]
    right = getattr(two, way)
    one.do(SheetSettled(what, as_part(two, right)))
    t = exchange(one, other)
    assert t.two_ways == {}
    stands = {**t.spaces, **t.closures, **t.lines, **{c.id: c for c in t.sheet.cautions}}[right.id]
    shown = {"caution": "text", "line": "shape"}.get(what, "name")
    assert getattr(stands, shown) == getattr(right, shown)
    told = make_account("boat-1", one.entries, {"phone-a": "0" * 64, "phone-b": "1" * 64})
    assert "written down in two ways on two phones" in str(told.sections)


def test_only_one_of_the_two_ways_can_be_chosen():
    (ines, _), t = meet(heater(20), heater(26))
    two = t.two_ways["opening", "heater"]
    refusals = {
        "neither way": SheetSettled("opening", as_part(two, replace(two.first, clear=Shape("circle", (Decimal(9),))))),
        "not in two ways": SheetSettled("space", as_part(two, two.first)),
    }
    for code, fact in refusals.items():
        assert codes(judge(t, fact, ines.now, INES)) == [code]
    nothing: Fact = SheetSettled("opening", Sheet("", ""))
    assert codes(judge(t, nothing, ines.now, INES)) == ["not in two ways"]


def test_both_settle_it_unlike_before_they_meet_again_and_the_state_is_the_same_on_both():
    (ines, tomas), t = meet(heater(20), heater(26))
    two = t.two_ways["opening", "heater"]
    ines.do(SheetSettled("opening", as_part(two, two.first)))
    tomas.do(SheetSettled("opening", as_part(two, two.other)))
    t = exchange(ines, tomas)
    assert in_two_ways(t) == []
    assert state_of(ines.t) == state_of(tomas.t)


def test_one_phone_alone_knows_no_two_ways():
    ines, _ = two_phones()
    ines.do(builders.grow(heater()))
    assert ines.t.two_ways == {}
    assert NUT in ines.t.lines
