"""A bookkeeping slip: what could be wrong where a place does not agree, and taking it back with a reason."""

import pytest
from workboat_model import BOLT, INES, TOMAS, Job, codes, only

from checklists import builders
from checklists.closing_account import make_account
from checklists.facts_measured import Gauge, WeighCounted
from checklists.sheet import Closure, Fastener, Line, Sheet
from checklists.slips import right_of, slip_words, slips, written_anew


@pytest.fixture
def job() -> Job:
    """Ten bolts in the tray, one of them counted to the bench; nine are seen in the tray by a count, then eight."""
    job = Job()
    job.lift("crossover", "manifold")
    job.count(BOLT, 1, "tray", "bench", TOMAS)
    job.do(builders.check(BOLT, "tray", 10))
    return job


def test_the_counts_that_could_be_wrong_come_newest_first_in_words_with_time_and_who(job):
    job.count(BOLT, 2, "tray", "bench")
    job.do(builders.check(BOLT, "tray", 9))
    told = [slip_words(job.t, entry) for entry in slips(job.t, BOLT, "tray")]
    assert told == [
        ("2 M8 bolts in the tray, then on the bench", told[0][1]),
        ("1 M8 bolt in the tray, then on the bench", told[1][1]),
    ]
    assert [when.split(", ")[1] for _, when in told] == [INES, TOMAS]
    assert all(when[2] == ":" for _, when in told)


def test_too_few_there_leads_to_what_was_counted_there_and_too_many_to_what_was_counted_away(job):
    away = slips(job.t, BOLT, "tray")
    assert [(m.source, m.target) for entry in away for m in entry.fact.moves] == [("tray", "bench")]
    job.do(builders.check(BOLT, "tray", 8))
    there = slips(job.t, BOLT, "tray")
    assert len(there) == 10
    assert {(m.source, m.target) for entry in there for m in entry.fact.moves} == {("fitted/manifold", "tray")}


def test_a_renewal_explains_nothing_and_is_not_offered(job):
    """The old one went and the new one came: as many lie there as before."""
    job.do(builders.renew(BOLT, 2, "tray", "stretched"))
    job.do(builders.check(BOLT, "tray", 8))
    assert not [entry for entry in slips(job.t, BOLT, "tray") if entry.fact.kind == "renewed"]
    assert len(slips(job.t, BOLT, "tray")) == 10


def test_what_was_counted_before_a_count_there_agreed_is_not_offered(job):
    job.do(builders.check(BOLT, "tray", 9))
    later = job.count(BOLT, 1, "bench", "tray")
    job.do(builders.check(BOLT, "tray", 9))
    assert slips(job.t, BOLT, "tray") == [later]


def test_a_count_by_weight_that_agreed_is_a_count_too(job):
    job.do(WeighCounted(BOLT, "tray", 9, "99 g", "0 g", "55 g", 5, "1", Gauge("kitchen scale", "0.1 g", "0.1 g")))
    job.do(builders.check(BOLT, "tray", 8))
    assert slips(job.t, BOLT, "tray") == []


def test_ten_written_for_nine_is_offered_with_how_many_of_it_are_right():
    """Taken back it is ten off the other way, so it is said that nine are counted anew."""
    job = Job()
    ten = job.do(builders.add("rag", 10, "stores", "a new bundle"))
    job.do(builders.check("rag", "stores", 13))
    assert slips(job.t, "rag", "stores") == [ten]
    assert right_of(job.t, ten, "rag", "stores") == 9
    job.do(builders.undo(ten, "ten for nine"))
    job.do(builders.add("rag", 9, "stores", "a new bundle"))
    assert job.t.discrepancies == {}


def test_ten_written_onto_the_sheet_for_nine_are_taken_back_and_nine_written_down(job):
    """Whatever stands open: like any count that was written down wrong, with a reason, while all are still there."""
    ten = job.do(builders.grow(Sheet("", "", items=(Line("cloth", "cloth", "rag", 10, "stores"),))))
    assert not written_anew(job.t, "cloth", "stores")
    job.do(builders.check("cloth", "stores", 9))
    assert slips(job.t, "cloth", "stores") == [ten]
    assert codes(job.refused(builders.undo(ten, " "))) == ["no reason"]
    job.do(builders.undo(ten, "ten for nine"))
    assert written_anew(job.t, "cloth", "stores")
    job.do(builders.add("cloth", 9, "stores", "as counted"))
    assert ("cloth", "stores") not in job.t.discrepancies
    assert job.t.places_of("cloth") == {"stores": 9}
    account = str(make_account("job-1", job.t.history, {"phone-a": "0" * 64}).sections)
    assert "The sheet grew by cloth. (taken back later)" in account


def test_once_one_of_them_was_used_the_ten_are_not_taken_back(job):
    ten = job.do(builders.grow(Sheet("", "", items=(Line("cloth", "cloth", "rag", 10, "stores"),))))
    job.count("cloth", 1, "stores", "bench")
    assert codes(job.refused(builders.undo(ten, "ten for nine"))) == ["moved on"]


def test_what_belongs_on_a_closure_is_not_taken_back_so():
    """Fewer are short at the start, or a photo shows that there is no hole for it."""
    job = Job()
    lid = Closure("lid", "lid", (Fastener("bolt", "M6 bolt", 4),), (), "", (), False)
    grown = job.do(builders.grow(Sheet("", "", closures=(lid,))))
    assert codes(job.refused(builders.undo(grown, "four for three"))) == ["not undone so"]


def test_where_a_count_agrees_there_is_no_slip(job):
    assert slips(job.t, BOLT, "bench") == []
    job.do(builders.check(BOLT, "tray", 9))
    assert slips(job.t, BOLT, "tray") == []


def test_it_is_taken_back_with_a_reason_and_linked_to_what_was_wrong(job):
    wrong = slips(job.t, BOLT, "tray")[0]
    for nothing in ("", "  "):
        reason = only(job.refused(builders.undo(wrong, nothing)), "no reason")
        assert reason.words == "It is not said why the count was wrong."
    entry = job.do(builders.undo(wrong, "Counted, but not done"))
    assert (entry.fact.device, entry.fact.seq, entry.fact.why) == (wrong.device, wrong.seq, "Counted, but not done")
    assert job.t.discrepancies == {}
    assert slips(job.t, BOLT, "tray") == []
    assert codes(job.refused(builders.undo(wrong, "again"))) == ["undone already"]


def test_what_has_moved_on_since_cannot_be_taken_back_and_it_is_said_where_it_went(job):
    wrong = slips(job.t, BOLT, "tray")[0]
    job.count(BOLT, 1, "bench", "floor", TOMAS)
    reason = only(job.refused(builders.undo(wrong, "The wrong place was said")), "moved on")
    assert reason.words.startswith("1 M8 bolt would have to be on the bench, where the tally has 0: they were moved")
    assert (reason.who, reason.do_next) == (
        TOMAS, "Take the later count back first, or put it right by a new count.")  # fmt: skip
