"""Playing a story against the real rules and a real journal. What happened comes back as data; nothing is printed."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, replace

from checklists import builders, gate
from checklists.facts import Entry, Fact, Photographed
from checklists.judge import judge
from checklists.photo_places import place_of_photo
from checklists.reason_making import notes
from checklists.reasons import Reason
from checklists.refusing import NOT_KEPT
from checklists.state import Tally, Teardown, tally
from checklists.story import Step, Story
from checklists.story_acts import acts_of, unknown_to
from checklists.story_words import say
from checklists.times import seconds_after
from mobileapp.evidence import keep_photo
from mobileapp.journal.store import Journal
from mobileapp.photos.drawn import drawn
from mobileapp.photos.store import PhotoStore, beside
from mobileapp.service import Outcome, TeardownService
from mobileapp.story_shelf import Script

#: What passes on the story's clock: before a step that does not say, and with every single count.
STEP_SECONDS, COUNT_SECONDS = 5.0, 2.0


@dataclass(frozen=True, slots=True)
class StepResult:
    """What became of one step: its entries, or every reason against it, the tally after, what was not as expected.

    `notes` refuse nothing: they say of each missing item that is no reason against the closure why it is none.
    """

    step: Step | None
    at: str
    who: str
    words: str
    entries: tuple[Entry, ...]
    reasons: tuple[Reason, ...]
    tally: Tally
    failures: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether there was any reason against it."""
        return bool(self.reasons)


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """A story that was played: the teardown it made, and the result of its start and of each step."""

    story: Story
    teardown: str
    state: Teardown
    results: tuple[StepResult, ...]

    @property
    def failures(self) -> tuple[tuple[StepResult, str], ...]:
        """Everything that was not as the story expected."""
        return tuple((result, failure) for result in self.results for failure in result.failures)

    @property
    def held(self) -> bool:
        """Whether every expectation held."""
        return not self.failures


class StoryClock:
    """The clock of a story: it stands still until it is told that time passes."""

    def __init__(self, starts: str) -> None:
        self.now = starts

    def __call__(self) -> str:
        return self.now

    def passes(self, seconds: float) -> None:
        """Let so many seconds pass."""
        self.now = seconds_after(self.now, seconds)


#: A photo from its words and its time.
Draw = Callable[[str, str], bytes]


def _new_id() -> str:
    return "story-" + os.urandom(4).hex()


def play(
    script: Script, journal: Journal, make_id: Callable[[], str] = _new_id, draw: Draw = drawn
) -> Rehearsal:
    """Play a whole story into `journal`. A step that is refused changes nothing, and the story goes on.

    `draw` makes each photo of the story, a JPEG, from its words and its time.
    """
    return _Player(script, journal, make_id(), draw).play()


def play_until(
    script: Script, label: str, journal: Journal, make_id: Callable[[], str] = _new_id
) -> Rehearsal:
    """Play a story up to the step with that label, itself included. Raises KeyError where there is none."""
    return play(Script(script.story.until(label), script.sheet), journal, make_id)


class _Player:
    def __init__(self, script: Script, journal: Journal, teardown: str, draw: Draw) -> None:
        self._draw = draw
        self._story = script.story
        self._sheet = script.sheet
        self._clock = StoryClock(script.story.starts)
        self._service = TeardownService(journal, self._clock, teardown, script.story.people[0].name)
        self._store = PhotoStore(beside(journal.path))

    def play(self) -> Rehearsal:
        results = [self._start()]
        if not results[0].refused:
            results += [self._step(step) for step in self._story.steps]
        return Rehearsal(self._story, self._service.id, self._service.state, tuple(results))

    def _start(self) -> StepResult:
        story = self._story
        outcome = self._service.record(
            builders.start(self._sheet, story.machine, story.people, story.reason, story.found)
        )
        entries = (outcome.entry,) if outcome.entry else ()
        failures = tuple(f"it could not be started: {reason.words}" for reason in outcome.reasons)
        return self._result(None, entries, outcome.reasons, failures)

    def _step(self, step: Step) -> StepResult:
        self._service.who = step.who
        self._clock.passes(STEP_SECONDS if step.after is None else step.after)
        entries, reasons = self._do(step)
        result = self._result(step, entries, reasons, ())
        return self._result(step, entries, reasons, failures_of(step, result, self._service.state))

    def _do(self, step: Step) -> tuple[tuple[Entry, ...], tuple[Reason, ...]]:
        state = self._service.state
        if unknown := unknown_to(state, step):
            return (), (unknown,)
        if step.do in _ASKED:
            return (), _ASKED[step.do](state, step.closure)
        if step.do == "wait":
            return (), ()
        return self._act(step)

    def _act(self, step: Step) -> tuple[tuple[Entry, ...], tuple[Reason, ...]]:
        entries: list[Entry] = []
        for act in acts_of(self._service.state, step):
            if entries:
                self._clock.passes(COUNT_SECONDS)
            fact = act(self._service.state, self._service.head)
            if isinstance(fact, Reason):
                return tuple(entries), (fact,)
            outcome = self._record(fact)
            if outcome.entry is None:
                return tuple(entries), outcome.reasons
            entries.append(outcome.entry)
        return tuple(entries), ()

    def _record(self, fact: Fact) -> Outcome:
        """Do it, its photo taken and kept first. Nothing is photographed for what is refused anyway."""
        service = self._service
        if isinstance(fact, Photographed):
            return self._keep(fact.name, fact.about, fact.moment)
        place = place_of_photo(fact)
        if place is None:
            return service.record(fact)
        reasons = judge(service.state, fact, self._clock(), service.who)
        against = tuple(reason for reason in reasons if reason.code != NOT_KEPT)
        if against:
            return Outcome(None, against)
        words = fact.photo  # type: ignore[union-attr]  # an act with a place for its photo has one
        kept = self._keep(words, *place)
        if kept.entry is None:
            raise RuntimeError(f"the story's photo {words!r} could not be kept: {kept}")
        return service.record(replace(fact, photo=kept.entry.fact.photo))  # type: ignore[union-attr]

    def _keep(self, words: str, about: str, moment: str) -> Outcome:
        became = keep_photo(self._service, self._store, self._draw(words, self._clock()), about, moment, name=words)
        if not isinstance(became, Outcome):
            raise RuntimeError(f"the story's photo {words!r} could not be kept: {became}")
        return became

    def _result(
        self, step: Step | None, entries: tuple[Entry, ...], reasons: tuple[Reason, ...], failures: tuple[str, ...]
    ) -> StepResult:
        state, service = self._service.state, self._service
        words = say(state, [entry.fact for entry in entries])
        told = notes(state, step.closure) if step and _asks_of_closure(step, state, entries) else ()
        return StepResult(step, service.clock(), service.who, words, entries, reasons, tally(state), failures, told)


def _asks_of_closure(step: Step, state: Teardown, entries: tuple[Entry, ...]) -> bool:
    """Whether it was asked what stands against a closure, or that was the answer; what is signed says it itself."""
    return not entries and step.closure in state.closures and step.do in ("why not", "clear", "sign")


_ASKED: dict[str, Callable[[Teardown, str], tuple[Reason, ...]]] = {
    "why not lift": gate.why_not_lift,
    "why not": gate.why_not,
    "why not close": lambda state, _: gate.why_not_close(state),
}


# ---- what was expected


def failures_of(step: Step, result: StepResult, state: Teardown) -> tuple[str, ...]:
    """Everything about a step that is not as the story expected."""
    expected = step.expected
    return (
        *_outcome_failures(step, result),
        *(f"nothing says {text!r}" for text in expected.says if not _is_said(text, result)),
        *_figure_failures(expected.tally, result.tally._asdict(), "the tally of"),
        *_figure_failures(expected.stage, {c: s.stage for c, s in state.closure_states.items()}, "the closure"),
        *_figure_failures(expected.opening_state, {o: s.state for o, s in state.opening_states.items()}, "the opening"),
    )


def _outcome_failures(step: Step, result: StepResult) -> list[str]:
    codes = {reason.code for reason in result.reasons}
    wanted = step.expected.refused
    if not wanted:
        return [f"should have happened, but: {reason.words}" for reason in result.reasons]
    if not codes:
        return ["should have been refused, but it happened"]
    failures = [f"should have been refused with {code!r}, but was not" for code in wanted if code not in codes]
    if step.expected.only:
        failures += [f"was refused with {r.code!r} as well: {r.words}" for r in result.reasons if r.code not in wanted]
    return failures


def _is_said(text: str, result: StepResult) -> bool:
    said = [result.words, *result.notes, *(f"{reason.words} {reason.do_next}" for reason in result.reasons)]
    return any(text.casefold() in words.casefold() for words in said)


def _figure_failures(wanted: tuple[tuple[str, object], ...], found: dict[str, object], what: str) -> list[str]:
    return [
        f"{what} {key} should be {value}, but is {found.get(key)}" for key, value in wanted if found.get(key) != value
    ]
