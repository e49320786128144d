"""Every kind of act moves only what such an act can move.

An act that carries other movements than its name says would be a way past the gate: a missing rag "added" to the
bench, a lost bolt "found" off the tally. No screen makes these; the rules refuse them all the same.
"""

import dataclasses

import pytest
from workboat_model import BOLT, DECKHAND, FITTER, INES, NUT, PHOTO, SHEET, Job

from checklists import builders
from checklists.facts import Added, Covered, Dropped, Found, Grown, Missed, Move, Renewed, Short, Uncovered
from checklists.judge import judge
from checklists.sheet import Line, Sheet
from checklists.state import Teardown


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off, cylinder 1 covered with a cap; the rest stands open; a rag is missing."""
    job = Job()
    job.lift("nozzle", "crossover", "manifold")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.miss(job.t, "rag", 1, "stores"))
    return job


@pytest.mark.parametrize(
    "fact",
    [
        Added("one more", (Move("rag", 1, "missing", "bench"),)),
        Added("many more", (Move("rag", 9, "stores", "bench"),)),
        Added("moved", (Move("wrench", 1, "stores", "bench"),)),
        Added("a rag fitted", (Move("rag", 1, "origin", "fitted/manifold"),)),
        Added("lost already", (Move("rag", 1, "origin", "missing"),)),
        Short("manifold", PHOTO, (Move("rag", 1, "missing", "stores"),)),
        Short("manifold", PHOTO, (Move("wrench", 1, "stores", "bench"),)),
        Short("sump", PHOTO, (Move(NUT, 1, "tray", "missing"),)),
        Found("never mind where", (Move("rag", 1, "missing", "origin"),)),
        Found("never mind where", (Move("rag", 1, "missing", "converted"),)),
        Found("never mind where", (Move("rag", 1, "missing", "cover/inlet-1"),)),
        Found("never mind where", (Move("rag", 1, "missing", "fitted/manifold"),)),
        Found("never mind where", (Move("rag", 1, "missing", "new stock"),)),
        Found("not lost", (Move("wrench", 1, "stores", "bench"),)),
        Covered("inlet-1", (Move("rag", 1, "missing", "cover/inlet-1"),)),
        Covered("inlet-1", (Move("rag", 1, "origin", "cover/inlet-1"),)),
        Covered("inlet-1", (Move("cap", 1, "cover/nozzle-hole", "cover/inlet-1"),)),
        Covered("inlet-1", (Move("rag", 1, "stores", "cover/inlet-2"),)),
        Uncovered("nozzle-hole", (Move("cap", 1, "cover/nozzle-hole", "origin"),)),
        Uncovered("nozzle-hole", (Move("cap", 1, "cover/nozzle-hole", "converted"),)),
        Uncovered("nozzle-hole", (Move("cap", 1, "cover/nozzle-hole", "missing"),)),
        Uncovered("nozzle-hole", (Move("cap", 1, "cover/nozzle-hole", "cover/inlet-1"),)),
        Missed("", (Move("rag", 1, "missing", "engine/port-1"),)),
        Missed("", (Move("rag", 1, "origin", "missing"),)),
        Missed("", (Move("rag", 1, "stores", "scrap"),)),
        Dropped("", (Move("wrench", 1, "stores", "converted"),)),
        Renewed("", (Move(BOLT, 1, "tray", "scrap"),)),
        Renewed("", (Move(BOLT, 1, "tray", "scrap"), Move(BOLT, 1, "origin", "tray"))),
        Grown(Sheet("", "", items=(Line("lamp", "lamp", "tool", 1, "stores"),)), (Move("rag", 1, "missing", "bench"),)),
        Grown(Sheet("", ""), (Move("rag", 5, "origin", "bench"),)),
        builders.check("rag", "origin", 0),
        builders.check("rag", "missing", 0),
        builders.check("rag", "converted", 0),
    ],
    ids=lambda fact: f"{fact.kind} {' '.join(str(part) for m in getattr(fact, 'moves', ()) for part in m)}",
)
def test_an_act_that_carries_what_it_does_not_say_is_refused(job, fact):
    assert job.refused(fact)


@pytest.mark.parametrize("quantity", [0, 9, 11])
def test_a_teardown_starts_with_what_its_sheet_says(quantity):
    start = builders.start(SHEET, "harbour workboat Petrel", (FITTER, DECKHAND), "It smokes.", "")
    first = start.moves[1]
    assert first.line == BOLT
    others = dataclasses.replace(start, moves=(start.moves[0], first._replace(quantity=quantity), *start.moves[2:]))
    assert judge(Teardown(), start, "2026-03-02T08:00:00.000+01:00", INES) == ()
    assert judge(Teardown(), others, "2026-03-02T08:00:00.000+01:00", INES)


def test_what_a_sheet_lists_beside_its_closures_is_at_home_put_away(job):
    """A sheet as it is written down says nothing of another home; read again it would be another sheet."""
    lamp = Line("lamp", "lamp", "tool", 1, "bench")
    assert job.refused(builders.grow(Sheet("", "", items=(lamp,))))
    job.do(builders.grow(Sheet("", "", items=(dataclasses.replace(lamp, home="stores"),))))
