"""An opening starts its clock when it is uncovered; a cover counted in stops it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from workboat_model import PHOTO, Job, codes, only

from checklists import builders
from checklists.exposure import A_MOMENT, COVERED, SEALED, UNCOVERED, Exposure, OpeningState
from checklists.facts import Grown, Lifted, Looked, Refitted
from checklists.sheet import Passage, Sheet, Space
from checklists.times import seconds_after, seconds_between


def opened() -> Job:
    """The nozzle holder comes off at 08:04."""
    job = Job()
    job.lift("nozzle")
    assert job.t.opening_states["nozzle-hole"].since == "2026-03-02T08:04:00.000+01:00"
    return job


def uncovered_minutes(job: Job, opening: str = "nozzle-hole") -> float:
    return job.t.opening_states[opening].uncovered_seconds(job.now) / 60


def test_the_clock_runs_from_the_lift():
    job = opened()
    job.later(9)
    assert uncovered_minutes(job) == 10
    assert job.t.opening_states["nozzle-hole"].running_seconds(job.now) == 600


def test_the_time_uncovered_adds_up_over_several_spells():
    job = opened()
    job.later(9)
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.later(60)
    assert uncovered_minutes(job) == 10
    assert job.t.opening_states["nozzle-hole"].running_seconds(job.now) == 0
    job.do(builders.uncover(job.t, "nozzle-hole"))
    job.later(4)
    assert uncovered_minutes(job) == 15
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))
    job.do(Refitted("nozzle"))
    at_sealing = uncovered_minutes(job)
    job.later(600)
    assert uncovered_minutes(job) == at_sealing == 17


def test_an_opening_that_was_never_open_counts_nothing():
    assert uncovered_minutes(opened(), "inlet-1") == 0


def test_a_clock_set_back_counts_nothing_negative():
    job = opened()
    job.later(-120)
    assert uncovered_minutes(job) == 0
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.uncover(job.t, "nozzle-hole"))
    job.later(2)
    assert uncovered_minutes(job) == 3


def test_a_cover_is_counted_from_where_it_is_put_away_and_comes_back():
    job = opened()
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    assert job.t.places_of("cap") == {"stores": 2, "cover/nozzle-hole": 1}
    job.do(builders.uncover(job.t, "nozzle-hole"))
    assert job.t.places_of("cap") == {"stores": 3}


def test_a_rag_will_do_but_a_wrench_is_no_cover():
    job = opened()
    reason = only(job.refused(builders.cover(job.t, "nozzle-hole", "wrench")), "not a cover")
    assert reason.words == "Wrench is neither a cover nor a rag."
    job.do(builders.cover(job.t, "nozzle-hole", "rag"))


def test_caps_are_offered_before_rags_and_only_those_put_away():
    job = opened()
    assert builders.cover_lines(job.t) == ["cap", "rag"]
    job.count("cap", 3, "stores", "bench")
    assert builders.cover_lines(job.t) == ["rag"]


def test_an_opening_is_covered_once():
    job = opened()
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    assert codes(job.refused(builders.cover(job.t, "nozzle-hole", "rag"))) == ["not uncovered"]


def test_a_sealed_opening_is_neither_covered_nor_uncovered():
    job = opened()
    assert codes(job.refused(builders.cover(job.t, "inlet-1", "cap"))) == ["not uncovered"]
    assert codes(job.refused(builders.uncover(job.t, "inlet-1"))) == ["surplus"]


def test_a_cover_that_went_nowhere_does_not_come_out():
    job = opened()
    (reason,) = job.refused(builders.uncover(job.t, "nozzle-hole"))
    assert (reason.code, "log it as a find" in reason.do_next) == ("surplus", True)


def test_there_is_no_cover_left_to_count_in():
    job = opened()
    job.count("cap", 3, "stores", "bench")
    assert codes(job.refused(builders.cover(job.t, "nozzle-hole", "cap"))) == ["not there"]


def test_nobody_looks_through_a_cover_or_a_closure():
    job = opened()
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    assert codes(job.refused(Looked("nozzle-hole", True, "clean", PHOTO))) == ["covered"]
    assert codes(job.refused(Looked("inlet-1", True, "clean", PHOTO))) == ["sealed"]


def test_all_pieces_of_a_torn_cover_come_out_together():
    job = opened()
    piece = job.t.lines["rag"].__class__("rag-piece", "rag piece", "rag", 2, "stores")
    job.do(builders.cover(job.t, "nozzle-hole", "rag"))
    job.do(builders.convert("rag", 1, "cover/nozzle-hole", [(piece, 2)], "torn on a thread"))
    assert job.t.opening_states["nozzle-hole"].state == "covered"
    out = builders.uncover(job.t, "nozzle-hole")
    assert codes(job.refused(out.__class__("nozzle-hole", (out.moves[0]._replace(quantity=1),)))) == ["covers left"]
    job.do(out)
    assert job.t.quantity("rag-piece", "stores") == 2


def test_a_passage_found_while_its_opening_stands_open_counts_from_then_on():
    """The sheet gains a passage from cylinder 1 to the sump while cylinder 1 is open; then the cylinder is covered."""
    job = opened()
    sump = Sheet(
        "",
        "",
        spaces=(Space("sump", "the sump", "The pick-up."),),
        passages=(Passage("cylinder-1", "sump", None, "drains"),),
    )
    job.do(Grown(sump, ()))
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.uncover(job.t, "nozzle-hole"))
    job.do(builders.drop(job.t, "nozzle.nut", 1, "at cylinder 1"))
    assert job.t.could_hold(job.t.missing[0]) == {"cylinder-1", "sump"}


def test_a_passage_found_later_was_there_all_along():
    """What went missing while cylinder 1 stood open could be in the sump by now, though that was learnt later."""
    job = opened()
    job.count("wrench", 1, "stores", "bench")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(
        Grown(
            Sheet(
                "",
                "",
                spaces=(Space("sump", "the sump", "The pick-up."),),
                passages=(Passage("cylinder-1", "sump", None, "drains"),),
            ),
            (),
        )
    )
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert job.t.could_hold(job.t.missing[0]) == {"cylinder-1", "sump"}


def test_lifting_again_starts_the_clock_again():
    job = opened()
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))
    job.do(Refitted("nozzle"))
    before = uncovered_minutes(job)
    job.do(Lifted("nozzle", PHOTO))
    job.later(4)
    assert uncovered_minutes(job) == before + 5


BEGAN = "2026-03-02T08:00:00.000+01:00"
steps = st.lists(st.tuples(st.sampled_from([UNCOVERED, COVERED, SEALED]), st.sampled_from([0, 7, 60, 61.25, -90])))


@given(steps=steps, data=st.data())
def test_the_time_uncovered_in_a_window_is_that_of_each_spell_in_it(steps, data):
    """One port, put into one state after another while the clock runs on, stands still or is set back."""
    port, now, stamps = Exposure(), 0.0, [BEGAN]
    port.openings["port"] = OpeningState()
    for n, (state, passed) in enumerate(steps, 1):
        now += passed
        stamps.append(seconds_after(BEGAN, now))
        port.set("port", state, n, stamps[n], "Ines Vardal")
    seen = data.draw(st.integers(0, len(steps)))
    last = data.draw(st.integers(seen, len(steps) + 1))
    last_at, open_at = stamps[min(last, len(steps))], set[int]()
    known, spent = port.openings["port"], 0.0
    for (start, end), (began, ended) in zip(known.spells, known.spans, strict=True):
        if began <= last and (not ended or ended >= max(seen, 1)):
            open_at.add(began)
            start = stamps[seen] if began < seen else start
            spent += max(0.0, seconds_between(start, end if ended and ended <= last else last_at))
    told = known.seconds_within((seen, stamps[seen] if seen else ""), (last, last_at))
    assert told == (pytest.approx(max(A_MOMENT, spent)) if open_at else 0.0)
