"""Following the next act alone brings a teardown to its closing, and nothing it names is refused."""

import pytest
from careful_worker import CarefulWorker

from checklists.facts import Person
from checklists.state import tally
from mobileapp.shelf import load_sheet, shipped_sheets

ALONE = (Person("Ines Vardal", "fitter"),)
IN_TWOS = (Person("Ines Vardal", "fitter"), Person("Tomas Reke", "deckhand"))


@pytest.mark.parametrize("people", [ALONE, IN_TWOS], ids=["alone", "in twos"])
@pytest.mark.parametrize("sheet", sorted(shipped_sheets()))
def test_the_next_act_alone_leads_from_the_first_bolt_to_the_closing(sheet, people):
    worker = CarefulWorker(load_sheet(sheet), people)
    worker.work()
    assert worker.teardown.ended == "closed"
    assert tally(worker.teardown) == (0, 0, 0)
    assert all(state.stage == "signed" for state in worker.teardown.closure_states.values())


def test_a_worker_alone_is_told_to_pause_before_looking_again():
    worker = CarefulWorker(load_sheet("rocker-cover"), ALONE)
    worker.work()
    assert [act.do for act in worker.acts].count("wait") == 1
