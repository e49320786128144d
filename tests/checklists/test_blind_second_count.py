"""The second count: blind, whole, by another person or after a pause, and fresh."""

import pytest
from workboat_model import BOLT, CLIP_BOLT, DECKHAND, FITTER, INES, TOMAS, Job, codes, only

from checklists import builders, second_count
from checklists.facts import Joined, Left, Person, SecondCounted, Seen
from checklists.gate import why_not
from checklists.second_count import count_list

MARIT = Person("Marit Solem", "mechanic")


@pytest.fixture
def job() -> Job:
    """The manifold is off and looked into; the wrench is on the bench; Ines did it all."""
    job = Job()
    job.lift("crossover", "manifold")
    job.count("wrench", 1, "stores", "bench")
    job.look("inlet-1", "inlet-2")
    return job


def due(job: Job) -> str:
    """What is said of the second count; empty when it holds."""
    return "".join(r.words for r in why_not(job.t, "manifold") if r.code == "second count due")


def test_the_list_goes_from_near_the_opening_to_put_away_and_says_no_figures(job):
    job.do(builders.cover(job.t, "inlet-1", "rag"))
    job.count("glasses", 1, "stores", "engine")
    assert count_list(job.t, "manifold") == (
        ("rag", "cover/inlet-1"), ("glasses", "engine"), ("manifold.bolt", "tray"), ("manifold.gasket", "tray"),
        ("wrench", "bench"), ("rag", "stores"), ("wrench", "stores"), ("glasses", "stores"))  # fmt: skip


def test_what_was_never_used_is_not_counted_again(job):
    assert {line for line, _ in count_list(job.t, "manifold")} == {"manifold.bolt", "manifold.gasket", "wrench"}


def test_a_count_that_agrees_opens_the_way(job):
    assert due(job) == "No blind second count by another person for the manifold yet."
    job.second_count()
    assert due(job) == ""
    assert job.t.second_counts["manifold"].mark.who == TOMAS
    job.do(job.clearing("manifold"))


def test_the_person_who_worked_there_does_not_make_it(job):
    reason = only(job.refused(job.counted_again(), INES), "same person")
    words = "Whoever worked there does not make the second count; where all did, whoever worked there least does."
    assert (reason.words, reason.do_next, reason.who) == (words, f"Let {TOMAS} make it.", INES)


def test_a_small_hand_in_the_work_does_not_hand_the_count_to_the_one_who_did_it_all(job):
    """One rag moved by the other does not let the fitter count her own work."""
    job.do(builders.count_out(job.t, "rag"), TOMAS)
    job.do(builders.count_back(job.t, "rag"), TOMAS)
    assert second_count.who_may(job.t, "manifold") == [TOMAS]
    assert codes(job.refused(job.counted_again(), INES)) == ["same person"]


def test_a_third_person_who_had_no_hand_in_it_goes_before_the_one_who_had_little(job):
    job.do(builders.count_out(job.t, "rag"), TOMAS)
    job.do(Joined(MARIT))
    assert second_count.who_may(job.t, "manifold") == [MARIT.name]


def test_an_interrupted_count_starts_again(job):
    whole = job.counted_again()
    part = SecondCounted("manifold", False, whole.entries[:-1])
    assert codes(job.refused(part, TOMAS)) == ["count not whole"]
    job.count("rag", 1, "stores", "bench")
    assert codes(job.refused(whole, TOMAS)) == ["count not whole"]


def test_a_count_is_made_while_the_closure_is_off():
    job = Job()
    assert "not off" in codes(job.refused(job.counted_again(), TOMAS))


def test_a_figure_that_differs_becomes_a_discrepancy_with_what_was_seen_and_what_was_had(job):
    job.second_count(manifold_bolt=-1)
    assert due(job) == "The second count for the manifold did not agree."
    known = job.t.discrepancies[BOLT, "tray"]
    assert (known.seen, known.had, known.mark.who) == (9, 10, TOMAS)
    assert only(why_not(job.t, "manifold"), "count differs").quantity == 1


def test_a_surplus_seen_is_a_discrepancy_too(job):
    job.second_count(manifold_bolt=1)
    assert job.t.discrepancies[BOLT, "tray"].seen == 11


def test_settled_by_a_recount_that_agrees(job):
    job.second_count(manifold_bolt=-1)
    job.do(builders.check(BOLT, "tray", 10))
    assert job.t.discrepancies == {}
    assert due(job) == "The second count for the manifold did not agree."
    job.second_count()
    assert due(job) == ""


def test_settled_by_a_movement_that_makes_it_agree(job):
    job.second_count(manifold_bolt=-1)
    job.count(BOLT, 1, "tray", "bench")
    assert job.t.discrepancies == {}


def test_a_movement_the_other_way_settles_nothing(job):
    job.second_count(manifold_bolt=-2)
    job.count(BOLT, 1, "tray", "bench")
    assert only(why_not(job.t, "manifold"), "count differs").quantity == 1


def test_settled_by_logging_what_is_missing(job):
    job.second_count(manifold_bolt=-1)
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    assert job.t.discrepancies == {}
    assert "missing" in codes(why_not(job.t, "manifold"))


def test_settled_by_a_second_count_that_agrees(job):
    job.second_count(manifold_bolt=-1)
    job.second_count()
    assert (job.t.discrepancies, due(job)) == ({}, "")


@pytest.mark.parametrize(
    ("line", "source", "target"),
    [("wrench", "bench", "stores"), ("rag", "stores", "bench"), (BOLT, "tray", "bench"),
     ("glasses", "stores", "engine/port-1")],
)  # fmt: skip
def test_it_is_out_of_date_once_something_it_counts_was_moved(job, line, source, target):
    job.second_count()
    job.count(line, 1, source, target)
    assert due(job) == "The second count for the manifold is out of date: something was moved after it."


def test_bolts_of_another_closure_leave_it_fresh(job):
    job.second_count()
    job.count(CLIP_BOLT, 1, "tray", "bench")
    assert due(job) == ""


def test_alone_it_is_a_reinspection_after_ten_minutes():
    job = Job(FITTER)
    job.lift("crossover", "manifold")
    job.look("inlet-1", "inlet-2")
    assert due(job) == "No re-inspection after a pause for the manifold yet."
    last = second_count.last_work(job.t, "manifold")
    reason = only(job.refused(job.counted_again(), INES), "too soon")
    assert (
        reason.words
        == f"Alone, look again after a pause: not before {second_count.not_before(job.t, 'manifold')[11:16]}."
    )
    job.now = last.at
    job.later(9.99)
    assert codes(job.refused(job.counted_again(), INES)) == ["too soon"]
    job.later(0.01)
    job.second_count(who=INES)
    assert job.t.second_counts["manifold"].fact.alone
    assert due(job) == ""


def test_alone_with_the_clock_set_back_the_pause_is_not_over():
    job = Job(FITTER)
    job.lift("crossover", "manifold")
    job.later(-600)
    assert codes(job.refused(job.counted_again(), INES)) == ["too soon"]


def test_a_reinspection_alone_is_not_called_a_second_count_nor_the_other_way_round():
    two, one = Job(FITTER, DECKHAND), Job(FITTER)
    for job, alone, code in ((two, True, "not alone"), (one, False, "alone")):
        job.lift("crossover", "manifold")
        job.later(60)
        counted = job.counted_again()
        assert codes(job.refused(SecondCounted("manifold", alone, counted.entries), job.t.people[-1].name)) == [code]


def test_whoever_joins_can_make_it_and_whoever_left_cannot():
    job = Job(FITTER)
    job.lift("crossover", "manifold")
    job.do(Joined(MARIT), MARIT.name)
    assert second_count.who_may(job.t, "manifold") == [MARIT.name]
    counted = job.counted_again()
    job.do(Left(MARIT.name))
    assert codes(job.refused(counted, MARIT.name)) == ["not on the job"]
    job.do(Joined(MARIT))
    job.do(counted, MARIT.name)


def test_after_the_other_has_left_it_is_a_reinspection_alone(job):
    job.do(Left(TOMAS))
    assert codes(job.refused(job.counted_again(), INES)) == ["too soon"]
    job.later(10)
    job.second_count(who=INES)
    assert due(job) == ""


def test_a_count_that_names_what_is_not_on_the_tally_is_refused(job):
    entries = (*job.counted_again().entries, Seen("spanner", "bench", 1))
    assert codes(job.refused(SecondCounted("manifold", False, entries), TOMAS)) == ["unknown line", "count not whole"]
