"""Tearing a rag, opening a pack, breaking a part, renewing a bolt: both sides are on record."""

import pytest
from workboat_model import BOLT, Job, codes, only

from checklists import builders
from checklists.facts import Converted, Move, Refitted
from checklists.sheet import Line

PIECE = Line("rag-piece", "rag piece", "rag", 2, "stores")
WIPE = Line("wipe", "wipe", "rag", 10, "stores")


def test_a_torn_rag_is_two_pieces_and_both_must_come_back():
    job = Job()
    job.lift("nozzle")
    job.count("rag", 1, "stores", "engine/cylinder-1")
    job.do(builders.convert("rag", 1, "engine/cylinder-1", [(PIECE, 2)], "torn on a stud"))
    assert job.t.places_of("rag") == {"stores": 3, "converted": 1}
    job.count("rag-piece", 1, "engine/cylinder-1", "stores")
    job.look("nozzle-hole")
    reason = only(job.refused(job.clearing("nozzle")), "in the engine")
    assert (reason.line, reason.quantity, reason.place) == ("rag-piece", 1, "engine/cylinder-1")
    job.count("rag-piece", 1, "engine/cylinder-1", "stores")
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))


def test_an_opened_pack_becomes_the_wipes_in_it():
    job = Job()
    job.do(builders.convert("pack", 1, "stores", [(WIPE, 10)], "opened"))
    assert job.t.quantity("wipe", "stores") == 10
    assert job.t.total("wipe") == 10
    assert codes(job.refused(builders.convert("pack", 1, "stores", [(WIPE, 10)], "opened again"))) == ["surplus"]


def test_a_broken_bolt_becomes_pieces_and_a_new_one_must_come_home_for_it():
    job = Job()
    head, shank = (
        Line("bolt-head", "bolt head", "part", 1, "scrap"),
        Line("bolt-shank", "bolt shank", "part", 1, "scrap"),
    )
    job.lift("nozzle", "crossover", "manifold")
    job.do(builders.convert(BOLT, 1, "tray", [(head, 1), (shank, 1)], "sheared"))
    job.do(builders.miss(job.t, "bolt-shank", 1, "tray", "not on the floor"))
    assert only(job.refused(job.clearing("manifold")), "missing").line == "bolt-shank"
    job.do(builders.find_again(job.t, "bolt-shank", 1, "inlet port 1", to="scrap"))
    job.count("bolt-head", 1, "tray", "scrap")
    job.do(builders.add(BOLT, 1, "tray", "new one for the broken one"))
    job.clear("manifold")
    job.do(Refitted("manifold"))
    job.home("manifold")
    assert job.t.quantity(BOLT, "fitted/manifold") == 10


def test_the_broken_part_itself_is_still_asked_for_until_it_is_replaced():
    job = Job()
    head = Line("bolt-head", "bolt head", "part", 1, "scrap")
    job.lift("crossover", "manifold")
    job.do(builders.convert(BOLT, 1, "tray", [(head, 2)], "sheared"))
    job.count("bolt-head", 2, "tray", "scrap")
    job.clear("manifold")
    job.do(Refitted("manifold"))
    job.home("manifold")
    reasons = job.refused(job.signing("manifold"))
    assert (only([r for r in reasons if r.line == BOLT], "not home").quantity) == 1


def test_renewing_scraps_the_old_one_and_takes_a_new_one_from_new_stock():
    job = Job()
    job.count(BOLT, 2, "fitted/manifold", "tray")
    job.do(builders.renew(BOLT, 2, "tray", "stretched"))
    assert job.t.places_of(BOLT) == {"fitted/manifold": 8, "tray": 2, "scrap": 2}
    assert job.t.total(BOLT) == 12
    job.count(BOLT, 2, "tray", "fitted/manifold")
    assert job.t.quantity(BOLT, "fitted/manifold") == 10


def test_a_renewal_is_made_off_the_machine():
    job = Job()
    assert codes(job.refused(builders.renew(BOLT, 1, "fitted/manifold", "rusty"))) == ["not a renewal"]
    assert codes(job.refused(builders.renew(BOLT, 1, "tray", "none is there"))) == ["surplus"]


def test_a_new_line_does_not_take_the_name_of_something_else():
    job = Job()
    other = Line("wrench", "rag piece", "rag", 2, "stores")
    assert codes(job.refused(builders.convert("rag", 1, "stores", [(other, 2)], "torn"))) == ["line known"]


@pytest.mark.parametrize(
    "moves",
    [
        (Move("rag", 1, "stores", "converted"),),
        (Move("rag-piece", 2, "origin", "stores"),),
        (
            Move("rag", 1, "stores", "converted"),
            Move("rag-piece", 2, "origin", "stores"),
            Move("cap", 1, "stores", "bench"),
        ),
        (),
    ],
    ids=["nothing made", "nothing used", "something else moved", "nothing at all"],
)
def test_a_conversion_says_what_was_used_up_and_what_it_became(moves):
    assert codes(Job().refused(Converted("torn", (PIECE,), moves))) == ["not a conversion"]


@pytest.mark.parametrize("place", ["missing", "fitted/manifold", "origin", "converted", "cover/inlet-1", "tray"])
def test_pieces_are_where_the_whole_was_and_nowhere_else(place):
    """A piece put straight into `missing` would be missed by nobody, one `fitted` would be asked for by nobody."""
    made = Converted("torn", (PIECE,), (Move("rag", 1, "stores", "converted"), Move("rag-piece", 2, "origin", place)))
    assert job_refuses(made)


@pytest.mark.parametrize("place", ["missing", "fitted/manifold", "origin", "scrap"])
def test_only_what_is_at_hand_is_torn_opened_or_broken(place):
    job = Job()
    job.do(builders.miss(job.t, "rag", 1, "stores"))
    job.count(BOLT, 1, "fitted/manifold", "scrap")
    line = BOLT if place in ("fitted/manifold", "scrap") else "rag"
    assert job.refused(builders.convert(line, 1, place, [(PIECE, 2)], "broken"))


def test_pieces_are_at_home_off_the_machine():
    """A new kind of item is not something that belongs on a closure."""
    piece = Line("shim", "shim", "part", 2, "fitted/manifold")
    assert job_refuses(builders.convert("rag", 1, "stores", [(piece, 2)], "cut"))


def job_refuses(fact):
    return codes(Job().refused(fact))


def test_an_open_pack_of_bolts_gives_more_of_a_line_that_is_known():
    job = Job()
    known = job.t.lines[BOLT]
    job.do(builders.convert("pack", 1, "stores", [(known, 5)], "a pack of bolts"))
    assert job.t.quantity(BOLT, "stores") == 5
    assert job.t.required[BOLT] == 10
