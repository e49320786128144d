"""Leaving out any step that counts something back ends in a refusal that names it; doing it twice is a surplus."""

import pytest
from tiny_photos import tiny

from checklists import places
from checklists.facts import Counted, Found, Uncovered, moves_of
from checklists.facts_measured import Searched
from checklists.story import CLOSES, COUNTS_BACK
from mobileapp.journal import open_journal
from mobileapp.rehearsal import Rehearsal, StepResult, play
from mobileapp.story_shelf import Script, load_story, shipped_stories

AWAY = places.OUT_FAMILIES | places.ENGINE_FAMILIES | {places.MISSING}


@pytest.fixture(scope="module")
def as_written(tmp_path_factory) -> dict[str, Rehearsal]:
    """Every shipped story, played as it is written."""
    with open_journal(tmp_path_factory.mktemp("as-written") / "journal.sqlite") as journal:
        return {name: play(load_story(name), journal, draw=tiny) for name in shipped_stories()}


def counts_back(result: StepResult) -> bool:
    """Whether a step brought something home, out of the engine, or back from missing."""
    facts = [entry.fact for entry in result.entries]
    moves = [m for fact in facts if isinstance(fact, Counted | Found | Searched | Uncovered) for m in moves_of(fact)]
    return not result.refused and any(_nearer_home(move) for move in moves)


def _nearer_home(move) -> bool:
    source, target = places.family(move.source), places.family(move.target)
    if source in places.ENGINE_FAMILIES | {places.MISSING}:
        return target not in places.ENGINE_FAMILIES
    return source in AWAY and target in places.RESTING_FAMILIES


def cases() -> list[tuple[str, int]]:
    """Each step of each shipped story that can bring something back: by its word, or a move to where things go."""
    return [
        (name, step.number)
        for name in shipped_stories()
        for step in load_story(name).story.steps
        if (step.do in COUNTS_BACK or (step.do == "move" and step.target != "on the floor") or step.found)
        and not step.expected.refused
    ]


def test_every_shipped_story_has_steps_to_leave_out():
    assert {name for name, _ in cases()} == set(shipped_stories())


def test_no_step_that_brings_something_back_is_forgotten(as_written):
    found = [(name, r.step.number) for name, played in as_written.items() for r in played.results if counts_back(r)]
    assert found == cases()


@pytest.mark.parametrize(("name", "number"), cases())
def test_left_out_a_later_closure_is_refused_and_names_it(stage, as_written, name, number):
    script = load_story(name)
    before = {result.step.number: result for result in as_written[name].results if result.step}
    lines = {move.line for entry in before[number].entries for move in moves_of(entry.fact)}
    played = stage.play_script(script, script.story.without(number))
    closings = [r for r in played.results if r.step and r.step.number > number and r.step.do in CLOSES]
    assert any(_newly_named(lines, before[result.step.number], result) for result in closings)


def _newly_named(lines: set[str], before: StepResult, after: StepResult) -> bool:
    """Whether a closure is refused for a reason that names such a line, and that was not there as written."""
    known = {(reason.code, reason.line, reason.quantity) for reason in before.reasons}
    return any(r.line in lines and (r.code, r.line, r.quantity) not in known for r in after.reasons)


@pytest.mark.parametrize(("name", "number"), cases())
def test_done_twice_it_is_a_surplus(stage, as_written, name, number):
    script = load_story(name)
    (step,) = [step for step in script.story.steps if step.number == number]
    (result,) = [r for r in as_written[name].results if r.step and r.step.number == number]
    lines = {move.line for entry in result.entries for move in moves_of(entry.fact)}
    played = stage.play_script(script, script.story.doubled(number))
    second = [i for i, r in enumerate(played.results) if r.step and r.step.number == number][1]
    surplus = [reason for r in played.results[second:] for reason in r.reasons if reason.code == "surplus"]
    assert any(reason.line in lines or (step.opening and reason.opening == step.opening) for reason in surplus)


def test_the_script_is_left_as_it_was():
    script = load_story("workboat")
    assert isinstance(script, Script)
    assert script.story.without(3) != script.story
    assert len(script.story.doubled(3).steps) == len(script.story.steps) + 1
