"""The lift check: a closure comes up only with its fasteners out and nothing loose that could fall in."""

import pytest
from kept_photos import photo
from workboat_model import BOLT, INES, PHOTO, TOMAS, Job, codes, only

from checklists import builders, gate
from checklists.facts import Acknowledged, Lifted
from checklists.next_act import next_act


def lifting(closure: str) -> Lifted:
    return Lifted(closure, PHOTO)


def test_fasteners_still_in_are_counted_in_the_refusal():
    job = Job()
    job.lift("crossover")
    job.count(BOLT, 7, "fitted/manifold", "tray", TOMAS)
    (reason,) = job.refused(lifting("manifold"))
    assert (reason.code, reason.line, reason.quantity, reason.place) == ("still fitted", BOLT, 3, "fitted/manifold")
    assert reason.words == "3 M8 bolts still in the manifold."
    assert (reason.who, reason.do_next) == (TOMAS, "Count them out.")


def test_what_lies_over_it_comes_off_first():
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    reason = only(job.refused(lifting("manifold")), "lies over")
    assert (reason.closure, reason.do_next) == ("crossover", "Lift the crossover first.")


def test_nothing_lies_loose_on_it():
    job = Job()
    job.lift("crossover")
    job.count(BOLT, 10, "fitted/manifold", "tray")
    job.count("wrench", 1, "stores", "on/manifold")
    job.count("glasses", 1, "stores", "engine")
    reasons = job.refused(lifting("manifold"))
    assert [(r.code, r.line, r.place) for r in reasons] == [
        ("lying loose", "wrench", "on/manifold"),
        ("lying loose", "glasses", "engine"),
    ]
    assert reasons[0].words == "1 wrench lying on the manifold: it could fall in when the closure comes up."


def test_a_photo_shows_it_clear():
    job = Job()
    job.count("nozzle.nut", 2, "fitted/nozzle", "tray")
    assert codes(job.refused(Lifted("nozzle", ""))) == ["no baseline photo", "no photo"]
    job.do(photo("as found", "teardown:", "baseline"))
    assert codes(job.refused(Lifted("nozzle", ""))) == ["no photo"]


@pytest.mark.parametrize("about", ["teardown:", "opening:nozzle-hole"])
def test_how_the_machine_was_found_is_photographed_once_before_the_first_lift(about):
    job = Job()
    job.count("nozzle.nut", 2, "fitted/nozzle", "tray")
    lifting = Lifted("nozzle", job.do(photo("nothing lies on it", "closure:nozzle", "lift check")).fact.photo)
    reason = only(job.refused_as_it_is(lifting), "no baseline photo")
    assert reason.do_next == "Photograph it before anything comes off."
    assert next_act(job.t, job.now).do == "photograph"
    job.do(photo("as found", about, "baseline"))
    job.put(lifting)
    assert "no baseline photo" not in codes(gate.why_not_lift(job.t, "manifold"))


def test_cautions_are_read_first():
    job = Job(read=False)
    job.count("nozzle.nut", 2, "fitted/nozzle", "tray")
    reason = only(job.refused(lifting("nozzle")), "caution unread")
    assert (reason.caution, reason.words) == ("cold", "Caution not acknowledged: Let it cool.")
    job.do(Acknowledged("cold"))
    job.do(lifting("nozzle"))


def test_every_reason_is_given_at_once():
    job = Job(read=False)
    job.count(BOLT, 9, "fitted/manifold", "tray")
    job.count("wrench", 1, "stores", "on/manifold")
    assert codes(job.refused(Lifted("manifold", ""))) == [
        "caution unread",
        "no baseline photo",
        "still fitted",
        "lies over",
        "lying loose",
        "no photo",
    ]


def test_a_closure_that_is_off_is_not_lifted_again():
    job = Job()
    job.lift("nozzle")
    assert codes(job.refused(lifting("nozzle"))) == ["already off"]


def test_an_unknown_closure_is_named():
    (reason,) = Job().refused(lifting("sump"))
    assert (reason.code, "'sump'" in reason.words) == ("unknown closure", True)


def test_lifting_uncovers_every_opening_beneath():
    job = Job()
    job.lift("crossover", "manifold")
    states = {opening: state.state for opening, state in job.t.opening_states.items()}
    assert states == {"outlet": "uncovered", "inlet-1": "uncovered", "inlet-2": "uncovered", "nozzle-hole": "sealed"}
    assert job.t.opening_states["inlet-1"].who == INES
    assert builders.count_back(job.t, BOLT).moves[0].source == "tray"
