"""A closure with its stage, its fasteners and its openings, as one plate to tap."""

from __future__ import annotations

from typing import Any

from kivy.properties import NumericProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from checklists import places
from checklists.clock_back import LEAST
from checklists.exposure import SEALED, UNCOVERED
from checklists.state import Teardown
from checklists.times import seconds_between
from checklists.words import how_many
from mobileapp import look
from mobileapp.screens.stamps import since_whom
from mobileapp.widgets.glyph import Glyph  # noqa: F401  (closure_card.kv uses it)
from mobileapp.widgets.plate import Faced, Plate
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.running_time import CLOCK_BACK, running_time
from mobileapp.widgets.state_badge import TONE_OF, StateBadge  # noqa: F401  (closure_card.kv uses StateBadge)
from mobileapp.widgets.tappable import Tappable
from mobileapp.widgets.text import Small


class OpeningLine(BoxLayout):
    """One opening: its shape, its name, how it stands, and how long it has stood uncovered."""

    text = StringProperty("")
    state = StringProperty(SEALED)
    seconds = NumericProperty(0)

    def wording(self, state: str, seconds: float) -> str:
        """The state, with the running clock while nothing covers it; of one that was set back it is said."""
        if state != UNCOVERED:
            return state
        return f"{state}, {CLOCK_BACK}" if seconds <= -LEAST else f"{state} for {running_time(seconds)}"


class ClosureCard(Tappable, Faced):
    """One closure of a teardown as it stands at `now`. `raised` False where it leads nowhere."""

    name = StringProperty("")
    stage = OptionProperty("fitted", options=list(TONE_OF))
    fasteners = StringProperty("")
    since = StringProperty("")

    def __init__(self, teardown: Teardown, closure: str, now: str, named: bool = True, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.closure = closure
        self.lines: dict[str, OpeningLine] = {}
        state = teardown.closure_states[closure]
        self.name, self.stage = teardown.closures[closure].name if named else "", state.stage
        self.fasteners = fasteners_home(teardown, closure)
        self.since = since_whom(state.since, state.who, now)
        if state.remark:
            self.add_widget(Plate(tone="yellow", shape="look", text=state.remark, glyph_mm=6, text_size_sp=look.BODY))
        self._add_openings(teardown)
        self.tick(teardown, now)

    def _add_openings(self, teardown: Teardown) -> None:
        openings = teardown.ways.openings_of[self.closure]
        unsealed = [o for o in openings if teardown.opening_states[o].state != SEALED]
        for opening in unsealed:
            line = OpeningLine(text=teardown.openings[opening].name, state=teardown.opening_states[opening].state)
            self.lines[opening] = line
            self.add_widget(line)
        if sealed := len(openings) - len(unsealed):
            self.add_widget(OpeningLine(text=how_many(sealed, "opening"), state=SEALED))
        if not openings:
            self.add_widget(Small(text="No openings named yet"))

    def tick(self, teardown: Teardown, now: str) -> None:
        """Let the clocks of what stands uncovered run on."""
        for opening, line in self.lines.items():
            known = teardown.opening_states[opening]
            line.seconds = seconds_between(known.since, now) if known.state == UNCOVERED else 0


def fasteners_home(teardown: Teardown, closure: str) -> str:
    """How many of the closure's fasteners are home: "7 of 10 fasteners home"."""
    home = places.fitted(closure)
    lines = [line for line in teardown.lines_of(closure) if teardown.lines[line].kind == "fastener"]
    due = sum(teardown.required[line] for line in lines)
    held = sum(teardown.quantity(line, home) for line in lines)
    return f"{held} of {how_many(due, 'fastener')} home" if due else "no fasteners named"


load_rules(__file__)
