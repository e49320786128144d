"""Two alike are lost at different times: whoever looks into a port looks for both, and nothing strands the release."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from workboat_model import BOLT, CLIP_BOLT, FITTER, HEAD, INES, PHOTO, SHEET, TOMAS, Job, codes, only

from checklists import builders
from checklists.account.searching import searched_places
from checklists.account.walk import Walk
from checklists.gate import why_not
from checklists.lost_line import causes, lost_line, lost_lines, where_lost
from checklists.reason_making import notes
from checklists.searches import (
    ROUND_ABOUT,
    Offer,
    counting_for,
    looked_for_too,
    search_list,
    search_offer,
    search_reasons,
    search_summary,
)
from checklists.state import Teardown
from checklists.whereabouts.migration import Ways
from checklists.whereabouts.plan import Plan
from checklists.whereabouts.together import Window, together


@pytest.fixture
def job() -> Job:
    """Inlet 1 is capped as one bolt is seen to drop; the cap comes off, and another is not in the tray."""
    job = Job()
    job.lift("crossover", "manifold")
    job.later(20)
    job.do(builders.cover(job.t, "inlet-1", "cap"))
    job.do(builders.cover(job.t, "outlet", "cap"))
    job.do(builders.drop(job.t, BOLT, 1, "by inlet 2", "tray"))
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    return job


def searched(job: Job, where: str, who: str = INES, **told) -> None:
    job.do(replace(builders.search(job.t, BOLT, where, "magnet", "nothing"), **told), who)


def spaces(t: Teardown) -> list[str]:
    return [placed.candidate.space for placed in where_lost(t, lost_line(t, BOLT)).placed]


def test_they_are_one_line_to_search_for(job):
    (lost,) = lost_lines(job.t)
    assert (lost.line, lost.quantity, causes(lost)) == (BOLT, 2, "1 dropped and 1 missing")
    assert [sorted(job.t.could_hold(item)) for item in lost.losses] == [
        ["cylinder-2", "port-2"], ["cylinder-1", "cylinder-2", "jacket", "port-1", "port-2"],
    ]  # fmt: skip


def test_every_space_that_any_could_be_in_is_shown_with_the_reason_that_ranks_it_best(job):
    placed, out = where_lost(job.t, lost_line(job.t, BOLT))
    assert spaces(job.t) == ["cylinder-2", "jacket", "port-2", "cylinder-1", "port-1"]
    told = [each.why(job.t.sheet) for each in placed]
    assert told[2] == "Could be in inlet port 2: inlet 2 stood uncovered as it fell; it might pass."
    assert told[4].startswith("Could be in inlet port 1: inlet 1 stood uncovered for 2")
    assert out == ()


def test_what_is_ruled_out_is_ruled_out_for_each_of_them():
    job = Job()
    job.lift("crossover")
    job.do(builders.drop(job.t, CLIP_BOLT, 1, "", "tray"))
    job.do(builders.miss(job.t, CLIP_BOLT, 1, "tray"))
    placed, out = where_lost(job.t, lost_line(job.t, CLIP_BOLT))
    assert [each.candidate.space for each in placed] == ["jacket"]
    assert [each.space for each in out] == ["port-1", "port-2", "cylinder-1", "cylinder-2"]
    assert out[0].why == "no opening that leads to inlet port 1 stood uncovered since it was last seen"


def test_gate_and_clearance_go_by_each_loss(job):
    against = [reason for reason in why_not(job.t, "manifold") if reason.code == "missing"]
    assert [reason.words for reason in against] == [
        "1 M8 bolt dropped, by inlet 2; last in the tray.", "1 M8 bolt missing; last in the tray.",
    ]  # fmt: skip
    assert [reason.since for reason in why_not(job.t, "crossover") if reason.code == "missing"] == [
        job.t.missing[1].mark.at
    ]
    assert notes(job.t, "crossover") == (), "one could be in there: that the other is not is no news"


def test_once_all_places_of_the_first_are_searched_those_of_the_other_are_offered(job):
    for space in ("port-2", "cylinder-2"):
        for who in (INES, TOMAS):
            searched(job, space, who)
    (never,) = search_reasons(job.t)
    left = "the coolant jacket, cylinder 1 and inlet port 1"
    assert never.words == f"M8 bolt: could be in {left}, and nobody searched there."
    assert search_offer(job.t, counting_for(job.t, BOLT), spaces(job.t), INES, job.now) == Offer("jacket")
    job.search_twice()
    job.do(builders.released(job.t, "The tide will not wait.", "", HEAD))


def test_the_summary_and_the_closing_sheet_tell_the_line_once(job):
    searched(job, "port-2")
    told = search_summary(job.t)
    assert told.count("M8 bolt:") == 1
    left = "cylinder 2, the coolant jacket, cylinder 1 and inlet port 1"
    assert told.endswith(f"Not searched, though it could be there: {left}.")
    heading, table = searched_places(Walk(job.t.history))
    assert heading.title == "Searched for: 2 M8 bolts"
    assert [row[0] for row in table.rows] == [
        "cylinder 2", "the coolant jacket", "inlet port 2", "cylinder 1", "inlet port 1",
    ]  # fmt: skip


def test_a_search_from_before_the_second_loss_counts_for_the_first_only():
    job = Job()
    job.lift("nozzle")
    job.count(BOLT, 2, "fitted/manifold", "tray")
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    for who in (INES, TOMAS):
        searched(job, "cylinder-1", who)
    assert search_reasons(job.t) == ()
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    (never,) = search_reasons(job.t)
    assert never.words == "M8 bolt: could be in cylinder 1 since another went missing, and nobody searched there."
    left = "cylinder 1 since another went missing"
    assert search_summary(job.t).endswith(f"Not searched, though it could be there: {left}.")
    assert searched_places(Walk(job.t.history))[1].rows[0][2:] == (
        "NOT SEARCHED TWICE SINCE ANOTHER WENT MISSING", "not twice",
    )  # fmt: skip
    (place,) = search_list(job.t, BOLT)
    assert (len(place.passes), place.counting) == (2, ())
    for who in (INES, TOMAS):
        searched(job, "cylinder-1", who)
    assert "By a second person as well: cylinder 1 since another went missing." in search_summary(job.t)
    job.do(builders.released(job.t, "The tide will not wait.", "", HEAD))


def test_two_tries_after_a_second_loss_do_not_finish_the_first_that_was_looked_for_once():
    """For the first somebody did look in, once; for the second it was tried twice, and nobody could."""
    job = Job()
    job.lift("nozzle")
    job.count(BOLT, 2, "fitted/manifold", "tray")
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    searched(job, "cylinder-1")
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    for who in (INES, TOMAS):
        searched(job, "cylinder-1", who, reached=False)
    (once,) = search_reasons(job.t)
    assert once.words == "M8 bolt: searched only once: cylinder 1."
    searched(job, "cylinder-1", TOMAS)
    (once,) = search_reasons(job.t)
    assert once.words == "M8 bolt: searched only once: cylinder 1 since another went missing."
    searched(job, "cylinder-1")
    assert search_reasons(job.t) == ()


def test_the_one_that_can_be_in_no_space_is_searched_for_round_about_as_well():
    """One lay on the bench while cylinder 1 stood open; the other fell from the tray after it was capped."""
    job = Job()
    job.lift("nozzle")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.count(BOLT, 1, "fitted/manifold", "bench")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.miss(job.t, BOLT, 1, "bench"))
    job.do(builders.drop(job.t, BOLT, 1, "", "tray"))
    assert [sorted(job.t.could_hold(item)) for item in job.t.missing] == [["cylinder-1"], []]
    for who in (INES, TOMAS):
        searched(job, "cylinder-1", who)
    (never,) = search_reasons(job.t)
    assert never.words == (
        "M8 bolt: 1 of them cannot have gone into any space of the sheet, and nobody searched round about."
    )
    listed = ["cylinder-1", ROUND_ABOUT]
    assert search_offer(job.t, counting_for(job.t, BOLT), listed, INES, job.now) == Offer(ROUND_ABOUT)
    searched(job, "the bilge")
    assert "round about was searched only once" in only(search_reasons(job.t), "second search due").words
    searched(job, "the floor", TOMAS)
    assert search_reasons(job.t) == ()


def test_short_from_the_start_and_another_dropped_it_could_be_anywhere_the_drop_first():
    job = Job()
    job.do(builders.short_at_start(job.t, BOLT, 1, PHOTO))
    job.lift("nozzle", "crossover")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.drop(job.t, BOLT, 1, "", "tray"))
    job.do(builders.uncover(job.t, "nozzle-hole"))
    placed, out = where_lost(job.t, lost_line(job.t, BOLT))
    assert (placed[0].candidate.space, len(placed), out) == ("jacket", 5, ())
    assert placed[1].why(job.t.sheet).endswith("it was short at the start, so it may have been inside all along.")


def test_a_look_for_another_line_is_offered_for_each_loss_that_could_be_there(job):
    job.do(builders.miss(job.t, CLIP_BOLT, 1, "tray"))
    searched(job, "port-2")
    searched(job, "port-2", TOMAS)
    assert looked_for_too(job.t, CLIP_BOLT, "port-2", INES, job.now) == ""
    assert looked_for_too(job.t, CLIP_BOLT, "port-1", INES, job.now) == BOLT


def test_one_loss_alone_is_ranked_as_ever():
    ways = Ways(Plan(SHEET), None)
    exposed = {"inlet-1": 60.0, "outlet": 0.0, "nozzle-hole": 600.0}
    found = ways.candidates(exposed)
    for same in (1, 2):
        placed, out = together(ways, [space.id for space in SHEET.spaces], [Window(exposed)] * same)
        assert tuple(each.candidate for each in placed) == found
        assert out == ways.ruled_out(exposed, found)


OPENINGS = ("inlet-1", "inlet-2", "outlet", "nozzle-hole")
STEPS = st.lists(
    st.one_of(
        st.sampled_from(["miss", "drop", "earlier", "search", "try"]),
        st.sampled_from(OPENINGS),
    ),
    max_size=14,
)


@settings(max_examples=40)
@given(STEPS, st.booleans(), st.booleans())
def test_following_what_is_offered_always_ends_in_a_release(steps, alone, short):
    """Whatever was lost when, whatever stood open: the offers lead to where every search is made that is asked for."""
    job = Job(*([FITTER] if alone else []))
    if short:
        job.do(builders.short_at_start(job.t, BOLT, 1, PHOTO))
    job.lift("nozzle", "crossover", "manifold")
    for opening in OPENINGS[: len(steps) % 5]:
        job.do(builders.cover(job.t, opening, "rag"))
    for number, step in enumerate(steps):
        take(job, step, number)
        assert_agrees(job.t)
    for _ in range(60):
        if not search_reasons(job.t):
            break
        job.later(11)
        search_on(job)
    assert codes(search_reasons(job.t)) == []
    job.do(builders.released(job.t, "The tide will not wait.", "", HEAD))


def take(job: Job, step: str, number: int) -> None:
    t = job.t
    if step in ("miss", "drop", "earlier"):
        lose = builders.miss(t, BOLT, 1, "tray") if step == "miss" else builders.drop(
            t, BOLT, 1, "", "tray", earlier=step == "earlier"
        )  # fmt: skip
        job.do(lose) if t.quantity(BOLT, "tray") else None
    elif step in ("search", "try"):
        if t.missing:
            where = list(t.spaces)[number % len(t.spaces)]
            searched(job, where, t.people[number % len(t.people)].name, reached=step == "search")
    elif t.opening_states[step].state == "covered":
        job.do(builders.uncover(t, step))
    elif t.quantity("rag", "stores"):
        job.do(builders.cover(t, step, "rag"))


def assert_agrees(t: Teardown) -> None:
    """The spaces to search are those that any loss could be in; nothing else is asked for, and nothing twice."""
    for lost in lost_lines(t):
        held = [t.could_hold(item) for item in lost.losses]
        could = set(t.spaces) if None in held else set().union(*held)
        placed, out = where_lost(t, lost)
        assert {each.candidate.space for each in placed} == could
        assert {each.space for each in out} == set(t.spaces) - could
        assert set(counting_for(t, lost.line)) - {ROUND_ABOUT} == could
    assert search_summary(t).count("M8 bolt:") == bool(t.missing)


def search_on(job: Job) -> None:
    """One search as it is offered to somebody on the job."""
    t = job.t
    for person in t.people:
        counting = counting_for(t, BOLT)
        listed = [*spaces(t), *([ROUND_ABOUT] if ROUND_ABOUT in counting else [])]
        offer = search_offer(t, counting, listed, person.name, job.now)
        if offer.where:
            searched(job, offer.where, person.name)
            return
    raise AssertionError(f"nobody is offered anything, though {[reason.words for reason in search_reasons(t)]}")
