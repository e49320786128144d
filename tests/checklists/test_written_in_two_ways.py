"""Two phones write one thing onto the sheet unlike: both ways stand until somebody says which is right."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from two_phones import Phone, exchange, state_of, two_phones
from workboat_model import HEAD, INES, NUT, PHOTO, TOMAS, codes, only

from checklists import builders, gate
from checklists.closing_account import make_account
from checklists.facts import Acknowledged, Fact, Lifted, Looked, Refitted, SheetSettled
from checklists.judge import judge
from checklists.next_act import next_act
from checklists.sheet import Caution, Closure, Fastener, ItemSize, Line, Opening, Part, Shape, Sheet, Space
from checklists.state import RECALLED, SET_DOWN, SIGNED
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
    assert differences(t, two) == [(("clear size", "round, 20 mm"),), (("clear size", "round, 26 mm"),)]
    assert next_act(t, ines.now).do == "settle", "the doubled bolts come first"
    tomas.do(SheetSettled("opening", as_part(two.ways[1].thing)))
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
@pytest.mark.parametrize("way", [0, 1])
def test_everything_on_a_sheet_can_differ_and_either_way_can_be_right(ines, tomas, what, label, way):
    (one, other), t = meet(ines, tomas)
    (two,) = t.two_ways.values()
    assert two.what == what
    assert label in [said[0] for said in differences(t, two)[0]]
    right = two.ways[way].thing
    one.do(SheetSettled(what, as_part(right)))
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
    third = replace(two.ways[0].thing, clear=Shape("circle", (Decimal(9),)))
    refusals = {
        "neither way": SheetSettled("opening", as_part(third)),
        "not in two ways": SheetSettled("space", as_part(two.ways[0].thing)),
    }
    for code, fact in refusals.items():
        assert codes(judge(t, fact, ines.now, INES)) == [code]
    nothing: Fact = SheetSettled("opening", Sheet("", ""))
    assert codes(judge(t, nothing, ines.now, INES)) == ["not in two ways"]


def test_both_settle_it_unlike_before_they_meet_again_and_it_is_asked_again():
    (ines, tomas), t = meet(heater(20), heater(26))
    two = t.two_ways["opening", "heater"]
    ines.do(SheetSettled("opening", as_part(two.ways[0].thing)))
    tomas.do(SheetSettled("opening", as_part(two.ways[1].thing)))
    t = exchange(ines, tomas)
    assert state_of(ines.t) == state_of(tomas.t)
    (again,) = t.two_ways.values()
    assert {way.mark.who for way in again.ways} == {INES, TOMAS}
    ines.do(SheetSettled("opening", as_part(again.ways[0].thing)))
    assert in_two_ways(exchange(ines, tomas)) == []


def opened_and_signed(phone):
    """The heater comes off and goes back, and is signed."""
    phone.count("heater.bolt", 2, "fitted/heater", "tray")
    phone.do(Lifted("heater", PHOTO))
    phone.do(Looked("heater", True, "clean", PHOTO))
    phone.do(builders.clear_to_refit(phone.t, "heater", HEAD))
    phone.do(Refitted("heater"))
    phone.count("heater.bolt", 2, "tray", "fitted/heater")
    phone.do(builders.sign(phone.t, "heater", "", HEAD))
    assert phone.t.closure_states["heater"].stage == SIGNED


STUDS = replace(CLOSURE, fasteners=(Fastener("stud", "M8 stud", 3),))


def signed_here_written_there(there: Sheet):
    """Ines signs the heater; Tomas, who had not met her phone, writes it down later in the order of both."""
    ines, tomas = two_phones()
    ines.do(builders.grow(heater()))
    opened_and_signed(ines)
    for _ in range(30):
        tomas.do(builders.check("rag", "stores", 4))
    tomas.do(builders.grow(there))
    return (ines, tomas), exchange(ines, tomas)


def test_a_signature_that_knew_fewer_fasteners_is_recalled():
    _, t = signed_here_written_there(heater(closure=STUDS))
    state = t.closure_states["heater"]
    assert state.stage == RECALLED
    assert "written down more of it" in state.remark
    assert gate.why_not_close(t)


def test_a_closure_signed_over_an_opening_that_nobody_knew_comes_off_again():
    more = heater()
    drain = Opening("drain", "Drain", "heater", Shape("circle", (Decimal(9),)), "heater", "plug")
    (ines, _), t = signed_here_written_there(replace(more, openings=(*more.openings, drain)))
    assert "lift the heater flange again" in only(gate.why_not(t, "heater"), "clearance withdrawn").do_next
    assert t.closure_states["heater"].stage == SET_DOWN
    assert ines.t.closure_states["heater"].cleared is None


def test_on_one_phone_too_a_signed_closure_under_which_an_opening_comes_to_light_comes_off_again():
    ines, _ = two_phones()
    ines.do(builders.grow(heater()))
    opened_and_signed(ines)
    drain = Opening("drain", "Drain", "heater", Shape("circle", (Decimal(9),)), "heater", "plug")
    ines.do(builders.grow(Sheet("", "", openings=(drain,))))
    assert "clearance withdrawn" in codes(gate.why_not(ines.t, "heater"))


@pytest.mark.parametrize(
    ("other", "stage"),
    [(replace(CLOSURE, torque="42 N.m"), RECALLED), (replace(CLOSURE, second_count=True), SET_DOWN)],
)
def test_a_signature_falls_where_the_other_way_is_right(other, stage):
    (ines, tomas), t = signed_here_written_there(heater(closure=other))
    ines.do(builders.check("heater.bolt", "fitted/heater", t.quantity("heater.bolt", "fitted/heater")))
    two = exchange(ines, tomas).two_ways["closure", "heater"]
    ines.do(SheetSettled("closure", as_part(two.ways[1].thing)))
    assert ines.t.closure_states["heater"].stage == stage


def test_who_read_another_caution_has_not_read_this_one():
    hot, fuel = (Sheet("", "", cautions=(Caution("hot", text),)) for text in ("Hot oil.", "Fuel under pressure."))
    ines, tomas = two_phones()
    ines.do(builders.grow(hot))
    ines.do(Acknowledged("hot"))
    tomas.do(builders.grow(fuel))
    t = exchange(ines, tomas)
    ines.do(SheetSettled("caution", as_part(t.two_ways["caution", "hot"].ways[1].thing)))
    assert "caution unread" in codes(gate.why_not_lift(ines.t, "nozzle"))


def test_three_phones_write_it_in_three_ways_and_none_is_dropped():
    one, two = two_phones()
    three = Phone("phone-c", INES)
    three.take(one)
    for phone, across in ((one, 20), (two, 26), (three, 33)):
        phone.do(builders.grow(heater(across)))
    exchange(one, two)
    settled = SheetSettled("opening", as_part(one.t.two_ways["opening", "heater"].ways[1].thing))
    one.do(settled)
    one.take(three)
    ways = one.t.two_ways["opening", "heater"].ways
    assert [way.thing.clear.mm[0] for way in ways] == [26, 33], "who chose had not seen the third"
    assert one.t.openings["heater"].clear.mm == (Decimal(26),)


def test_what_either_says_lies_beneath_lies_beneath():
    _, t = meet(heater(), heater(closure=replace(CLOSURE, lies_over=("nozzle",))))
    assert t.closures["heater"].lies_over == ("nozzle",)


def test_a_map_never_shows_fewer_fasteners_than_there_are():
    spots = ((Decimal(0), Decimal(0)), (Decimal(9), Decimal(0)))
    mapped = replace(CLOSURE, positions=spots, passes=(50, 100), torque="24 N.m")
    (ines, _), t = meet(heater(closure=mapped), heater(closure=STUDS))
    assert (t.closures["heater"].positions, t.closures["heater"].passes) == ((), ())
    for two in list(t.two_ways.values()):
        ines.do(SheetSettled(two.what, as_part(two.ways[0].thing)))
    assert (ines.t.closures["heater"].positions, ines.t.closures["heater"].passes) == ((), ())
    assert ines.t.closures["heater"].torque == "24 N.m"


def test_one_phone_alone_knows_no_two_ways():
    ines, _ = two_phones()
    ines.do(builders.grow(heater()))
    assert ines.t.two_ways == {}
    assert NUT in ines.t.lines
