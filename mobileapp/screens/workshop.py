"""The workshop: the tools that work something out, with a teardown in hand or without one."""

from __future__ import annotations

from functools import partial
from typing import Any

from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import key_row
from mobileapp.widgets.text import Small

#: Words, what it answers, shape, screen.
TOOLS = (
    ("Torque", "Does the maker's figure fit the thread?", "signed", "torque"),
    ("Tightening order", "Which bolt comes next, in which pass?", "fitted", "order"),
    ("Limits", "Is a measurement inside its limits?", "set down", "limits"),
    ("Pieces", "Do the pieces of a broken part add up?", "loosened", "pieces"),
    ("Count by weight", "How many are in the bag?", "out", "weigh"),
    ("Whereabouts", "Where could it have gone?", "missing", "whereabouts"),
    ("Near misses", "What fell or went missing, and how long it took", "drop", "near_misses"),
)


class WorkshopScreen(BaseScreen):
    """One key a tool."""

    def build(self, **_: Any) -> None:
        """Every tool with the question it answers."""
        self.title = "Workshop"
        if self.desk.service is None:
            self.add_widget(Small(text="No teardown in hand: these work things out, and nothing is recorded."))
        for text, note, shape, screen in TOOLS:
            self.add_widget(key_row(text, partial(self.desk.go, screen), note, shape))
