"""One person is one name, the job has a holder, a find is matched once, and what is signed says what was done."""

from __future__ import annotations

from account_reading import account_of, rows
from two_phones import exchange, two_phones
from workboat_model import DECKHAND, FITTER, INES, PHOTO, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts import FindLogged, FindRemoved, Joined, Left, Person
from checklists.gate import why_not_close


def test_a_name_typed_another_way_is_the_same_person():
    job = Job()
    for name in ("ines vardal", "INES VARDAL", " Ines  Vardal", "Ｉnes Vardal"):
        assert codes(job.refused(Joined(Person(name, "helper")))) == ["same name"]
    job.do(Joined(Person("Ines Vardal the younger", "helper")))


def test_whoever_holds_the_job_leaves_no_opening_uncovered():
    job = Job()
    job.lift("nozzle")
    assert codes(job.refused(Left(INES))) == ["uncovered"]
    job.do(Left(TOMAS))
    job.do(Joined(DECKHAND))
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(Left(INES))
    assert job.t.holder == TOMAS, "somebody on the job holds it"


def test_two_phones_that_let_the_last_two_go_keep_one():
    a, b = two_phones()
    exchange(a, b)
    a.do(Left(INES))
    b.do(Left(TOMAS))
    t = exchange(a, b)
    assert len(t.people) == 1
    assert t.holder == t.people[0].name


def test_who_left_and_came_again_is_told_with_both_times():
    job = Job()
    job.do(Left(TOMAS))
    job.do(Joined(DECKHAND))
    told = [row for row in rows(account_of(job), "People") if row[0] == TOMAS]
    ((_, _, since, until, _),) = told
    assert since.split("\n")[0] == "the start"
    assert len(since.split("\n")) == len(until.split("\n")) == 2
    assert until.split("\n")[1] == "still here"


def test_a_re_inspection_alone_is_signed_as_one_whoever_comes_later():
    job = Job(FITTER)
    job.lift("crossover", "manifold")
    for opening in ("inlet-1", "inlet-2"):
        job.look(opening)
    job.later(20)
    job.second_count(who=INES)
    job.do(Joined(DECKHAND))
    assert "re-inspection agrees" in builders.clearance_statement(job.t, "manifold")


def test_one_find_is_matched_once():
    """Two rags are gone and one is found: it cannot be both of them."""
    job = Job()
    job.lift("crossover", "manifold")
    job.count("rag", 2, "stores", "engine/port-1")
    job.do(builders.miss(job.t, "rag", 2, "engine/port-1"))
    job.do(FindLogged("rag-1", "a rag", "port-1", PHOTO, opening="inlet-1"))
    job.do(FindRemoved("rag-1", "fingers", PHOTO, "on the bench"))
    job.do(builders.match_find(job.t, "rag-1", "rag"))
    reason = only(job.refused(builders.match_find(job.t, "rag-1", "rag")), "matched already")
    assert reason.words == "That find is known already: it is 1 rag."
    assert "missing" in codes(why_not_close(job.t))
    find = dict(next(pair for pair in _pairs(job) if dict(pair).get("Where", "").startswith("inlet port 1")))
    assert find["Ours"] == "yes, counted found: 1 rag"


def _pairs(job: Job):
    section = next(section for section in account_of(job).sections if section.title == "Finds")
    return [block.rows for block in section.blocks if hasattr(block, "rows") and block.rows and len(block.rows[0]) == 2]


