"""Cautions, one at a time: read, then acknowledged by name. The board comes after the last."""

from __future__ import annotations

from typing import Any

from checklists.facts import Acknowledged
from checklists.sheet import Caution
from checklists.times import seconds_between
from checklists.words import out_of
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading, Small

GENERAL = ("The maker's manual, the local rules and licensed practice come first. Countback only counts: "
           "a correct count is not proof of an empty engine.")

#: Nobody reads a caution faster: a tap so soon, in seconds, still belongs to the one before.
_LEAST_SECONDS = 0.4


class CautionsScreen(BaseScreen):
    """The first caution not yet acknowledged, in big letters, with a key of its own."""

    def build(self, **args: Any) -> None:
        """Which one is due, and below it those that are done."""
        self.title = "Cautions"
        self._since = self.desk.clock()
        cautions = self.desk.state.sheet.cautions
        due = next((c for c in cautions if c.id not in self.desk.state.acknowledged), None)
        self.due = due
        if due is not None:
            self._ask(due, cautions.index(due) + 1, len(cautions))
        else:
            self._all_read(len(cautions))
        self._list_done(cautions)

    def _ask(self, caution: Caution, number: int, of: int) -> None:
        self.add_widget(Small(text=f"Caution {number} of {of}"))
        self.add_widget(Heading(text=caution.text, ink=look.YELLOW))
        if number == 1:
            self.add_widget(Small(text=GENERAL))
        self.act_text = "Read and acknowledged"
        self.act_note = f"by {self.desk.who}"
        self.act_shape, self.act_tone = "chosen", "yellow"

    def _all_read(self, of: int) -> None:
        done = f"{out_of(of, of, 'caution')} acknowledged" if of else "This sheet names no cautions of its own"
        self.add_widget(Plate(tone="sky", shape="gate" if of else "look", text=done))
        self.add_widget(Heading(text=GENERAL, ink=look.YELLOW))
        self.act_text = "Go to the board" if of else "Read. Go to the board"
        self.act_shape, self.act_tone = "go", "orange"

    def _list_done(self, cautions: tuple[Caution, ...]) -> None:
        now = self.desk.clock()
        for caution in cautions:
            mark = self.desk.state.acknowledged.get(caution.id)
            if mark:
                self.add_widget(Body(text=f"Acknowledged at {when(mark.at, now)} by {mark.who}:"))
                self.add_widget(Small(text=caution.text))

    def on_act(self) -> None:
        """Acknowledge the one shown; after the last one, on to the board."""
        if self.due is None:
            self.desk.to_board()
        elif 0 <= seconds_between(self._since, self.desk.clock()) < _LEAST_SECONDS:
            return
        elif self.desk.record(Acknowledged(self.due.id)):
            if all(c.id in self.desk.state.acknowledged for c in self.desk.state.sheet.cautions):
                self.desk.to_board()
            else:
                self.desk.again()
