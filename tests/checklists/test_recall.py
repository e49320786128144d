"""A signed closure is recalled when something that could be under it goes missing afterwards."""

import pytest
from workboat_model import BOLT, NUT, PHOTO, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts import FindLogged, FindRemoved, HandTurned, Refitted
from checklists.gate import why_not, why_not_close


@pytest.fixture
def job() -> Job:
    """The wrench came out before the nozzle holder came off; the nozzle holder is signed, the crossover is off."""
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    job.refit("nozzle")
    job.lift("crossover")
    return job


def test_a_tool_that_was_out_while_the_cylinder_stood_open_recalls_the_nozzle_holder(job):
    job.do(builders.miss(job.t, "wrench", 1, "bench", "not on the bench"), TOMAS)
    state = job.t.closure_states["nozzle"]
    assert (state.stage, state.signed, state.who) == ("recalled", None, TOMAS)
    assert state.remark == "Sign-off recalled: 1 wrench went missing and could be in its spaces."
    assert job.t.could_hold(job.t.missing[0]) == {"cylinder-1", "jacket"}
    assert only(why_not(job.t, "nozzle"), "missing").line == "wrench"
    assert "closure open" in codes(why_not_close(job.t))
    assert codes(job.refused(HandTurned("free"))) == ["closure open", "missing"]


def test_it_is_not_recalled_when_the_tool_was_seen_after_the_closure_was_set_down(job):
    job.do(builders.check("wrench", "bench", 1))
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert job.stage("nozzle") == "signed"


def test_it_is_not_recalled_when_the_tool_moved_after_the_closure_was_set_down(job):
    job.count("wrench", 1, "bench", "stores")
    job.count("wrench", 1, "stores", "bench")
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert job.stage("nozzle") == "signed"


def test_a_count_that_did_not_agree_is_no_sighting(job):
    job.do(builders.check("wrench", "bench", 0))
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert job.stage("nozzle") == "recalled"


def test_it_is_not_recalled_for_a_drop_after_it_was_sealed(job):
    job.do(builders.drop(job.t, "wrench", 1, "at the front"))
    assert job.stage("nozzle") == "signed"


def test_a_bolt_short_from_the_start_recalls_every_signature(job):
    job.do(builders.short_at_start(job.t, BOLT, 1, PHOTO))
    assert job.stage("nozzle") == "recalled"


def test_a_find_in_its_spaces_recalls_it(job):
    job.do(FindLogged("find-1", "half a washer", "cylinder-1", PHOTO))
    assert job.stage("nozzle") == "recalled"
    assert job.t.closure_states["nozzle"].remark == "Sign-off recalled: half a washer was found there."


def test_a_find_elsewhere_does_not(job):
    job.do(FindLogged("find-1", "half a washer", "jacket", PHOTO))
    job.do(FindLogged("find-2", "an extra bolt", "", PHOTO))
    assert job.stage("nozzle") == "signed"


def test_signed_afresh_once_it_was_found(job):
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert codes(job.refused(job.signing("nozzle"))) == ["missing"]
    job.do(builders.find_again(job.t, "wrench", 1, "in the locker"))
    job.do(job.signing("nozzle"))
    assert job.stage("nozzle") == "signed"
    assert job.t.closure_states["nozzle"].remark == ""


def test_over_a_find_it_comes_off_and_is_looked_into_again(job):
    """Whoever looked in before it went back had not seen it: where half a washer lay, the other half may lie."""
    job.do(FindLogged("find-1", "half a washer", "cylinder-1", PHOTO))
    assert codes(job.refused(job.signing("nozzle"))) == ["find open", "clearance withdrawn"]
    job.do(FindRemoved("find-1", "with the magnet", PHOTO, "bag 1"))
    assert codes(job.refused(job.signing("nozzle"))) == ["clearance withdrawn"]
    job.lift("nozzle")
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]
    job.refit("nozzle")
    assert job.stage("nozzle") == "signed"


def test_over_a_find_in_the_port_before_it_is_signed_afresh_once_that_is_settled(job):
    """It may have gone on from there, and nobody saw it in the cylinder."""
    job.do(FindLogged("find-1", "half a washer", "port-1", PHOTO))
    assert job.stage("nozzle") == "recalled"
    job.do(FindRemoved("find-1", "with the magnet", PHOTO, "bag 1"))
    job.do(job.signing("nozzle"))


def test_a_recalled_closure_opened_again_goes_through_everything_again(job):
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    job.lift("nozzle")
    job.count("glasses", 1, "stores", "engine/cylinder-1")
    job.count("glasses", 1, "engine/cylinder-1", "stores")
    job.do(builders.find_again(job.t, "wrench", 1, "behind the pump"))
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]
    job.refit("nozzle")
    assert job.stage("nozzle") == "signed"


def test_a_recalled_closure_with_a_bolt_out_is_not_signed_without_lifting_it(job):
    """Once its fasteners come out to look inside, it is cleared afresh before they go home for good."""
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    job.count(NUT, 1, "fitted/nozzle", "tray")
    job.do(builders.find_again(job.t, "wrench", 1, "behind the pump"))
    job.count(NUT, 1, "tray", "fitted/nozzle")
    assert codes(job.refused(job.signing("nozzle"))) == ["clearance withdrawn"]


def test_a_closure_set_down_and_not_yet_signed_loses_its_clearance():
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert codes(job.refused(job.signing("nozzle")))[:2] == ["missing", "clearance withdrawn"]
