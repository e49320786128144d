"""Ten written down where nine are: what was never there comes off the tally, and nothing is explained away by it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from two_phones import exchange, two_phones
from workboat_model import BOLT, GASKET, HEAD, INES, PHOTO, TOMAS, Job, codes, only

from checklists import builders, gate, places
from checklists.closing_account import make_account
from checklists.facts import HandTurned, Move, WrittenTooHigh
from checklists.ledger import faults
from checklists.sheet import Line, Sheet
from checklists.teardown import fold
from checklists.written_too_high import take_off, too_many

HOME = places.fitted("manifold")
CLOTHS = Sheet("", "", items=(Line("cloth", "cloth", "rag", 10, "stores"),))


def seen(job: Job, line: str, number: int, place: str = places.STORES) -> None:
    job.do(builders.check(line, place, number))


def test_before_anything_was_open_a_rag_too_many_on_the_sheet_comes_off_and_the_job_can_be_closed():
    """Logged as missing it would never be found, and the job could only be released, not clear."""
    job = Job()
    seen(job, "rag", 3)
    assert too_many(job.t, "rag", places.STORES) == 1
    job.do(take_off(job.t, "rag", places.STORES, "the shop has three"))
    assert job.t.places_of("rag") == {places.STORES: 3}
    assert (job.t.discrepancies, job.t.missing, faults(job.t.balances)) == ({}, [], [])
    job.do(HandTurned("free", HEAD))
    assert gate.why_not_close(job.t) == ()
    assert fold(job.t.history).balances == job.t.balances


def test_written_onto_the_sheet_later_it_comes_off_as_long_as_nothing_was_open():
    job = Job()
    job.do(builders.grow(CLOTHS))
    seen(job, "cloth", 9)
    job.do(take_off(job.t, "cloth", places.STORES, "ten for nine"))
    assert job.t.places_of("cloth") == {places.STORES: 9}


def test_once_something_stood_open_it_may_be_inside_and_is_missing():
    job = Job()
    job.lift("nozzle")
    job.do(builders.grow(CLOTHS))
    seen(job, "cloth", 9)
    assert too_many(job.t, "cloth", places.STORES) == 0
    reason = only(job.refused(take_off(job.t, "cloth", places.STORES, "ten for nine")), "could be inside")
    assert reason.words == "It may be inside: the nozzle hole stood uncovered on this job."
    assert "missing" in reason.do_next


def test_written_down_after_that_was_covered_it_may_have_gone_in_before():
    """Ten written from memory: the tenth may have lain by the open hole before anybody wrote it down."""
    job = Job()
    job.lift("nozzle")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.grow(CLOTHS))
    seen(job, "cloth", 9)
    assert too_many(job.t, "cloth", places.STORES) == 0


@pytest.mark.parametrize(
    ("fact", "code"),
    [
        (WrittenTooHigh("slip", 3, (Move("rag", 1, "stores", "origin"),)), "not counted"),
        (WrittenTooHigh("slip", 3, ()), "not a withdrawal"),
        (WrittenTooHigh("slip", 3, (Move("rag", 1, "stores", "bench"),)), "not a withdrawal"),
        (WrittenTooHigh("slip", 3, (Move("ghost", 1, "stores", "origin"),)), "not a withdrawal"),
        (WrittenTooHigh("slip", 3, (Move("rag", 1, "missing", "origin"),)), "not a withdrawal"),
        (WrittenTooHigh("slip", 3, (Move("rag", -1, "stores", "origin"),)), "not counted"),
    ],
)
def test_without_a_count_that_shows_it_nothing_comes_off(fact, code):
    assert codes(Job().refused(fact)) == [code]


def test_as_much_as_the_count_shows_and_no_more_and_with_a_reason():
    job = Job()
    seen(job, "rag", 3)
    right = take_off(job.t, "rag", places.STORES, "the shop has three")
    assert codes(job.refused(replace(right, why=" "))) == ["no reason"]
    for number in (2, 4):
        more = replace(right, moves=(right.moves[0]._replace(quantity=number),))
        assert codes(job.refused(more)) == ["not counted"]
    assert codes(job.refused(replace(right, counted=2))) == ["not counted"]
    job.do(builders.check("rag", places.STORES, 4))
    assert codes(job.refused(right)) == ["not counted"], "counted again, and they are there"


def test_what_something_else_became_is_not_written_down():
    job = Job()
    job.do(builders.convert("rag", 1, "stores", [(Line("piece", "rag piece", "rag", 2, "stores"), 2)], "torn"))
    seen(job, "piece", 1)
    assert codes(job.refused(take_off(job.t, "piece", places.STORES, "slip"))) == ["not a withdrawal"]


# --- fasteners: no hole for it, or an empty hole


def test_a_bolt_of_which_there_is_no_hole_comes_off_with_a_photo_and_the_closure_is_whole():
    job = Job()
    seen(job, BOLT, 9, HOME)
    right = take_off(job.t, BOLT, HOME, "a flange with nine holes", PHOTO)
    assert "no photo" in codes(job.refused(replace(right, photo="")))
    job.do(right)
    assert (job.t.required[BOLT], job.stage("manifold")) == (9, "fitted")
    job.lift("crossover", "manifold")
    job.refit("manifold", "crossover")
    assert job.stage("manifold") == "signed"
    assert "9 of 9 M8 bolts home" in builders.closed_statement(job.t, "manifold")


def test_once_one_of_them_was_off_it_is_not_known_any_more():
    job = Job()
    job.count(BOLT, 1, HOME, "tray")
    seen(job, BOLT, 8, HOME)
    assert codes(job.refused(take_off(job.t, BOLT, HOME, "nine holes", PHOTO))) == ["closure was off"]
    job.lift("crossover", "manifold")
    seen(job, GASKET, 0, "tray")
    assert too_many(job.t, GASKET, "tray") == 0


# --- on record


def test_it_stands_on_the_closing_sheet_with_its_reason():
    job = Job()
    seen(job, "rag", 3)
    job.do(take_off(job.t, "rag", places.STORES, "the shop has three"))
    account = make_account("job-1", job.t.history, {"phone-a": HEAD})
    (section,) = [section for section in account.sections if section.title == "Torn, broken, renewed and added"]
    assert (
        "1 rag came off the tally, written down too high: 3 rags counted put away, nothing had been open yet. "
        "Why: the shop has three"
    ) in str(section)


def test_two_phones_that_each_took_it_off_have_one_too_few_and_a_count_that_says_so():
    ines, tomas = two_phones()
    for phone, who in ((ines, INES), (tomas, TOMAS)):
        phone.do(builders.check("rag", places.STORES, 3), who)
        phone.do(take_off(phone.t, "rag", places.STORES, "the shop has three"), who)
    t = exchange(ines, tomas)
    assert (t.quantity("rag", places.STORES), t.discrepancies["rag", places.STORES].seen) == (2, 3)
    assert "count differs" in codes(gate.why_not_close(t))
    assert faults(t.balances) == []


def test_nothing_else_moves_by_it():
    job = Job()
    seen(job, "rag", 3)
    two = WrittenTooHigh("slip", 3, (Move("rag", 1, "stores", "origin"), Move("wrench", 1, "stores", "origin")))
    assert codes(job.refused(two)) == ["not a withdrawal"]
