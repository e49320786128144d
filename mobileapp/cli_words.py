"""How the command line tells a person what happened: plain lines of text, nothing decided here."""

from __future__ import annotations

from collections.abc import Iterator

from checklists import places
from checklists.reason_making import notes_of_all
from checklists.reasons import Reason
from checklists.sheet_fault import spoken_path
from checklists.state import Tally, Teardown
from checklists.story import Step
from checklists.times import clock_face
from checklists.words import how_many
from mobileapp.rehearsal import Rehearsal, StepResult


def tally_words(tally: Tally) -> str:
    """The running tally: "out 12, in the engine 3, missing 1"."""
    return f"out {tally.out}, in the engine {tally.in_engine}, missing {tally.missing}"


def result_lines(result: StepResult, state: Teardown) -> Iterator[str]:
    """One step: when, who, what and the tally after; a refusal with every reason; what was not as expected."""
    head = f"{result.at[11:19]}  {result.who}"
    if result.entries:
        yield f"{head} {result.words}  [{tally_words(result.tally)}]"
    if result.refused:
        reasons = how_many(len(result.reasons), "reason")
        yield f"{head} wants to {attempt_words(result.step, state)}: REFUSED, {reasons}  [{tally_words(result.tally)}]"
        for reason in result.reasons:
            yield from reason_lines(reason)
    elif not result.entries:
        yield f"{head} {_quiet_words(result.step, state)}  [{tally_words(result.tally)}]"
    for note in result.notes:
        yield f"    Not a reason: {note}"
    for failure in result.failures:
        yield f"    NOT AS EXPECTED at {spoken_path(result.step.path) if result.step else 'the start'}: {failure}"


def _quiet_words(step: Step | None, state: Teardown) -> str:
    if step is not None and step.do.startswith("why not"):
        return f"asks {attempt_words(step, state)}: nothing stands in the way"
    return "lets time pass"


def attempt_words(step: Step | None, state: Teardown) -> str:
    """What was tried, by the names on the sheet."""
    if step is None:
        return "start"
    about = []
    if step.line in state.lines:
        about.append(state.lines[step.line].name)
    if step.opening in state.openings:
        about.append(state.openings[step.opening].name)
    if step.closure in state.closures:
        about.append(state.closures[step.closure].name)
    return f"{step.do} ({', '.join(about)})" if about else step.do


def reason_lines(reason: Reason) -> Iterator[str]:
    """One reason: what is wrong, since when and by whom, and what puts it right."""
    since = f" Since {clock_face(reason.since)}" if reason.since else ""
    who = f"{',' if since else ' By'} {'by ' if since else ''}{reason.who}" if reason.who else ""
    stop = "." if since or who else ""
    yield f"    - {reason.words}{since}{who}{stop}"
    yield f"      -> {reason.do_next}"


def ending_words(rehearsal: Rehearsal) -> str:
    """How a rehearsal went, in one line."""
    steps = how_many(len(rehearsal.results) - 1, "step")
    ended = f"The teardown is {rehearsal.state.ended}." if rehearsal.state.ended else "The teardown is still open."
    if rehearsal.held:
        return f"{rehearsal.story.source}: {steps}, every expectation held. {ended}"
    wrong = how_many(len(rehearsal.failures), "expectation")
    return f"{rehearsal.story.source}: {steps}, {wrong} did NOT hold. {ended}"


def note_lines(state: Teardown) -> Iterator[str]:
    """Of each missing item: against which opened closures it is no reason, and why not."""
    for closure, words in notes_of_all(state):
        yield f"    {state.closures[closure].name}: {words}"


#: What the mark before a line means.
AWAY = "* not all of it is at home: some is out, in or over the engine, or missing."


def is_marked(line: str) -> bool:
    """Whether a line of the balances bears the mark."""
    return line.lstrip().startswith("*")


def balance_lines(state: Teardown) -> Iterator[str]:
    """Every line and where its items are, the ones that are away marked as such."""
    for line in state.lines.values():
        at = [f"{quantity} {state.say_place(place)}" for place, quantity in sorted(state.places_of(line.id).items())]
        away = any(places.family(place) not in places.RESTING_FAMILIES for place in state.places_of(line.id))
        yield f"  {'*' if away else ' '} {line.name} ({state.total(line.id)}): {'; '.join(at) or 'none'}"
