"""The shipped stories play as they are written, and so does the example that documents the format."""

import re

import pytest
from story_stage import EXAMPLE, README

from checklists.facts import Reversed
from checklists.state import tally
from checklists.story import VERBS
from mobileapp.journal import prove
from mobileapp.rehearsal import play_until
from mobileapp.story_shelf import STORIES, load_story, script_of, shipped_stories

ENDINGS = {
    "workboat": "closed",
    "valley-cover": "closed",
    "blank-sheet": "closed",
    "rocker-cover": "released, not clear",
    "lift-pump": "closed",
}


def test_these_stories_are_shipped():
    assert sorted(shipped_stories()) == sorted(ENDINGS)


@pytest.mark.parametrize("name", sorted(ENDINGS))
def test_a_shipped_story_goes_as_written_and_its_journal_proves(stage, name):
    rehearsal = stage.play_script(load_story(name))
    assert rehearsal.failures == ()
    assert rehearsal.state.ended == ENDINGS[name]
    assert stage.journal.balances(rehearsal.teardown) == rehearsal.state.balances
    assert prove(stage.journal.path) == []


def test_a_closed_story_has_every_item_home(stage):
    for name in ("workboat", "valley-cover", "blank-sheet", "lift-pump"):
        assert tally(stage.play_script(load_story(name)).state) == (0, 0, 0)


def test_the_documented_example_plays(stage):
    rehearsal = stage.play_script(script_of(EXAMPLE, "README.md", STORIES))
    assert rehearsal.failures == ()
    assert rehearsal.state.ended == "closed"


def test_every_word_that_a_step_can_use_is_documented():
    documented = set(re.findall(r"`([a-z_ ]+)`", README))
    assert set(VERBS) <= documented
    operands = {operand for verb in VERBS.values() for operand in verb.needs + verb.takes}
    assert operands <= documented


def test_the_workboat_shows_what_the_demo_promises(stage):
    rehearsal = stage.play_script(load_story("workboat"))
    state = rehearsal.state
    fasteners = [line for line in state.lines.values() if line.kind == "fastener"]
    assert sum(line.quantity for line in fasteners) >= 14
    assert len(fasteners) >= 2
    assert sum(s.was_lifted for s in state.closure_states.values()) >= 2
    assert len([o for o in state.openings.values() if o.closure == "inlet-manifold"]) == 4
    refused_codes = [{reason.code for reason in result.reasons} for result in rehearsal.results if result.refused]
    assert max(len(codes) for codes in refused_codes) >= 4
    assert {"surplus"} in refused_codes
    assert {"same person"} in refused_codes
    assert [drop.line for drop in state.drops if drop.ended] == ["inlet-manifold.nut-m8"]
    assert any(isinstance(entry.fact, Reversed) for entry in state.history)
    assert state.total("rag-half") == 2


def test_a_late_movement_withdrew_the_clearance_in_the_workboat(stage):
    rehearsal = stage.play_script(load_story("workboat"))
    signed = [entry.fact.closure for entry in rehearsal.state.history if entry.fact.kind == "cleared to refit"]
    assert signed == ["inlet-manifold", "inlet-manifold", "coolant-crossover"]


@pytest.mark.parametrize("moment", ["counting", "openings", "refusal", "sign-off"])
def test_the_workboat_can_be_left_at_each_moment_the_demo_shows(stage, moment):
    rehearsal = play_until(load_story("workboat"), moment, stage.journal)
    assert rehearsal.held
    assert rehearsal.results[-1].step.label == moment
    assert rehearsal.state.ended == ""


def test_a_moment_that_is_not_in_the_story(stage):
    with pytest.raises(KeyError):
        play_until(load_story("workboat"), "lunch", stage.journal)
