"""What is signed is the statement that the record makes at that moment, and no other."""

from __future__ import annotations

from dataclasses import replace

import pytest
from workboat_model import INES, Job, codes

from checklists import builders
from checklists.facts import Cleared, Closed, HandTurned, Joined, Person, Refitted, Signed


@pytest.fixture
def job() -> Job:
    job = Job()
    job.lift("nozzle")
    return job


def ready_to_clear(job: Job) -> Cleared:
    """The clearance of the nozzle holder, with everything done before it."""
    job.look_into("nozzle")
    clearing = job.clearing("nozzle")
    assert isinstance(clearing, Cleared)
    return clearing


@pytest.mark.parametrize("said", ["", " ", "anything", "nozzle holder: nothing left."])
def test_a_clearance_is_signed_for_what_the_count_says(job, said):
    right = ready_to_clear(job)
    refused = job.refused(replace(right, statement=said))
    assert codes(refused) == ["not its statement"]
    assert right.statement in refused[0].do_next
    job.do(right)


@pytest.mark.parametrize("said", ["", "all done"])
def test_a_closure_and_the_teardown_are_signed_for_what_the_count_says(job, said):
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    right = builders.sign(job.t, "nozzle", "", "")
    assert codes(job.refused(Signed("nozzle", "", said, ""))) == ["not its statement"]
    job.do(right)
    job.do(HandTurned("two turns, free"))
    assert codes(job.refused(Closed(said, ""))) == ["not its statement"]
    job.do(builders.close(job.t, ""))


def test_while_something_else_stands_against_it_only_that_is_said(job):
    assert "not its statement" not in codes(job.refused(Cleared("nozzle", "", "")))


def test_nobody_without_a_name_signs(job):
    right = ready_to_clear(job)
    assert codes(job.refused(right, who="")) == ["not on the job"]
    assert codes(job.refused(Joined(Person(" ", "fitter")), who=INES)) == ["same name"]
