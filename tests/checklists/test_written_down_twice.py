"""Two phones add the same line to the sheet and then meet: a count decides, and what is not there can be withdrawn."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from two_phones import Phone, exchange, state_of, two_phones
from workboat_model import INES, TOMAS, codes, only

from checklists import builders, gate
from checklists.closing_account import make_account
from checklists.ledger import faults
from checklists.merging import ODD, TWICE
from checklists.sheet import Closure, Fastener, Line, Opening, Shape, Sheet, Space
from checklists.teardown import fold

WIPES = "wipes"
BOLT = "heater.bolt"


def wipes(quantity: int = 4, home: str = "stores") -> Sheet:
    return Sheet("", "", items=(Line(WIPES, "Wipe", "rag", quantity, home),))


def heater(bolts: int) -> Sheet:
    """A closure with its opening and the space behind it."""
    closure = Closure("heater", "Heater flange", (Fastener("bolt", "M8 x 20 bolt", bolts),), (), "", (), False)
    opening = Opening("heater", "Heater hole", "heater", Shape("circle", (Decimal(20),)), "heater", "cap")
    return Sheet("", "", spaces=(Space("heater", "Heater", "blocks it"),), openings=(opening,), closures=(closure,))


@pytest.fixture
def phones() -> tuple[Phone, Phone]:
    return two_phones()


def both_write(phones: tuple[Phone, Phone], ines: int = 4, tomas: int = 4) -> Any:
    phones[0].do(builders.grow(wipes(ines)))
    phones[1].do(builders.grow(wipes(tomas)))
    return exchange(*phones)


def test_both_are_on_the_tally_until_it_is_counted_and_nothing_is_silent(phones):
    t = both_write(phones)
    assert t.quantity(WIPES, "stores") == 8
    reason = only(gate.why_not_close(t), TWICE)
    said = f"4 wipes put away: perhaps on the tally twice, written down by {TOMAS} and by {INES} on two phones."
    assert reason.words == said
    assert "withdraw" in reason.do_next


def test_where_both_brought_their_own_a_count_that_agrees_settles_it(phones):
    both_write(phones)
    phones[0].do(builders.check(WIPES, "stores", 8))
    t = exchange(*phones)
    assert t.clashes == {}
    assert t.quantity(WIPES, "stores") == 8


def test_where_they_are_one_and_the_same_the_double_is_withdrawn_with_a_reason(phones):
    both_write(phones)
    ines, _ = phones
    ines.do(builders.check(WIPES, "stores", 4))
    ines.do(builders.withdraw(WIPES, 4, "stores", "the same packet"))
    t = exchange(*phones)
    assert t.places_of(WIPES) == {"stores": 4}
    assert (t.clashes, t.discrepancies, faults(t.balances)) == ({}, {}, [])
    assert not {TWICE, "count differs"} & set(codes(gate.why_not_close(t)))


def test_nothing_is_withdrawn_before_a_count_shows_that_it_is_not_there(phones):
    both_write(phones)
    ines, _ = phones
    assert codes(ines.refused(builders.withdraw(WIPES, 4, "stores", "the same packet"))) == ["not counted"]
    ines.do(builders.check(WIPES, "stores", 6))
    assert codes(ines.refused(builders.withdraw(WIPES, 4, "stores", "the same packet"))) == ["not counted"]
    ines.do(builders.withdraw(WIPES, 2, "stores", "two of them are the same"))
    assert ines.t.clashes == {}, "six were counted, and six are on the tally"
    assert ines.t.quantity(WIPES, "stores") == 6


def test_a_count_by_one_who_did_not_know_of_both_shows_nothing(phones):
    ines, tomas = phones
    ines.do(builders.grow(wipes()))
    tomas.do(builders.grow(wipes()))
    tomas.do(builders.check("rag", "stores", 4))
    ines.do(builders.check(WIPES, "stores", 4))
    ines.do(builders.check(WIPES, "stores", 3))
    t = exchange(*phones)
    assert t.discrepancies
    assert codes(ines.refused(builders.withdraw(WIPES, 4, "stores", "the same packet"))) == ["not counted"]


def test_what_is_missing_is_never_withdrawn_as_a_double(phones):
    both_write(phones)
    ines, _ = phones
    ines.do(builders.check(WIPES, "stores", 3))
    assert codes(ines.refused(builders.withdraw(WIPES, 5, "stores", "the same packet"))) == ["not doubled"]
    ines.do(builders.withdraw(WIPES, 4, "stores", "the same packet"))
    t = exchange(*phones)
    assert t.quantity(WIPES, "stores") == 4
    assert "count differs" in codes(gate.why_not_close(t)), "the one that is not there stays to be found"
    assert codes(ines.refused(builders.withdraw(WIPES, 1, "stores", "the same packet"))) == ["not doubled"]


def test_a_line_of_one_phone_alone_cannot_be_withdrawn(phones):
    ines, _ = phones
    ines.do(builders.grow(wipes()))
    exchange(*phones)
    ines.do(builders.check(WIPES, "stores", 3))
    assert codes(ines.refused(builders.withdraw(WIPES, 1, "stores", "a slip"))) == ["not doubled"]
    assert codes(ines.refused(builders.withdraw("no such line", 1, "stores", "a slip"))) == ["not doubled"]


def test_a_reason_is_asked_for(phones):
    both_write(phones)
    ines, _ = phones
    ines.do(builders.check(WIPES, "stores", 4))
    assert codes(ines.refused(builders.withdraw(WIPES, 4, "stores", " "))) == ["no reason"]


def test_those_that_were_used_already_are_withdrawn_where_they_are_not(phones):
    ines, tomas = phones
    ines.do(builders.grow(wipes()))
    ines.count(WIPES, 3, "stores", "bench")
    tomas.do(builders.grow(wipes()))
    exchange(*phones)
    ines.do(builders.check(WIPES, "stores", 1))
    ines.do(builders.withdraw(WIPES, 4, "stores", "the same packet"))
    t = exchange(*phones)
    assert t.places_of(WIPES) == {"stores": 1, "bench": 3}
    assert t.clashes == {}


def test_both_withdraw_it_without_knowing_and_it_comes_off_once(phones):
    both_write(phones)
    for phone in phones:
        phone.do(builders.check(WIPES, "stores", 4))
        phone.do(builders.withdraw(WIPES, 4, "stores", "the same packet"))
    t = exchange(*phones)
    assert t.places_of(WIPES) == {"stores": 4}
    assert faults(t.balances) == []
    assert state_of(fold(phones[0].entries)) == state_of(phones[1].t)


def test_different_numbers_the_larger_one_stays(phones):
    both_write(phones, ines=4, tomas=6)
    ines, _ = phones
    ines.do(builders.check(WIPES, "stores", 6))
    ines.do(builders.withdraw(WIPES, 4, "stores", "Tomas counted better"))
    assert exchange(*phones).places_of(WIPES) == {"stores": 6}


@pytest.mark.parametrize(("ines", "tomas"), [(4, 4), (4, 6), (6, 4)])
def test_a_closure_that_both_wrote_down_has_its_bolts_once_and_as_many_as_were_counted(phones, ines, tomas):
    for phone, number in zip(phones, (ines, tomas), strict=True):
        phone.do(builders.grow(heater(number)))
    t = exchange(*phones)
    assert {TWICE, ODD} <= set(codes(gate.why_not_close(t)))
    most = max(ines, tomas)
    phones[0].do(builders.check(BOLT, "fitted/heater", most))
    phones[0].do(builders.withdraw(BOLT, min(ines, tomas), "fitted/heater", "one flange"))
    t = exchange(*phones)
    assert (t.clashes, t.discrepancies) == ({}, {})
    assert t.places_of(BOLT) == {"fitted/heater": most}
    assert t.required[BOLT] == most
    assert t.closure_states["heater"].stage == "fitted"


def test_the_closing_sheet_tells_it(phones):
    both_write(phones)
    ines, _ = phones
    ines.do(builders.check(WIPES, "stores", 4))
    ines.do(builders.withdraw(WIPES, 4, "stores", "the same packet"))
    account = make_account("job", tuple(ines.entries), {"phone-a": "a" * 64})
    told = repr(account.sections)
    assert f"4 wipes came off the tally: written down on two phones, by {INES} (4) and {TOMAS} (4)." in told
    assert "Why: the same packet" in told
