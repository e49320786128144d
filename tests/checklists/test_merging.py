"""Two people count on two phones that have not seen each other: whatever contradicts shows, and nothing is silent."""

import pytest
from two_phones import Phone, exchange, state_of, two_phones
from workboat_model import BOLT, GASKET, HEAD, INES, PHOTO, TOMAS, codes, only

from checklists import builders, gate, second_count
from checklists.facts import Closed, Covered, FindLogged, FindRemoved, HandTurned, Lifted, Looked, Refitted, Released
from checklists.ledger import faults
from checklists.merging import ODD, SHORT, TWICE
from checklists.next_act import next_act


def strip(phone: Phone, *closures: str) -> None:
    """Take closures off on one phone."""
    for closure in closures:
        home = f"fitted/{closure}"
        for line in phone.t.lines_of(closure):
            if phone.t.lines[line].kind == "fastener":
                phone.count(line, phone.t.quantity(line, home), home, "tray")
        phone.do(Lifted(closure, PHOTO))


def look_into(phone: Phone, closure: str, who: str = "") -> None:
    for opening in phone.t.ways.openings_of[closure]:
        phone.do(Looked(opening, True, "clean and dry", PHOTO), who)


def count_again(phone: Phone, closure: str, who: str = TOMAS) -> None:
    seen = [phone.t.quantity(*pair) for pair in second_count.count_list(phone.t, closure)]
    phone.do(builders.second_counted(phone.t, closure, seen), who)


def clear(phone: Phone, closure: str) -> None:
    look_into(phone, closure)
    if phone.t.closures[closure].second_count:
        count_again(phone, closure)
    phone.do(builders.clear_to_refit(phone.t, closure, HEAD))


def refit(phone: Phone, *closures: str) -> None:
    for closure in closures:
        clear(phone, closure)
        phone.do(Refitted(closure))
        for line in phone.t.lines_of(closure):
            if quantity := phone.t.quantity(line, "tray"):
                phone.count(line, quantity, "tray", f"fitted/{closure}")
        phone.do(builders.sign(phone.t, closure, "24 N.m", HEAD))


def wait(phone: Phone, acts: int) -> None:
    """Do something that changes nothing, so that what follows stands later in the order of both."""
    for _ in range(acts):
        phone.do(builders.check("rag", "stores", 4))


@pytest.fixture
def phones():
    return two_phones()


# --- counted twice


def test_the_same_bolt_counted_out_on_both_phones_is_perhaps_counted_twice(phones):
    ines, tomas = phones
    ines.count(BOLT, 1, "fitted/manifold", "tray")
    tomas.count(BOLT, 1, "fitted/manifold", "tray")
    t = exchange(*phones)
    assert t.quantity(BOLT, "tray") == 2
    reason = only(gate.why_not_close(t), TWICE)
    assert (reason.line, reason.quantity, reason.place) == (BOLT, 1, "tray")
    assert INES in reason.who
    assert TOMAS in reason.who
    assert "Count" in reason.do_next
    assert next_act(t, ines.now).do == "settle"


def test_a_count_that_agrees_settles_it(phones):
    _, tomas = phones
    for phone in phones:
        phone.count(BOLT, 1, "fitted/manifold", "tray")
    exchange(*phones)
    tomas.do(builders.check(BOLT, "tray", 2))
    assert tomas.t.clashes == {}
    assert exchange(*phones).clashes == {}


def test_a_count_by_one_who_had_not_seen_both_settles_nothing(phones):
    ines, tomas = phones
    ines.count(BOLT, 1, "fitted/manifold", "tray")
    tomas.count(BOLT, 1, "fitted/manifold", "tray")
    ines.take(tomas)
    tomas.count(BOLT, 1, "fitted/manifold", "tray")
    ines.do(builders.check(BOLT, "tray", 2))
    assert ines.t.clashes == {}
    t = exchange(*phones)
    assert [clash.kind for clash in t.clashes.values()] == [TWICE]


def test_a_count_that_differs_stays_until_a_movement_puts_it_right(phones):
    ines, tomas = phones
    ines.count(BOLT, 1, "fitted/manifold", "tray")
    slip = tomas.count(BOLT, 1, "fitted/manifold", "tray")
    exchange(*phones)
    ines.do(builders.check(BOLT, "tray", 1))
    assert {TWICE, "count differs"} <= set(codes(gate.why_not_close(ines.t)))
    tomas.take(ines)
    tomas.do(builders.undo(slip, "the same bolt"))
    t = exchange(*phones)
    assert (t.clashes, t.discrepancies) == ({}, {})
    assert t.quantity(BOLT, "tray") == 1


def test_one_phone_that_saw_the_other_first_counts_nothing_twice(phones):
    ines, tomas = phones
    ines.count(BOLT, 1, "fitted/manifold", "tray")
    tomas.take(ines)
    tomas.count(BOLT, 1, "fitted/manifold", "tray")
    assert exchange(*phones).clashes == {}


def test_different_places_are_no_double_count(phones):
    ines, tomas = phones
    ines.count(BOLT, 1, "fitted/manifold", "tray")
    tomas.count(BOLT, 1, "fitted/manifold", "bench")
    assert exchange(*phones).clashes == {}


def test_as_many_as_both_counted_may_be_doubled(phones):
    ines, tomas = phones
    for _ in range(3):
        ines.count(BOLT, 1, "fitted/manifold", "tray")
    tomas.count(BOLT, 2, "fitted/manifold", "tray")
    assert only(gate.why_not_close(exchange(*phones)), TWICE).quantity == 2


# --- the last one, taken twice


def test_the_last_one_taken_on_both_phones_is_not_moved_twice(phones):
    ines, tomas = phones
    ines.count("wrench", 1, "stores", "bench")
    tomas.count("wrench", 1, "stores", "engine")
    t = exchange(*phones)
    assert faults(t.balances) == []
    assert t.places_of("wrench") == {"bench": 1}
    reasons = [reason for reason in gate.why_not_close(t) if reason.code == SHORT]
    assert [reason.place for reason in reasons] == ["engine", "stores"]
    assert all(TOMAS in reason.who for reason in reasons)


def test_both_ends_of_it_are_counted_before_it_is_settled(phones):
    ines, tomas = phones
    ines.count("wrench", 1, "stores", "bench")
    tomas.count("wrench", 1, "stores", "engine")
    exchange(*phones)
    ines.do(builders.check("wrench", "stores", 0))
    assert SHORT in codes(gate.why_not_close(ines.t))
    ines.do(builders.check("wrench", "engine", 0))
    assert exchange(*phones).clashes == {}


def test_a_cover_that_two_openings_got_leaves_one_uncovered(phones):
    ines, tomas = phones
    strip(ines, "crossover", "manifold")
    for _ in range(2):
        ines.count("cap", 1, "stores", "scrap")
    tomas.take(ines)
    ines.do(Covered("inlet-1", builders.cover(ines.t, "inlet-1", "cap").moves))
    tomas.do(Covered("inlet-2", builders.cover(tomas.t, "inlet-2", "cap").moves))
    t = exchange(*phones)
    assert sorted(t.exposure.uncovered(["inlet-1", "inlet-2"])) == ["inlet-2"]
    assert SHORT in codes(gate.why_not(t, "manifold"))


@pytest.mark.parametrize(("lifter_waits", "counter_waits"), [(5, 0), (0, 5)])
def test_a_bolt_counted_home_on_a_closure_that_the_other_phone_took_off(phones, lifter_waits, counter_waits):
    """Whichever stands first in the order of both, the lift or the bolt."""
    ines, tomas = phones
    ines.count(BOLT, 10, "fitted/manifold", "tray")
    strip(ines, "crossover")
    tomas.take(ines)
    wait(ines, lifter_waits)
    ines.do(Lifted("manifold", PHOTO))
    wait(tomas, counter_waits)
    tomas.count(BOLT, 1, "tray", "fitted/manifold")
    t = exchange(*phones)
    assert t.closure_states["manifold"].stage == "lifted"
    reason = next(reason for reason in gate.why_not(t, "manifold") if reason.code == ODD)
    assert (reason.line, reason.place) == (BOLT, "fitted/manifold")


# --- what was signed without knowing


def test_a_clearance_does_not_stand_when_the_other_phone_had_put_a_rag_in(phones):
    ines, tomas = phones
    strip(ines, "crossover", "manifold")
    tomas.take(ines)
    tomas.count("rag", 1, "stores", "engine/port-1")
    clear(ines, "manifold")
    assert ines.t.closure_states["manifold"].stage == "cleared"
    t = exchange(*phones)
    state = t.closure_states["manifold"]
    assert (state.stage, state.cleared) == ("lifted", None)
    assert state.remark
    assert "in the engine" in codes(gate.why_not(t, "manifold"))


@pytest.mark.parametrize("before", [False, True])
def test_a_sign_off_does_not_stand_when_a_rag_went_in_meanwhile(phones, before):
    """In the order of both, the rag may stand before the clearance or after the signature: it falls either way."""
    ines, tomas = phones
    strip(ines, "crossover", "manifold")
    tomas.take(ines)
    wait(tomas, 0 if before else 12)
    tomas.count("rag", 1, "stores", "engine/port-1")
    refit(ines, "manifold")
    assert ines.t.closure_states["manifold"].stage == "signed"
    t = exchange(*phones)
    state = t.closure_states["manifold"]
    assert (state.stage, state.cleared, state.signed) == ("set down", None, None)
    assert state.remark
    assert "clearance withdrawn" in codes(gate.why_not(t, "manifold"))
    assert next_act(t, ines.now).do != "sign"


def test_a_nut_dropped_on_the_other_phone_could_be_under_what_was_closed_meanwhile(phones):
    ines, tomas = phones
    strip(ines, "crossover", "manifold", "nozzle")
    tomas.take(ines)
    refit(ines, "manifold")
    wait(tomas, 12)
    tomas.do(builders.drop(tomas.t, "nozzle.nut", 1, "over the ports"))
    t = exchange(*phones)
    assert t.closure_states["manifold"].stage == "recalled"
    assert "missing" in codes(gate.why_not(t, "manifold"))


def test_a_look_that_missed_a_movement_is_out_of_date(phones):
    ines, tomas = phones
    strip(ines, "crossover", "manifold")
    tomas.take(ines)
    tomas.count("rag", 1, "stores", "engine/port-1")
    tomas.count("rag", 1, "engine/port-1", "stores")
    wait(ines, 3)
    look_into(ines, "manifold")
    t = exchange(*phones)
    assert codes(gate.why_not(t, "manifold")).count("look out of date") == 1


def test_what_one_saw_inside_recalls_what_the_other_signed(phones):
    ines, tomas = phones
    strip(ines, "crossover", "manifold")
    tomas.take(ines)
    refit(ines, "manifold")
    wait(tomas, 12)
    tomas.do(Looked("inlet-1", False, "something shines at the valve", PHOTO))
    assert exchange(*phones).closure_states["manifold"].stage == "recalled"


def test_a_closing_does_not_stand_when_the_other_phone_has_the_wrench_out(phones):
    ines, tomas = phones
    ines.do(builders.close(ines.t, HEAD))
    tomas.count("wrench", 1, "stores", "bench")
    t = exchange(*phones)
    assert t.ended == ""
    assert "closing does not stand" in t.remark
    assert "not put away" in codes(gate.why_not_close(t))
    ines.count("wrench", 1, "bench", "stores")
    ines.do(builders.close(ines.t, HEAD))
    t = exchange(*phones)
    assert (t.ended, t.remark) == ("closed", "")


def test_a_closing_that_was_open_in_between_is_made_again(phones):
    ines, tomas = phones
    ines.do(builders.close(ines.t, HEAD))
    tomas.count("wrench", 1, "stores", "bench")
    tomas.count("wrench", 1, "bench", "stores")
    t = exchange(*phones)
    assert t.ended == ""
    assert "wrench" in t.remark
    assert gate.why_not_close(t) == ()


def test_a_closing_stands_when_the_other_phone_had_nothing_open(phones):
    ines, tomas = phones
    ines.do(builders.close(ines.t, HEAD))
    tomas.do(builders.check("wrench", "stores", 1))
    t = exchange(*phones)
    assert (t.ended, t.remark) == ("closed", "")


def test_released_not_clear_outweighs_a_closing_made_without_knowing(phones):
    ines, tomas = phones
    ines.do(builders.close(ines.t, HEAD))
    tomas.do(Released("the owner wants it back", "looked everywhere", HEAD))
    assert exchange(*phones).ended == "released, not clear"


def test_turned_by_hand_while_the_other_had_it_open_is_not_turned_after_closing(phones):
    ines, tomas = phones
    strip(ines, "crossover")
    refit(ines, "crossover")
    tomas.take(ines)
    strip(tomas, "nozzle")
    ines.do(HandTurned("two turns, free"))
    refit(tomas, "nozzle")
    assert "not turned by hand" in codes(gate.why_not_close(exchange(*phones)))


# --- the same names


def test_two_finds_with_one_id_are_both_kept(phones):
    ines, tomas = phones
    ines.do(FindLogged("find-1", "a washer", "", PHOTO))
    tomas.do(FindLogged("find-1", "a wasp nest", "", PHOTO))
    tomas.do(FindRemoved("find-1", "by hand", PHOTO, "in a bag"))
    t = exchange(*phones)
    settled = {state.logged.what: state.removed is not None for state in t.finds.values()}
    assert settled == {"a washer": False, "a wasp nest": True}


def test_one_phone_changes_nothing(phones):
    """What one phone alone folds is the same whether or not it could have met another."""
    ines, _ = phones
    strip(ines, "crossover", "manifold")
    refit(ines, "manifold", "crossover")
    alone = Phone("phone-a", INES)
    alone.take(ines)
    assert alone.t.merging is None
    assert state_of(alone.t) == state_of(ines.t)
    assert ines.t.closure_states["manifold"].stage == "signed"
    assert GASKET in ines.t.lines
    assert not isinstance(ines.entries[-1].fact, Closed)
