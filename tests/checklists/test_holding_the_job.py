"""Whoever holds the job hands it over, and nobody else; leaving the machine puts the tally on record."""

from __future__ import annotations

import pytest
from workboat_model import BOLT, INES, TOMAS, Job, codes, only

from checklists import builders
from checklists.fact_codec import fact_from_plain, fact_to_plain
from checklists.facts import HandedOver, Joined, Left, Person, Secured
from checklists.state import tally
from mobileapp.screens.lead import way_to_mend

NILS = "Nils Aker"


@pytest.fixture
def job() -> Job:
    job = Job()
    job.do(Joined(Person(NILS, "engineer")))
    return job


def test_a_job_is_not_handed_over_by_somebody_who_does_not_hold_it(job):
    refused = only(job.refused(HandedOver(NILS, "ports next", ()), TOMAS), "not the holder")
    assert refused.words == f"{INES} holds the job, not {TOMAS}."
    assert way_to_mend(refused, job.t) == ("people", {})
    job.do(HandedOver(NILS, "ports next", ()), INES)


def test_after_it_was_taken_over_only_the_new_holder_hands_it_on(job):
    job.do(HandedOver(TOMAS, "", ()), INES)
    job.do(builders.take_over(job.t, [], ""), TOMAS)
    assert codes(job.refused(HandedOver(NILS, "", ()), INES)) == ["not the holder"]
    job.do(HandedOver(NILS, "", ()), TOMAS)


def test_where_the_holder_went_off_the_job_somebody_else_may(job):
    job.do(Left(INES), TOMAS)
    job.do(HandedOver(NILS, "", ()), TOMAS)


@pytest.mark.parametrize("gone", [INES, TOMAS])
def test_an_offer_ends_when_giver_or_taker_goes_off_the_job(job, gone):
    job.do(HandedOver(TOMAS, "", ()), INES)
    job.do(Left(gone), NILS)
    assert job.t.offered is None
    job.do(HandedOver(NILS if gone == TOMAS else TOMAS, "", ()), INES if gone == TOMAS else NILS)


def test_the_tally_is_on_record_when_the_machine_is_left(job):
    job.count(BOLT, 3, "fitted/manifold", "tray")
    fact = builders.secure(job.t, "back on Monday")
    assert fact.tally == (*tally(job.t),) == (3, 0, 0)
    assert fact_from_plain(fact.kind, fact_to_plain(fact)) == fact
    assert codes(job.refused(Secured("", (0, 0, 0)))) == ["not the tally"]
    job.do(fact)


def test_leaving_as_an_older_journal_has_it_says_no_tally():
    assert fact_from_plain("machine secured", {"note": "x"}) == Secured("x")
