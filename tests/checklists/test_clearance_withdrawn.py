"""A clearance holds until something changes in its spaces; then it is withdrawn by itself and the closure waits."""

from decimal import Decimal

import pytest
from workboat_model import BOLT, INES, NUT, PHOTO, TOMAS, Job, codes

from checklists import builders
from checklists.facts import FindLogged, Grown, Looked, Refitted
from checklists.sheet import Caution, Line, Opening, Passage, Shape, Sheet


@pytest.fixture
def job() -> Job:
    """The nozzle holder and the manifold are off, and both are cleared to refit."""
    job = Job()
    job.lift("crossover", "manifold", "nozzle")
    job.look("nozzle-hole", "inlet-1", "inlet-2")
    job.second_count("manifold")
    job.do(job.clearing("manifold"))
    job.do(job.clearing("nozzle"))
    return job


def withdrawn(job: Job) -> set[str]:
    """The closures that were cleared and are not any more; none of them can be set down."""
    gone = {c for c in ("manifold", "nozzle") if job.stage(c) != "cleared"}
    for closure in gone:
        assert job.stage(closure) == "lifted"
        assert job.t.closure_states[closure].cleared is None
        assert job.t.closure_states[closure].remark.startswith("Clearance withdrawn: ")
        assert job.refused(Refitted(closure))
    return gone


def test_a_cleared_closure_is_set_down(job):
    job.do(Refitted("nozzle"))
    assert job.stage("nozzle") == "set down"
    assert job.t.opening_states["nozzle-hole"].state == "sealed"


def test_a_movement_elsewhere_leaves_it(job):
    job.count("wrench", 1, "stores", "bench")
    job.count(NUT, 1, "tray", "bench")
    assert withdrawn(job) == set()


def test_something_put_into_its_space_withdraws_it(job):
    job.count("wrench", 1, "stores", "engine/port-2")
    assert withdrawn(job) == {"manifold"}


def test_something_put_further_in_withdraws_both_closures_over_the_way_there(job):
    job.count("wrench", 1, "stores", "engine/cylinder-1")
    assert withdrawn(job) == {"manifold", "nozzle"}
    assert job.t.closure_states["nozzle"].remark == (
        "Clearance withdrawn: a movement in its spaces after it was cleared."
    )


def test_putting_it_in_and_taking_it_out_again_withdraws_it_too(job):
    job.count("wrench", 1, "stores", "engine/port-2")
    job.count("wrench", 1, "engine/port-2", "stores")
    assert withdrawn(job) == {"manifold"}
    assert codes(job.refused(Refitted("manifold"))) == ["look out of date", "second count due"]


def test_an_item_whose_spot_is_not_said_withdraws_every_clearance(job):
    job.count("glasses", 1, "stores", "engine")
    assert withdrawn(job) == {"manifold", "nozzle"}


def test_something_laid_on_the_closure_withdraws_it(job):
    job.count("wrench", 1, "stores", "on/manifold")
    assert "manifold" in withdrawn(job)


def test_a_cover_put_in_withdraws_it(job):
    job.do(builders.cover(job.t, "inlet-2", "cap"))
    assert withdrawn(job) == {"manifold"}


def test_a_missing_item_withdraws_it(job):
    job.do(builders.miss(job.t, NUT, 1, "tray"), TOMAS)
    assert withdrawn(job) == {"manifold", "nozzle"}
    state = job.t.closure_states["nozzle"]
    assert state.remark == "Clearance withdrawn: 1 M8 nut went missing and could be in its spaces."
    assert state.who == TOMAS


def test_a_find_withdraws_it(job):
    job.do(FindLogged("find-1", "old washer", "port-2", PHOTO))
    assert withdrawn(job) == {"manifold"}


def test_a_look_that_sees_something_withdraws_it(job):
    job.do(Looked("inlet-2", False, "a glint", PHOTO))
    assert withdrawn(job) == {"manifold"}


def test_a_count_that_differs_withdraws_it(job):
    job.do(builders.check(BOLT, "tray", 9))
    assert withdrawn(job) == {"manifold", "nozzle"}


def test_a_count_that_agrees_leaves_it(job):
    job.do(builders.check(BOLT, "tray", 10))
    assert withdrawn(job) == set()


HOLE = Shape("circle", (Decimal(10),))


@pytest.mark.parametrize(
    "part",
    [
        Sheet("", "", cautions=(Caution("fuel", "Fuel shut off."),)),
        Sheet("", "", passages=(Passage("cylinder-1", "jacket", None, "drains"),)),
        Sheet("", "", openings=(Opening("glow-hole", "the glow plug hole", "cylinder-1", HOLE, "nozzle", "Plug."),)),
    ],
    ids=["a caution", "a passage", "an opening"],
)
def test_a_sheet_that_has_grown_withdraws_it(job, part):
    job.do(Grown(part, ()))
    assert "nozzle" in withdrawn(job)


def test_another_tool_on_the_sheet_leaves_it(job):
    job.do(builders.grow(Sheet("", "", items=(Line("lamp", "lamp", "tool", 1, "stores"),))))
    assert withdrawn(job) == set()


def test_opening_what_lies_beneath_again_withdraws_it():
    job = Job()
    job.lift("crossover", "manifold")
    job.refit("manifold")
    job.look("outlet")
    job.do(job.clearing("crossover"))
    job.count(BOLT, 1, "fitted/manifold", "tray")
    assert job.stage("crossover") == "lifted"
    assert codes(job.refused(Refitted("crossover"))) == ["closure below open"]


def test_opening_what_lies_beneath_holds_up_the_signature():
    job = Job()
    job.lift("crossover", "manifold")
    job.refit("manifold")
    job.clear("crossover")
    job.do(Refitted("crossover"))
    job.home("crossover")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    assert codes(job.refused(job.signing("crossover"))) == ["closure below open"]


def test_a_count_that_differs_holds_up_the_signature(job):
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    job.do(builders.check("wrench", "stores", 0), INES)
    assert codes(job.refused(job.signing("nozzle"))) == ["count differs"]


def test_no_closure_is_set_down_or_signed_without_clearance():
    job = Job()
    job.lift("nozzle")
    assert codes(job.refused(Refitted("nozzle"))) == ["not looked into"]
    assert codes(job.refused(job.signing("nozzle"))) == ["not looked into"]
    job.look("nozzle-hole")
    assert codes(job.refused(Refitted("nozzle"))) == ["not cleared"]
    assert codes(job.refused(job.signing("nozzle"))) == ["not set down"]
    assert codes(job.refused(Refitted("manifold"))) == ["not cleared"]


def test_no_fastener_goes_home_on_a_closure_that_is_off():
    job = Job()
    job.lift("nozzle")
    assert codes(job.refused(builders.count_back(job.t, NUT))) == ["not looked into"]
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))
    assert codes(job.refused(builders.count_back(job.t, NUT))) == ["not set down"]


def test_something_missed_after_it_was_set_down_stops_it_going_further(job):
    job.do(Refitted("nozzle"))
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert codes(job.refused(job.signing("nozzle")))[:2] == ["missing", "clearance withdrawn"]
    assert "missing" in codes(job.refused(builders.count_back(job.t, NUT)))
    job.do(builders.find_again(job.t, NUT, 1, "in the apron"))
    assert codes(job.refused(builders.count_back(job.t, NUT))) == ["clearance withdrawn", "not home"]
    job.lift("nozzle")
    job.refit("nozzle")
    assert job.stage("nozzle") == "signed"
