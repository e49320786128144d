"""Double entry for bolts: every count moves items from one place to another, and nothing vanishes."""

import pytest
from workboat_model import BOLT, CLIP_BOLT, PHOTO, TOMAS, Job, codes, moves, only

from checklists import builders
from checklists.facts import Counted, Move, Refitted, Short
from checklists.state import tally


def test_a_count_takes_from_one_place_what_it_puts_into_another():
    job = Job()
    job.count(BOLT, 3, "fitted/manifold", "tray")
    assert job.t.places_of(BOLT) == {"fitted/manifold": 7, "tray": 3}
    assert job.t.total(BOLT) == 10
    assert tally(job.t) == (3, 0, 0)


def test_tally_tells_out_from_in_the_engine_from_missing():
    job = Job()
    job.lift("crossover", "manifold")
    job.count("wrench", 1, "stores", "engine/port-1")
    job.do(builders.cover(job.t, "inlet-2", "cap"))
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    job.count("rag", 2, "stores", "bench")
    assert tally(job.t) == (9 + 2 + 2, 2, 1)


def test_the_eleventh_bolt_back_is_refused_and_may_be_logged_as_a_find():
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    job.count(BOLT, 10, "tray", "fitted/manifold")
    (reason,) = job.refused(builders.count_back(job.t, BOLT))
    assert reason.code == "surplus"
    assert (reason.line, reason.line_name, reason.quantity, reason.place) == (BOLT, "M8 bolt", 1, "tray")
    assert "log it as a find" in reason.do_next


def test_an_eleventh_bolt_out_is_a_surplus_too():
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    assert codes(job.refused(builders.count_out(job.t, BOLT))) == ["surplus"]


def test_what_is_not_at_a_place_cannot_be_taken_from_there():
    job = Job()
    job.count(BOLT, 2, "fitted/manifold", "tray", TOMAS)
    reason = only(job.refused(builders.move(BOLT, 3, "tray", "bench")), "not there")
    assert reason.quantity == 1
    assert reason.words == "3 M8 bolts wanted, but the tally has 2 in the tray."
    assert (reason.since[11:16], reason.who) == ("08:02", TOMAS)


def test_a_bolt_goes_home_only_on_its_own_closure():
    job = Job()
    job.count(CLIP_BOLT, 1, "fitted/crossover", "tray")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    assert codes(job.refused(builders.move(CLIP_BOLT, 1, "tray", "fitted/manifold"))) == ["wrong closure"]
    assert codes(job.refused(builders.move("rag", 1, "stores", "fitted/manifold"))) == ["wrong closure"]


@pytest.mark.parametrize(
    ("count", "code"),
    [
        (builders.move("spanner", 1, "stores", "bench"), "unknown line"),
        (builders.move("rag", 0, "stores", "bench"), "not a movement"),
        (builders.move("rag", -1, "bench", "stores"), "not a movement"),
        (builders.move("rag", 1, "stores", "stores"), "not a movement"),
        (builders.move("rag", 1, "stores", "engine/port-9"), "unknown place"),
        (builders.move("rag", 1, "stores", "pocket"), "unknown place"),
        (builders.move("rag", 1, "stores", "missing"), "not by counting"),
        (builders.move("rag", 1, "missing", "stores"), "not by counting"),
        (builders.move("rag", 1, "origin", "bench"), "not by counting"),
        (builders.move("rag", 1, "stores", "converted"), "not by counting"),
        (builders.move("cap", 1, "stores", "cover/inlet-1"), "not by counting"),
        (builders.move("rag", 1, "stores", "engine/port-1"), "space sealed"),
        (Counted(()), "nothing moved"),
    ],
)
def test_what_is_no_count_is_refused(count, code):
    assert codes(Job().refused(count)) == [code]


def test_several_movements_of_one_count_draw_on_the_same_items():
    job = Job()
    both = moves((BOLT, 6, "fitted/manifold", "tray"), (BOLT, 6, "fitted/manifold", "bench"))
    assert only(job.refused(both), "surplus").quantity == 2
    job.do(moves((BOLT, 6, "fitted/manifold", "tray"), (BOLT, 2, "tray", "bench")))
    assert job.t.places_of(BOLT) == {"fitted/manifold": 4, "tray": 4, "bench": 2}


def test_one_short_at_the_start_counts_as_missing_and_may_be_inside_already():
    job = Job()
    job.do(builders.short_at_start(job.t, BOLT, 1, PHOTO))
    assert tally(job.t) == (0, 0, 1)
    (item,) = job.t.missing
    assert (item.line, item.quantity, item.cause) == (BOLT, 1, "short at the start")
    assert job.t.could_hold(item) is None
    job.lift("crossover", "manifold")
    missing = [r for r in job.refused(job.clearing("manifold")) if r.code == "missing"]
    assert [(r.line, r.quantity, r.place) for r in missing] == [(BOLT, 1, "fitted/manifold")]
    assert "missing" in codes(job.refused(job.clearing("crossover")))


def test_short_at_the_start_demands_a_photo_of_the_empty_hole():
    job = Job()
    assert codes(job.refused(builders.short_at_start(job.t, BOLT, 1, " "))) == ["no photo"]


def test_short_at_the_start_is_not_said_of_a_closure_that_was_off():
    job = Job()
    job.lift("nozzle")
    refused = job.refused(Short("nozzle", PHOTO, (Move("nozzle.nut", 1, "tray", "missing"),)))
    assert codes(refused) == ["closure was off"]


def test_more_of_a_line_comes_onto_the_tally_before_it_is_used():
    job = Job()
    job.do(builders.add("rag", 2, "bench", "two more from the locker"))
    assert job.t.places_of("rag") == {"stores": 4, "bench": 2}
    assert job.t.total("rag") == 6


def test_a_bolt_the_sheet_did_not_know_of_must_come_home_like_the_others():
    job = Job()
    job.do(builders.add(BOLT, 1, "fitted/manifold", "eleven, not ten"))
    job.lift("crossover", "manifold")
    assert job.t.quantity(BOLT, "tray") == 11
    job.clear("manifold")
    job.do(Refitted("manifold"))
    job.count(BOLT, 10, "tray", "fitted/manifold")
    reason = only(job.refused(job.signing("manifold")), "not home")
    assert (reason.line, reason.quantity, reason.place) == (BOLT, 1, "tray")


def test_what_belongs_on_a_closure_is_fixed_once_it_was_off():
    job = Job()
    job.lift("nozzle")
    assert codes(job.refused(builders.add("nozzle.nut", 1, "fitted/nozzle", "one more"))) == ["closure was off"]
