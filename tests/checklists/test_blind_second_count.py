"""The second count: blind, whole, by another person or after a pause, and fresh."""

from dataclasses import replace

import pytest
from workboat_model import BOLT, CLIP_BOLT, DECKHAND, FITTER, INES, TOMAS, Job, codes, only

from checklists import builders, second_count
from checklists.blind_walk import stops
from checklists.fact_codec import fact_from_plain, fact_to_plain
from checklists.facts import Entry, Joined, Left, Person, Refitted, Seen
from checklists.gate import why_not
from checklists.misplaced import Misplaced, misplaced
from checklists.second_count import count_list
from checklists.teardown import apply

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
        ("rag", "cover/inlet-1"), ("glasses", "engine"), ("crossover.bolt", "tray"), ("manifold.bolt", "tray"),
        ("manifold.gasket", "tray"), ("wrench", "bench"), ("rag", "stores"), ("wrench", "stores"),
        ("glasses", "stores"))  # fmt: skip


def test_what_was_never_used_is_not_counted_again(job):
    lines = {line for line, _ in count_list(job.t, "manifold")}
    assert lines == {"manifold.bolt", "manifold.gasket", "wrench", CLIP_BOLT}


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
    part = replace(whole, entries=whole.entries[:-1])
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


def test_bolts_of_another_closure_are_counted_while_they_lie_off_and_leave_it_fresh_once_home(job):
    """One of them may have rolled into the port as well as any other."""
    assert (CLIP_BOLT, "tray") in count_list(job.t, "manifold")
    job.second_count()
    job.count(CLIP_BOLT, 1, "tray", "bench")
    assert due(job) == "The second count for the manifold is out of date: something was moved after it."
    apart = Job()
    apart.lift("nozzle", "crossover", "manifold")
    apart.look("inlet-1", "inlet-2")
    apart.look_into("nozzle")
    apart.second_count("nozzle")
    apart.do(apart.clearing("nozzle"))
    apart.do(Refitted("nozzle"))
    apart.second_count()
    apart.home("nozzle")
    assert due(apart) == ""


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
        assert codes(job.refused(replace(counted, alone=alone), job.t.people[-1].name)) == [code]


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
    whole = job.counted_again()
    strange = replace(whole, entries=(*whole.entries, Seen("spanner", "bench", 1)))
    assert codes(job.refused(strange, TOMAS)) == ["unknown line"]


def test_a_count_that_left_a_place_out_or_went_where_nothing_is_walked_is_not_whole(job):
    whole = job.counted_again()
    for places_walked in ((), whole.places[:-1], whole.places[::-1]):
        assert codes(job.refused(replace(whole, places=places_walked), TOMAS)) == ["count not whole"]
    twice = replace(whole, entries=(*whole.entries, whole.entries[0]))
    assert codes(job.refused(twice, TOMAS)) == ["count not whole"]
    fitted = replace(whole, entries=(*whole.entries, Seen("manifold.bolt", "fitted/manifold", 0)))
    assert codes(job.refused(fitted, TOMAS)) == ["count not whole"]


def test_the_walk_goes_near_the_opening_tray_bench_bin_floor_then_what_is_put_away(job):
    assert [stop.name for stop in stops(job.t)] == [
        "in, on and over the engine", "the tray", "the bench", "the scrap bin", "the floor",
        "where things are put away",
    ]  # fmt: skip
    assert {"cover/inlet-1", "engine/port-1", "on/manifold", "engine"} <= set(stops(job.t)[0].spots)


def test_the_walk_is_the_same_whatever_lies_there(job):
    """Nothing about it tells the counter what to expect."""
    before = stops(job.t)
    for line, source, target in (("rag", "stores", "engine"), (BOLT, "tray", "floor"), ("wrench", "bench", "scrap")):
        job.count(line, 1, source, target)
    assert stops(job.t) == before


def saw(job: Job, *seen: Seen) -> None:
    """Tomas counts all as it is on the tally, but for what he saw."""
    figures = {(line, place): job.t.quantity(line, place) for line, place in count_list(job.t, "manifold")}
    figures |= {(line, place): quantity for line, place, quantity in seen}
    job.do(builders.counted_blind(job.t, "manifold", [Seen(*pair, n) for pair, n in figures.items()]), TOMAS)


def test_what_lies_where_nobody_expects_it_is_entered_there_and_compared(job):
    """A bolt on the floor, a scrapped rag in the bin that the tally does not know, a pack nobody took out."""
    saw(job, Seen(BOLT, "tray", 9), Seen(BOLT, "floor", 1), Seen("rag", "scrap", 1), Seen("pack", "bench", 1))
    assert {key: (known.seen, known.had) for key, known in job.t.discrepancies.items()} == {
        (BOLT, "tray"): (9, 10), (BOLT, "floor"): (1, 0), ("rag", "scrap"): (1, 0), ("pack", "bench"): (1, 0)
    }  # fmt: skip


def test_scrap_is_counted(job):
    job.count(BOLT, 1, "tray", "scrap")
    assert (BOLT, "scrap") in count_list(job.t, "manifold")
    saw(job, Seen(BOLT, "scrap", 0))
    assert job.t.discrepancies[BOLT, "scrap"].had == 1


def test_a_count_made_before_whole_places_were_walked_still_stands():
    """Its entry in an old journal names no places; it is folded as it was."""
    job = Job()
    job.lift("crossover", "manifold")
    job.look("inlet-1", "inlet-2")
    whole = job.counted_again()
    old = fact_from_plain("second count", {k: v for k, v in fact_to_plain(whole).items() if k != "places"})
    number = len(job.t.history) + 1
    apply(job.t, Entry(old, job.now, TOMAS, "phone-a", number, number))
    assert (old.places, due(job)) == ((), "")


# --- what lies elsewhere


def test_seen_there_and_short_here_is_misplaced(job):
    saw(job, Seen(BOLT, "tray", 9), Seen(BOLT, "floor", 1))
    assert misplaced(job.t) == [Misplaced(BOLT, 1, "floor", "tray")]
    job.count(BOLT, 1, "tray", "floor")
    assert (misplaced(job.t), job.t.discrepancies) == ([], {})


def test_what_the_count_did_not_ask_for_is_misplaced_from_where_the_tally_has_it(job):
    saw(job, Seen("pack", "bench", 1))
    assert misplaced(job.t) == [Misplaced("pack", 1, "bench", "stores")]


def test_what_was_missing_is_seen_again(job):
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    saw(job, Seen(BOLT, "bench", 1))
    assert misplaced(job.t) == [Misplaced(BOLT, 1, "bench", "missing")]


def test_one_more_than_the_tally_has_anywhere_is_a_surplus_and_not_misplaced(job):
    saw(job, Seen("wrench", "floor", 1))
    assert misplaced(job.t) == []
    assert job.t.discrepancies["wrench", "floor"].seen == 1
