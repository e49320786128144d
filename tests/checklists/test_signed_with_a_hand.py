"""What is signed is signed with a finger, whoever asks for it; what was signed by name before that was asked stays."""

from __future__ import annotations

from dataclasses import replace

import pytest
from kept_photos import HAND
from two_phones import exchange, two_phones
from workboat_model import HEAD, INES, TOMAS, Job, codes, only

from checklists import builders
from checklists.closing_account import make_account
from checklists.facts import Entry, Fact, HandedOver, HandTurned, Refitted
from checklists.judge import judge
from checklists.story_signature import drawn_name
from checklists.teardown import apply, fold

DOT = ((500, 500, 505, 500),)


def clearing(job: Job) -> tuple[Fact, str]:
    job.lift("nozzle")
    job.look_into("nozzle")
    return job.clearing("nozzle"), INES


def signing(job: Job) -> tuple[Fact, str]:
    job.lift("nozzle")
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    return job.signing("nozzle"), INES


def turning(job: Job) -> tuple[Fact, str]:
    return HandTurned("two turns, free", HEAD, HAND), INES


def closing(job: Job) -> tuple[Fact, str]:
    job.do(turning(job)[0])
    return builders.close(job.t, HEAD, HAND), INES


def releasing(job: Job) -> tuple[Fact, str]:
    return builders.released(job.t, "It must be towed.", "Bilge and bearers.", HEAD, HAND), TOMAS


def taking_over(job: Job) -> tuple[Fact, str]:
    job.do(HandedOver(TOMAS, "", ()))
    return builders.take_over(job.t, [], "", HAND), TOMAS


KINDS = [clearing, signing, turning, closing, releasing, taking_over]


@pytest.mark.parametrize("make", KINDS)
def test_without_a_drawn_signature_it_is_refused_with_what_to_do_and_by_whom(make):
    job = Job()
    fact, who = make(job)
    reason = only(job.refused_as_it_is(replace(fact, signature=()), who), "not signed")
    assert reason.do_next == f"Let {who} sign with a finger."
    assert only(job.refused_as_it_is(replace(fact, signature=DOT), who), "not signed").words == "A dot is no signature."
    job.put(fact, who)


def test_while_something_else_stands_against_it_only_that_is_said():
    job = Job()
    job.lift("crossover", "manifold")
    fact = replace(job.clearing("manifold"), signature=())
    assert "not signed" not in codes(job.refused_as_it_is(fact))


@pytest.mark.parametrize("name", ["Ines Vardal", "Ø", "i", "Wilhelmina Mimmi Montgomery-Wumme the younger"])
def test_every_invented_hand_of_a_story_is_a_signature(name):
    job = Job()
    assert judge(job.t, HandTurned("free", HEAD, drawn_name(name)), job.now, INES) == ()


# --- what was signed by name before


def by_name(job: Job, fact: Fact, who: str) -> None:
    """It stands in a journal of before, its signature a name."""
    number = len(job.t.history) + 1
    apply(job.t, Entry(replace(fact, signature=()), job.now, who, "phone-a", number, number))
    job.later(1)


@pytest.mark.parametrize("make", KINDS)
def test_a_journal_of_before_still_opens_and_what_it_says_still_stands(make):
    job = Job()
    fact, who = make(job)
    by_name(job, fact, who)
    assert fold(job.t.history).ended == job.t.ended
    assert make_account("job-1", job.t.history, {"phone-a": HEAD}).sections


def test_under_a_clearance_of_before_the_closure_is_set_down_and_signed_by_hand():
    job = Job()
    by_name(job, *clearing(job))
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    job.put(job.signing("nozzle"))
    assert job.stage("nozzle") == "signed"


def test_two_phones_merge_what_one_signed_by_name_before():
    ines, tomas = two_phones()
    seq = ines.heads()["phone-a"] + 1
    tick = max(entry.tick for entry in ines.entries) + 1
    turned = Entry(HandTurned("free", HEAD), ines.now, INES, "phone-a", seq, tick, ())
    ines.entries.append(turned)
    apply(ines.t, turned)
    assert exchange(ines, tomas).hand_turned is not None
