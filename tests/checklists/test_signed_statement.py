"""What is signed is the statement that the record makes at that moment, and no other."""

from __future__ import annotations

from dataclasses import replace

import pytest
from workboat_model import HEAD, INES, Job, codes

from checklists import builders
from checklists.closing_account import make_account
from checklists.fact_codec import fact_from_plain, fact_to_plain
from checklists.facts import Cleared, Closed, HandTurned, Joined, Person, Refitted, Signed
from checklists.story_signature import drawn_name


@pytest.fixture
def job() -> Job:
    job = Job()
    job.lift("nozzle")
    return job


def ready_to_clear(job: Job) -> Cleared:
    """The clearance of the nozzle holder, with everything done before it."""
    job.look_into("nozzle")
    clearing = job.clearing("nozzle")
    assert isinstance(clearing, Cleared)
    return clearing


@pytest.mark.parametrize("said", ["", " ", "anything", "nozzle holder: nothing left."])
def test_a_clearance_is_signed_for_what_the_count_says(job, said):
    right = ready_to_clear(job)
    refused = job.refused(replace(right, statement=said))
    assert codes(refused) == ["not its statement"]
    assert right.statement in refused[0].do_next
    job.do(right)


@pytest.mark.parametrize("said", ["", "all done"])
def test_a_closure_and_the_teardown_are_signed_for_what_the_count_says(job, said):
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    right = builders.sign(job.t, "nozzle", "", "")
    assert codes(job.refused(Signed("nozzle", "", said, ""))) == ["not its statement"]
    job.do(right)
    job.do(HandTurned("two turns, free"))
    assert codes(job.refused(Closed(said, ""))) == ["not its statement"]
    job.do(builders.close(job.t, ""))


def test_while_something_else_stands_against_it_only_that_is_said(job):
    assert "not its statement" not in codes(job.refused(Cleared("nozzle", "", "")))


def test_nobody_without_a_name_signs(job):
    right = ready_to_clear(job)
    assert codes(job.refused(right, who="")) == ["not on the job"]
    assert codes(job.refused(Joined(Person(" ", "fitter")), who=INES)) == ["same name"]


def test_a_story_signs_with_strokes_drawn_from_the_invented_name():
    """Within the field, more than a dot, the same each time, and another name is another signature."""
    ines, tomas = drawn_name("Ines Vardal"), drawn_name("Tomas Reke")
    assert ines != tomas
    assert drawn_name("Ines Vardal") == ines
    for strokes in (ines, tomas, drawn_name("Wilhelmina Mimmi Montgomery-Wumme the younger"), drawn_name("Ø")):
        assert all(0 <= part <= 1000 for stroke in strokes for part in stroke)
        assert all(len(stroke) % 2 == 0 and len(stroke) >= 4 for stroke in strokes)
    assert drawn_name("") == ()


def test_turning_by_hand_is_signed_on_the_closing_sheet():
    """design.md: the "turn by hand first" check is signed; one of an old journal has neither head nor strokes."""
    job = Job()
    job.do(HandTurned("two turns, free", HEAD, drawn_name(INES)))
    old = {key: value for key, value in fact_to_plain(HandTurned("free")).items() if key == "statement"}
    assert fact_from_plain("turned by hand", old) == HandTurned("free")
    account = make_account("job-1", job.t.history, {"phone-a": HEAD})
    (section,) = [section for section in account.sections if section.title == "Turned by hand"]
    (signed,) = section.blocks
    assert (signed.name, signed.head, signed.strokes) == (INES, HEAD, drawn_name(INES))
    assert signed.statement.endswith("before anything else turned it: two turns, free")
