"""Finds are photographed, taken out, photographed after and kept; a look inside is only as good as its date."""

import pytest
from workboat_model import NUT, PHOTO, Job, codes, only

from checklists import builders
from checklists.facts import FindLogged, FindRemoved, Lifted, Looked, Refitted
from checklists.gate import moved_since_look, why_not


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off and cylinder 1 was looked into."""
    job = Job()
    job.lift("nozzle")
    job.look("nozzle-hole")
    return job


def test_a_find_is_photographed_where_it_lies_and_said(job):
    assert codes(job.refused(FindLogged("find-1", " ", "cylinder-1", ""))) == ["no photo", "not said"]
    assert codes(job.refused(FindLogged("find-1", "washer", "bilge", PHOTO))) == ["unknown place"]


def test_a_find_has_its_own_name(job):
    assert codes(job.refused(FindLogged("find-1", "washer", "jacket", PHOTO, "", "nozzle-hole"))) == ["unknown place"]
    job.do(FindLogged("find-1", "washer", "cylinder-1", PHOTO, "", "nozzle-hole"))
    assert codes(job.refused(FindLogged("find-1", "nut", "cylinder-1", PHOTO))) == ["find known"]


def test_a_find_is_taken_out_photographed_after_and_kept(job):
    assert codes(job.refused(FindRemoved("find-1", "magnet", PHOTO, "bag 1"))) == ["no such find"]
    job.do(FindLogged("find-1", "washer", "cylinder-1", PHOTO))
    assert codes(job.refused(FindRemoved("find-1", "", "", ""))) == ["no photo", "not said"]
    job.do(FindRemoved("find-1", "magnet", PHOTO, "bag 1"))
    assert codes(job.refused(FindRemoved("find-1", "magnet", PHOTO, "bag 1"))) == ["no such find"]


def test_the_look_from_before_the_find_was_taken_out_is_out_of_date(job):
    job.do(FindLogged("find-1", "washer", "cylinder-1", PHOTO))
    job.do(FindRemoved("find-1", "magnet", PHOTO, "bag 1"))
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))


def test_a_look_names_its_photo_and_what_was_seen(job):
    assert codes(job.refused(Looked("nozzle-hole", True, " ", ""))) == ["no photo", "not said"]
    assert codes(job.refused(Looked("sump", True, "clean", PHOTO))) == ["unknown opening"]


def test_what_was_seen_inside_holds_the_closure_up_until_a_clear_look(job):
    job.do(Looked("nozzle-hole", False, "a glint on the piston", PHOTO))
    reason = only(job.refused(job.clearing("nozzle")), "not clear")
    assert reason.words == "The nozzle hole: seen inside: a glint on the piston."
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))


@pytest.mark.parametrize("place", ["engine/cylinder-1", "engine/port-1", "engine", "on/nozzle"])
def test_a_movement_after_the_look_puts_it_out_of_date(job, place):
    job.lift("crossover", "manifold")
    job.look("nozzle-hole")
    job.count("wrench", 1, "stores", place)
    job.count("wrench", 1, place, "stores")
    reason = only(job.refused(job.clearing("nozzle")), "look out of date")
    assert "but something moved there at" in reason.words


def test_what_moved_behind_a_port_puts_the_look_through_that_port_out_of_date(job):
    """The cylinder is seen through its port only; the other ports lead elsewhere."""
    job.lift("crossover", "manifold")
    for port in ("inlet-1", "inlet-2"):
        job.look(port)
    job.do(FindLogged("find-1", "washer half", "cylinder-1", PHOTO))
    job.do(FindRemoved("find-1", "magnet", PHOTO, "bag 1"))
    assert moved_since_look(job.t, "inlet-1") is not None
    assert moved_since_look(job.t, "inlet-2") is None
    stale = [reason for reason in why_not(job.t, "manifold") if reason.code == "look out of date"]
    assert [reason.opening for reason in stale] == ["inlet-1"]
    job.look("inlet-1")
    assert moved_since_look(job.t, "inlet-1") is None


def test_what_moved_in_one_port_leaves_the_look_into_the_next_fresh(job):
    job.lift("crossover", "manifold")
    for port in ("inlet-1", "inlet-2"):
        job.look(port)
    job.count("wrench", 1, "stores", "engine/port-1")
    job.count("wrench", 1, "engine/port-1", "stores")
    assert moved_since_look(job.t, "inlet-1") is not None
    assert moved_since_look(job.t, "inlet-2") is None


def test_a_cover_in_and_out_after_the_look_puts_it_out_of_date(job):
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.uncover(job.t, "nozzle-hole"))
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]


def test_a_movement_in_another_space_leaves_the_look_fresh(job):
    job.lift("crossover")
    job.count("wrench", 1, "stores", "engine/jacket")
    job.do(job.clearing("nozzle"))


def test_the_look_from_before_it_was_lifted_again_does_not_count(job):
    job.do(job.clearing("nozzle"))
    job.do(Refitted("nozzle"))
    job.do(Lifted("nozzle", PHOTO))
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]


def test_order_is_the_order_of_entries_not_the_clock(job):
    """The clock is set back an hour: a movement is still later than the look that was entered before it."""
    job.later(-60)
    job.count(NUT, 1, "tray", "engine/cylinder-1")
    job.count(NUT, 1, "engine/cylinder-1", "tray")
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]
    job.later(-60)
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))
