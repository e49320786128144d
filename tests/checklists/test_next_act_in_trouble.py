"""The next act when something has gone another way than planned. Random stories ask the same of every state."""

import pytest
from next_acts_model import facts_of
from workboat_model import BOLT, PHOTO, Job

from checklists import builders
from checklists.facts import FindLogged, Refitted, WorkDone
from checklists.next_act import next_act


def done_by_the_next_act(job: Job, most: int = 200) -> list[str]:
    """Do nothing but the next act until the teardown has ended; what was done, in its order."""
    done: list[str] = []
    while not job.t.ended:
        act = next_act(job.t, job.now)
        assert len(done) < most, f"going round in circles: {done[-6:]}"
        done.append(act.words)
        for fact in facts_of(job.t, act):
            job.do(fact, act.who or job.t.people[0].name)
    return done


def test_a_closure_opened_beneath_a_signed_one_asks_for_the_upper_one_first():
    job = Job()
    job.lift("crossover", "manifold")
    job.refit("manifold", "crossover")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    assert next_act(job.t, job.now).words == "Count out 2 M6 clip bolts"
    done_by_the_next_act(job)


def test_a_find_after_signing_is_taken_out_and_signed_for():
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    job.do(FindLogged("find-1", "half a washer", "cylinder-1", PHOTO))
    done_by_the_next_act(job)
    assert job.t.ended == "closed"


def test_something_lost_after_it_was_set_down_is_found_and_the_closure_lifted_again():
    job = Job()
    job.lift("nozzle")
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.do(builders.miss(job.t, "nozzle.nut", 1, "tray"))
    done = done_by_the_next_act(job)
    assert done[0] == "Stop and search for 1 M8 nut"
    assert "Clearance was withdrawn: lift the nozzle holder again" in done


@pytest.mark.parametrize("place", ["engine", "on/manifold"])
def test_what_lies_over_a_closure_that_is_lifted_again_is_taken_away_first(place):
    """It would fall in as the closure comes up: the lift check refuses it, so it is not what is offered."""
    job = Job()
    job.lift("crossover", "manifold")
    job.do(WorkDone("wiped"))
    job.clear("manifold")
    job.do(Refitted("manifold"))
    job.count("glasses", 1, "stores", place)
    job.do(FindLogged("find-1", "half a washer", "port-1", PHOTO))
    assert job.t.closure_states["manifold"].cleared is None
    act = next_act(job.t, job.now)
    assert (act.line, act.place) == ("glasses", place)
    done = done_by_the_next_act(job)
    assert "Clearance was withdrawn: lift the manifold again" in done


def test_a_dropped_cover_is_taken_out_and_the_opening_looked_into():
    job = Job()
    job.lift("nozzle")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.drop(job.t, "cap", 1, "at cylinder 1", source="cover/nozzle-hole", into="cylinder-1"))
    done_by_the_next_act(job)
    assert job.t.ended == "closed"
