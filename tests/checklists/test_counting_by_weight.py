"""A count by weight confirms what lies at a place, marked as such; it moves nothing and says no more than the scale."""

from dataclasses import replace

import pytest
from workboat_model import BOLT, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts_measured import Gauge, WeighCounted
from checklists.story_words import say

SCALE = Gauge("letter scale", "0.1 g", "0.1 g")
#: Ten M8 bolts of 22 g in a 12 g bag, against five of them.
TEN = WeighCounted(BOLT, "tray", 10, "232.0 g", "12.0 g", "110.0 g", 5, "1 %", SCALE)


@pytest.fixture
def job() -> Job:
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    return job


def test_it_confirms_the_count_and_moves_nothing(job):
    before = dict(job.t.balances)
    entry = job.do(TEN, TOMAS)
    assert job.t.balances == before
    assert job.t.sighted[BOLT, "tray"].who == TOMAS
    assert [(fact.number, mark.who) for fact, mark in job.t.weigh_counts] == [(10, TOMAS)]
    assert say(job.t, [entry.fact]) == "counts 10 M8 bolts by weight in the tray (232.0 g in all)"


def test_one_too_few_is_a_discrepancy_as_by_any_count(job):
    job.do(replace(TEN, number=9, gross="210.0 g"))
    assert job.t.discrepancies[BOLT, "tray"].seen == 9


def test_a_number_the_weights_do_not_give_is_refused(job):
    assert only(job.refused(replace(TEN, number=11)), "not that many").words == "By these weights there are 10, not 11."


def test_beyond_what_the_scale_can_tell_it_does_not_answer(job):
    coarse = replace(TEN, gauge=Gauge("bathroom scale", "100 g"))
    assert only(job.refused(coarse), "scale cannot tell").words.startswith("Cannot tell")
    mixed = replace(TEN, gross="243.0 g")
    assert "no whole number fits" in only(job.refused(mixed), "scale cannot tell").words


def test_what_cannot_be_read_is_told(job):
    assert codes(job.refused(replace(TEN, gross="much", scatter="some"))) == ["figure", "figure"]
    assert codes(job.refused(replace(TEN, pieces=0))) == ["no sample"]
    assert codes(job.refused(replace(TEN, line="anchor"))) == ["unknown line"]


def test_it_is_not_undone_as_a_count_is(job):
    job.do(TEN)
    assert builders.last_undoable(job.t) is None
