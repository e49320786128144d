"""One more coming back than the tally has away is a surplus, wherever it comes back from."""

import pytest
from careful_worker import CarefulWorker

from checklists import builders
from checklists.facts import Person
from checklists.judge import judge
from checklists.next_act import next_act
from checklists.words import how_many
from mobileapp.shelf import load_sheet

INES = Person("Ines Vardal", "fitter")


@pytest.fixture
def open_engine() -> CarefulWorker:
    """The breather pipe is off and the engine stands open; every rag is put away."""
    worker = CarefulWorker(load_sheet("rocker-cover"), (INES,))
    while worker.teardown.closure_states["breather-pipe"].stage != "lifted":
        worker.do(next_act(worker.teardown, worker.now))
    return worker


@pytest.mark.parametrize(
    ("source", "target"),
    [("engine", "bench"), ("engine/inlet-tract", "stores"), ("missing", "bench"), ("bench", "stores")],
)
def test_a_rag_too_many_is_a_surplus_and_may_be_logged_as_a_find(open_engine, source, target):
    fact = builders.move("rag", 1, source, target) if source != "missing" else builders.find_again(
        open_engine.teardown, "rag", 1, "under the bench")  # fmt: skip
    (reason,) = judge(open_engine.teardown, fact, open_engine.now, INES.name)
    assert (reason.code, reason.line, reason.quantity) == ("surplus", "rag", 1)
    assert "log it as a find" in reason.do_next


def test_a_rag_that_is_not_where_it_is_taken_from_is_no_surplus(open_engine):
    fact = builders.move("rag", 1, "bench", "engine")
    (reason,) = judge(open_engine.teardown, fact, open_engine.now, INES.name)
    assert reason.code == "not there"


def test_a_name_that_ends_in_a_size_keeps_its_form():
    assert how_many(2, "Socket 10 mm") == "2 × socket 10 mm"
    assert how_many(2, "M8 x 45 flange bolt") == "2 M8 x 45 flange bolts"
    assert how_many(3, "Stamm") == "3 stamms"
