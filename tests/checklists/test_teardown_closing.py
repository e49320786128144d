"""How a teardown ends: closed, when everything is home; or released, not clear, which is no closure."""

from dataclasses import fields

import pytest
from workboat_model import BOLT, DECKHAND, FITTER, HEAD, INES, PHOTO, SHEET, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts import (
    FACT_TYPES,
    Fact,
    FindLogged,
    FindRemoved,
    HandTurned,
    Joined,
    Left,
    Person,
    Seen,
)
from checklists.facts_measured import Gauge
from checklists.gate import why_not_close


@pytest.fixture
def job() -> Job:
    """The nozzle holder was off and is signed; nothing else was opened."""
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    return job


def closing(job: Job):
    return builders.close(job.t, HEAD)


def test_turned_by_hand_first(job):
    assert codes(job.refused(closing(job))) == ["not turned by hand"]
    assert codes(job.refused(HandTurned(" "))) == ["not said"]
    job.do(HandTurned("two turns, free"))
    job.do(closing(job))
    assert job.t.ended == "closed"


def test_a_machine_where_nothing_came_off_needs_no_turning():
    job = Job()
    job.do(closing(job))


def test_a_closure_opened_again_is_turned_by_hand_again(job):
    job.do(HandTurned("two turns, free"))
    job.lift("nozzle")
    job.refit("nozzle")
    assert codes(job.refused(closing(job))) == ["not turned by hand"]


def test_nothing_turns_while_a_closure_is_open(job):
    job.lift("crossover")
    assert only(job.refused(HandTurned("free")), "closure open").words == "Not closed yet: crossover."


def test_every_closure_is_signed(job):
    job.do(HandTurned("two turns, free"))
    job.lift("crossover")
    reasons = job.refused(closing(job))
    assert (reasons[0].code, reasons[0].closure, reasons[0].words) == (
        "closure open",
        "crossover",
        "The crossover is lifted.",
    )
    assert [(r.line, r.quantity) for r in reasons if r.code == "not home"] == [("crossover.bolt", 2)]


@pytest.mark.parametrize("place", ["bench", "tray", "engine", "on/manifold"])
def test_every_tool_is_put_away(job, place):
    job.do(HandTurned("two turns, free"))
    job.count("wrench", 1, "stores", place, TOMAS)
    reason = only(job.refused(closing(job)), "not put away")
    assert (reason.line, reason.quantity, reason.place, reason.who) == ("wrench", 1, place, TOMAS)
    job.count("wrench", 1, place, "stores")
    job.do(closing(job))


def test_a_spare_bolt_in_the_tray_is_put_away_too(job):
    job.do(HandTurned("two turns, free"))
    job.do(builders.add(BOLT, 1, "tray", "spare"))
    assert only(job.refused(closing(job)), "not put away").line == BOLT


def test_nothing_is_missing_though_it_could_be_in_no_space(job):
    job.do(HandTurned("two turns, free"))
    job.do(builders.check("wrench", "stores", 1))
    job.do(builders.miss(job.t, "wrench", 1, "stores", "gone ashore"))
    assert job.stage("nozzle") == "signed"
    assert codes(job.refused(closing(job))) == ["missing"]


def test_every_find_is_settled(job):
    job.do(HandTurned("two turns, free"))
    job.do(FindLogged("find-1", "extra bolt", "", PHOTO))
    assert codes(job.refused(closing(job))) == ["find open"]
    job.do(FindRemoved("find-1", "picked up", PHOTO, "bag 1"))
    job.do(closing(job))


def test_every_count_agrees(job):
    job.do(HandTurned("two turns, free"))
    job.do(builders.check("rag", "stores", 3))
    assert codes(job.refused(closing(job))) == ["count differs"]
    job.do(builders.check("rag", "stores", 4))
    job.do(closing(job))


def test_everything_is_said_at_once(job):
    job.lift("crossover")
    job.count("wrench", 1, "stores", "bench")
    job.do(builders.drop(job.t, "crossover.bolt", 1, "at the front"))
    job.do(FindLogged("find-1", "extra bolt", "", PHOTO))
    job.do(builders.check("rag", "stores", 3))
    assert codes(why_not_close(job.t)) == [
        "closure open",
        "not home",
        "not put away",
        "missing",
        "find open",
        "count differs",
        "not turned by hand",
    ]


def test_released_not_clear_names_the_reason_and_the_search(job):
    job.do(builders.drop(job.t, "wrench", 1, "at the front"))
    assert codes(job.refused(builders.release("", " ", HEAD))) == ["no reason", "no search", "not searched"]
    job.search_twice()
    job.do(builders.released(job.t, "The tide will not wait.", "Bilge and bearers, an hour.", HEAD), TOMAS)
    assert job.t.ended == "released, not clear"
    assert (job.t.end.who, [item.line for item in job.t.missing]) == (TOMAS, ["wrench"])
    assert job.stage("nozzle") == "signed"


def test_releasing_closes_no_closure():
    job = Job()
    job.lift("nozzle")
    job.do(builders.release("No time.", "Nothing.", HEAD))
    assert (job.stage("nozzle"), job.t.closure_states["nozzle"].signed) == ("lifted", None)


BLANKS = {"str": "x", "int": 1, "bool": True, "Sheet": SHEET, "Person": Person("Marit Solem", "mechanic")}


def any_fact(kind: str) -> Fact:
    """A fact of this kind, whatever it says."""
    known = BLANKS | {"Gauge": Gauge("scale", "0.1 g"), "Seen": Seen("rag", "stores", 4)}
    return FACT_TYPES[kind](*[known.get(field.type, ()) for field in fields(FACT_TYPES[kind])])


@pytest.mark.parametrize("kind", sorted(FACT_TYPES))
@pytest.mark.parametrize("ending", ["closed", "released, not clear"])
def test_after_an_ending_nothing_may_follow(job, ending, kind):
    job.do(HandTurned("two turns, free"))
    job.do(closing(job) if ending == "closed" else builders.release("No time.", "Nothing.", HEAD))
    assert job.t.ended == ending
    refused = codes(job.refused(any_fact(kind), INES))
    assert ("started" in refused) if kind == "started" else refused == ["ended"]


def test_a_stranger_does_nothing_on_the_job():
    job = Job(FITTER, DECKHAND)
    assert codes(job.refused(builders.count_out(job.t, BOLT), "A. Passer-by")) == ["not on the job"]
    assert codes(job.refused(builders.count_out(job.t, BOLT), "")) == ["not on the job"]


def test_people_are_told_apart_and_the_last_one_stays():
    job = Job(FITTER)
    assert codes(job.refused(Joined(Person(INES, "deckhand")))) == ["same name"]
    assert codes(job.refused(Joined(Person(" ", "deckhand")))) == ["same name"]
    assert codes(job.refused(Left(INES))) == ["nobody left"]
    assert codes(job.refused(Left(TOMAS))) == ["not on the job"]


def test_nothing_turns_while_something_is_missing(job):
    """The glasses were seen after the last opening was sealed: they are in no space, and are searched for."""
    job.count("glasses", 1, "stores", "bench")
    job.do(builders.miss(job.t, "glasses", 1, "bench"))
    assert codes(job.refused(HandTurned("free all the way"))) == ["missing"]
    job.do(builders.find_again(job.t, "glasses", 1, "on the chart table", "stores"))
    job.do(HandTurned("free all the way"))
