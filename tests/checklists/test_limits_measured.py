"""A limit the sheet demands must be measured and inside before its closure is cleared, and stays so."""

from dataclasses import replace

import pytest
from workboat_model import SHEET, Job, codes, only

from checklists.facts import Refitted, WorkDone
from checklists.facts_measured import Gauge, Measured
from checklists.gate import why_not
from checklists.next_act import next_act
from checklists.sheet import Limit

DEPTH = Gauge("depth gauge", "0.0001 in", "0.0002 in")
PROUD = Limit("proud", "push rod proud", "0.522 in", "0.525 in")
NOZZLE = replace(next(c for c in SHEET.closures if c.id == "nozzle"), limits=(PROUD,))
LIMITED = replace(SHEET, closures=tuple(NOZZLE if c.id == "nozzle" else c for c in SHEET.closures))


def reads(text: str, gauge: Gauge = DEPTH) -> Measured:
    return Measured("nozzle", "proud", text, gauge)


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off and looked under; only the measurement is left."""
    job = Job(sheet=LIMITED)
    job.lift("nozzle")
    job.look_into("nozzle")
    return job


def test_not_measured_it_is_not_cleared(job):
    reason = only(job.refused(job.clearing("nozzle")), "not measured")
    assert reason.words == "Push rod proud is not measured; it must be 0.522 in to 0.525 in."
    assert (reason.limit, reason.closure) == ("proud", "nozzle")


@pytest.mark.parametrize(
    ("reading", "gauge", "code"),
    [
        ("0.529 in", DEPTH, "outside its limits"),
        ("0.5249 in", DEPTH, "too close to call"),
        ("0.523 in", Gauge("steel rule", "1/64 in"), "too close to call"),
        ("13.5 mm", Gauge("slide gauge", "0.02 mm", "0.03 mm"), "outside its limits"),
    ],
)
def test_outside_or_too_close_to_call_it_is_not_cleared(job, reading, gauge, code):
    job.do(reads(reading, gauge))
    assert codes(job.refused(job.clearing("nozzle"))) == [code]


def test_what_the_instrument_can_never_call_inside_is_told_with_the_refusal(job):
    rule = Gauge("steel rule", "1/64 in")
    job.do(reads("0.523 in", rule))
    close = only(job.refused(job.clearing("nozzle")), "too close to call")
    never = "The limits are 0.003 in apart, and two guard bands are 0.041 in: "
    never += "with this no reading can ever be called inside."
    finer = "Take a finer instrument: one that reads to 0.0005 in, and is right within that."
    stands = "Push rod proud: 0.523 in is too close to call: 0.522 in to 0.525 in."
    assert (close.words, close.do_next) == (f"{stands} {never}", finer)
    job.do(reads("0.6 in", rule))
    outside = only(job.refused(job.clearing("nozzle")), "outside its limits")
    assert outside.do_next == f"Put it right, then measure it again. {finer}"
    job.do(reads("0.529 in"))
    assert only(job.refused(job.clearing("nozzle")), "outside its limits").do_next == (
        "Put it right, then measure it again."
    )


def test_the_board_names_how_the_limit_stands_and_what_to_do_and_leaves_the_reckoning_to_the_refusal():
    holes = tuple(o for o in SHEET.openings if o.closure == "nozzle")
    spaces = tuple(s for s in SHEET.spaces if s.id in {hole.space for hole in holes})
    job = Job(sheet=replace(SHEET, closures=(NOZZLE,), openings=holes, spaces=spaces, passages=()))
    job.lift("nozzle")
    job.look_into("nozzle")
    job.do(WorkDone(""))
    assert next_act(job.t, job.now).words.startswith("Push rod proud is not measured; it must be 0.522 in to 0.525 in.")
    job.do(reads("0.523 in", Gauge("steel rule", "1/64 in")))
    assert next_act(job.t, job.now).words == (
        "Push rod proud: 0.523 in is too close to call: 0.522 in to 0.525 in. "
        "Take a finer instrument: one that reads to 0.0005 in, and is right within that."
    )


def test_inside_it_is_cleared_and_the_reading_stays_as_it_was_typed(job):
    job.do(reads("0.5235 in"))
    assert job.t.measured["nozzle", "proud"][0].reading == "0.5235 in"
    assert "push rod proud 0.5235 in (0.522 in to 0.525 in)" in job.clearing("nozzle").statement
    job.do(job.clearing("nozzle"))


def test_the_last_measurement_counts_and_takes_a_clearance_away(job):
    job.do(reads("0.5235 in"))
    job.do(job.clearing("nozzle"))
    job.do(reads("0.5235 in"))
    assert job.stage("nozzle") == "cleared"
    job.do(reads("0.530 in"))
    assert job.stage("nozzle") == "lifted"
    assert codes(why_not(job.t, "nozzle")) == ["outside its limits"]


def test_outside_after_it_was_signed_recalls_it(job):
    job.do(reads("0.5235 in"))
    job.do(job.clearing("nozzle"))
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    job.do(job.signing("nozzle"))
    job.do(reads("0.530 in"))
    assert job.stage("nozzle") == "recalled"
    assert codes(job.refused(job.signing("nozzle"))) == ["outside its limits"]
    assert next_act(job.t, job.now).do in ("work done", "count out", "measure")


def test_once_it_was_off_again_it_is_measured_afresh(job):
    job.do(reads("0.5235 in"))
    job.do(job.clearing("nozzle"))
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    job.lift("nozzle")
    assert "not measured" in codes(why_not(job.t, "nozzle"))


def test_what_cannot_be_read_is_refused_in_words(job):
    assert "The unit is missing" in only(job.refused(reads("0.5235")), "figure").words
    assert "measures mass" in only(job.refused(reads("5 g")), "figure").words
    assert only(job.refused(reads("0.52 in", Gauge("depth gauge", ""))), "figure").words.startswith("Depth gauge: ")
    assert codes(job.refused(Measured("nozzle", "gap", "1 mm", DEPTH))) == ["unknown limit"]
    assert codes(job.refused(Measured("sump", "proud", "1 mm", DEPTH))) == ["unknown limit"]
