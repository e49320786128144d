"""Refitting counts every fastener and part home, one by one, and asks for the torque."""

import pytest
from workboat_model import BOLT, GASKET, Job, codes, only

from checklists import builders
from checklists.facts import Refitted


@pytest.fixture
def job() -> Job:
    """The manifold is set down; its ten bolts and its gasket lie in the tray."""
    job = Job()
    job.lift("crossover", "manifold")
    job.do(builders.count_out(job.t, GASKET))
    job.clear("manifold")
    job.do(Refitted("manifold"))
    return job


def test_each_bolt_counts(job):
    for home in range(10):
        reason = only([r for r in job.refused(job.signing("manifold")) if r.line == BOLT], "not home")
        assert (reason.quantity, reason.place) == (10 - home, "tray")
        job.do(builders.count_back(job.t, BOLT))
    assert [r.line for r in job.refused(job.signing("manifold"))] == [GASKET]
    job.do(builders.count_back(job.t, GASKET))
    job.do(job.signing("manifold"))
    assert job.stage("manifold") == "signed"


def test_the_reason_says_how_many_where_since_when_and_who(job):
    job.count(BOLT, 9, "tray", "fitted/manifold")
    reason = only([r for r in job.refused(job.signing("manifold")) if r.line == BOLT], "not home")
    assert reason.words == "1 M8 bolt not home: last in the tray."
    assert reason.do_next == "Count it back."
    assert reason.since == job.t.moved[BOLT, "tray"].at
    assert reason.who == "Ines Vardal"


def test_an_eleventh_bolt_on_the_closure_is_a_surplus(job):
    job.do(builders.add(BOLT, 1, "tray", "out of the box"))
    job.count(BOLT, 10, "tray", "fitted/manifold")
    reason = only(job.refused(builders.count_back(job.t, BOLT)), "surplus")
    assert (reason.line, reason.quantity, reason.closure) == (BOLT, 1, "manifold")
    assert reason.words == "10 of 10 M8 bolt are home on the manifold."
    assert "Log the extra one as a find" in reason.do_next


def test_eleven_at_once_are_a_surplus_of_one(job):
    job.do(builders.add(BOLT, 1, "tray", "out of the box"))
    assert only(job.refused(builders.count_back(job.t, BOLT, 11)), "surplus").quantity == 1


def test_two_movements_of_one_count_are_a_surplus_together(job):
    """Six and six are twelve, though six alone would fit."""
    job.do(builders.add(BOLT, 2, "tray", "out of the box"))
    six = builders.count_back(job.t, BOLT, 6)
    assert codes(job.refused(six.__class__(six.moves * 2))) == ["surplus"]


def test_the_torque_used_is_asked_for(job):
    job.home("manifold")
    reason = only(job.refused(job.signing("manifold", torque="  ")), "no torque")
    assert reason.words == "The torque used on the manifold is not said (sheet: 24 N.m)."
    job.do(job.signing("manifold", torque="23 N.m"))
    assert job.t.closure_states["manifold"].torque == "23 N.m"


def test_no_torque_is_asked_for_where_the_sheet_gives_none():
    job = Job()
    job.lift("nozzle")
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    job.do(job.signing("nozzle", torque=""))


def test_torque_and_counts_are_refused_together(job):
    assert codes(job.refused(job.signing("manifold", torque=""))) == ["not home", "not home", "no torque"]


def test_a_bolt_taken_out_after_signing_opens_the_closure_again(job):
    job.home("manifold")
    job.do(job.signing("manifold"))
    job.count(BOLT, 1, "fitted/manifold", "tray")
    assert job.stage("manifold") == "loosened"
    assert codes(job.refused(job.signing("manifold"))) == ["not home"]
    job.count(BOLT, 1, "tray", "fitted/manifold")
    assert job.stage("manifold") == "set down"
    job.do(job.signing("manifold"))


def test_bolts_undone_and_done_up_again_before_anything_was_lifted_leave_it_as_it_was():
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    assert job.stage("manifold") == "loosened"
    job.count(BOLT, 10, "tray", "fitted/manifold")
    assert job.stage("manifold") == "fitted"


def test_what_is_signed_is_said_in_figures(job):
    job.home("manifold")
    signed = job.signing("manifold")
    assert signed.statement == "manifold: 10 of 10 M8 bolts home and 1 of 1 gasket home."
