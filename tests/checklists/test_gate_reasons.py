"""Why a closure may not go back: every reason at once, with what, how many, where, since when, who, what to do."""

import pytest
from workboat_model import BOLT, CLIP_BOLT, INES, NUT, PHOTO, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts import Acknowledged, FindLogged, FindRemoved, Grown, Looked, Refitted
from checklists.gate import why_not
from checklists.sheet import Caution, Sheet


@pytest.fixture
def job() -> Job:
    """Everything is off, and every opening of the manifold was looked into."""
    job = Job()
    job.lift("nozzle", "crossover", "manifold")
    job.look("inlet-1", "inlet-2", "outlet", "nozzle-hole")
    return job


def test_an_opening_nobody_has_looked_into_is_named():
    job = Job()
    job.lift("nozzle")
    (reason,) = job.refused(job.clearing("nozzle"))
    assert (reason.code, reason.opening, reason.closure) == ("not looked into", "nozzle-hole", "nozzle")
    assert reason.words == "Nobody has looked into the nozzle hole since it was opened."
    assert reason.do_next == "Look into the nozzle hole and photograph it."


def test_a_wrench_left_in_a_port_is_named_with_who_put_it_there_and_when(job):
    job.count("wrench", 1, "stores", "engine/port-1", TOMAS)
    since = job.t.last_entry.at
    reason = only(job.refused(job.clearing("manifold")), "in the engine")
    assert (reason.line, reason.line_name, reason.quantity) == ("wrench", "wrench", 1)
    assert (reason.place, reason.place_words) == ("engine/port-1", "in inlet port 1")
    assert (reason.since, reason.who) == (since, TOMAS)
    assert (reason.words, reason.do_next) == ("1 wrench in inlet port 1.", "Take it out and count it back.")


def test_what_lies_further_in_counts_against_the_closure_over_the_way_there(job):
    """A nut in cylinder 1 came by the nozzle hole, and could have come by inlet 1."""
    job.count(NUT, 1, "tray", "engine/cylinder-1")
    assert only(job.refused(job.clearing("manifold")), "in the engine").line == NUT
    assert only(job.refused(job.clearing("nozzle")), "in the engine").line == NUT
    assert "in the engine" not in codes(why_not(job.t, "crossover"))


def test_passages_are_one_way(job):
    """A wrench in the port asks for the manifold, not for the nozzle holder: nothing falls upward."""
    job.count("wrench", 1, "stores", "engine/port-1")
    job.look("nozzle-hole")
    assert why_not(job.t, "nozzle") == ()


def test_an_item_whose_spot_is_not_said_counts_against_every_closure_that_is_off(job):
    job.count("glasses", 1, "stores", "engine")
    for closure in ("nozzle", "crossover", "manifold"):
        reason = only(job.refused(job.clearing(closure)), "in the engine")
        assert (reason.line, reason.place) == ("glasses", "engine")


def test_what_lies_on_the_closure_itself_would_go_back_with_it(job):
    job.count("wrench", 1, "stores", "on/nozzle")
    assert only(job.refused(job.clearing("nozzle")), "in the engine").place == "on/nozzle"


def test_a_cover_left_in_is_named_with_its_opening(job):
    job.do(builders.cover(job.t, "inlet-2", "rag"), TOMAS)
    reason = only(job.refused(job.clearing("manifold")), "cover in place")
    assert (reason.line, reason.quantity, reason.opening, reason.who) == ("rag", 1, "inlet-2", TOMAS)
    assert reason.words == "1 rag covering inlet 2."


def test_a_missing_item_counts_against_every_closure_whose_spaces_stood_open(job):
    job.do(builders.miss(job.t, NUT, 1, "tray", "not in the tray"), TOMAS)
    for closure in ("nozzle", "crossover", "manifold"):
        reason = only(job.refused(job.clearing(closure)), "missing")
        assert (reason.line, reason.quantity, reason.place, reason.who) == (NUT, 1, "tray", TOMAS)


def test_a_missing_item_does_not_count_where_all_was_sealed_since_it_was_seen():
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    job.do(builders.check("wrench", "stores", 1))
    job.lift("crossover")
    job.do(builders.miss(job.t, "wrench", 1, "stores"))
    assert job.t.could_hold(job.t.missing[0]) == {"jacket"}
    assert job.stage("nozzle") == "signed"


def test_an_open_find_counts_against_the_closure_over_it_until_it_is_out_and_photographed(job):
    job.do(FindLogged("find-1", "old washer", "cylinder-1", PHOTO))
    assert (
        only(job.refused(job.clearing("manifold")), "find open").words == "Find not settled: old washer (cylinder 1)."
    )
    assert only(job.refused(job.clearing("nozzle")), "find open").find == "find-1"
    assert "find open" not in codes(why_not(job.t, "crossover"))
    job.do(FindRemoved("find-1", "with the magnet", PHOTO, "bag 1"))
    assert "find open" not in codes(why_not(job.t, "nozzle"))


def test_an_extra_item_found_anywhere_counts_against_every_closure(job):
    job.do(FindLogged("find-1", "an eleventh bolt", "", PHOTO))
    for closure in ("nozzle", "crossover", "manifold"):
        assert "find open" in codes(why_not(job.t, closure))


def test_a_count_that_differs_holds_every_closure_up(job):
    job.do(builders.check(BOLT, "tray", 9), TOMAS)
    reason = only(job.refused(job.clearing("nozzle")), "count differs")
    assert (reason.line, reason.quantity, reason.place, reason.who) == (BOLT, 1, "tray", TOMAS)
    assert reason.words == "M8 bolt: 9 counted in the tray, where the tally has 10."


def test_what_lies_beneath_is_closed_first(job):
    reason = only(job.refused(job.clearing("crossover")), "closure below open")
    assert (reason.closure, reason.words) == ("manifold", "The manifold beneath it is not closed (lifted).")
    job.refit("manifold")
    assert why_not(job.t, "crossover") == ()


@pytest.mark.parametrize("stage", ["cleared", "set down", "loosened"])
def test_beneath_closed_means_signed(job, stage):
    job.clear("manifold")
    if stage != "cleared":
        job.do(Refitted("manifold"))
        job.home("manifold")
    if stage == "loosened":
        job.do(job.signing("manifold"))
        job.count(BOLT, 1, "fitted/manifold", "tray")
    assert only(why_not(job.t, "crossover"), "closure below open").words.endswith(f"({stage}).")


def test_the_second_count_is_demanded_where_the_sheet_says_so(job):
    assert "second count due" in codes(why_not(job.t, "manifold"))
    assert "second count due" not in codes(why_not(job.t, "crossover"))


def test_a_caution_not_acknowledged_holds_every_closure_up(job):
    job.do(Grown(Sheet("", "", cautions=(Caution("fuel", "Fuel shut off."),)), ()))
    for closure in ("nozzle", "crossover", "manifold"):
        assert only(job.refused(job.clearing(closure)), "caution unread").caution == "fuel"
    job.do(Acknowledged("fuel"))
    assert why_not(job.t, "nozzle") == ()


def test_all_reasons_come_at_once(job):
    job.do(Looked("inlet-1", False, "a glint", PHOTO))
    job.do(builders.cover(job.t, "inlet-2", "cap"))
    job.count("wrench", 1, "stores", "engine/port-1")
    job.do(builders.drop(job.t, CLIP_BOLT, 1, "at the front"))
    job.do(FindLogged("find-1", "old washer", "port-2", PHOTO))
    job.do(builders.check("rag", "stores", 3))
    assert set(codes(job.refused(job.clearing("manifold")))) == {
        "cover in place", "in the engine", "missing", "find open", "count differs", "not clear", "look out of date",
        "second count due"}  # fmt: skip


def test_a_granted_clearance_leaves_no_reason(job):
    job.refit("manifold")
    assert job.stage("manifold") == "signed"
    assert why_not(job.t, "manifold") == ()


@pytest.mark.parametrize("who", [INES, TOMAS])
def test_reasons_are_the_same_for_everybody(who):
    job = Job()
    job.lift("nozzle")
    assert codes(job.refused(job.clearing("nozzle"), who)) == ["not looked into"]
