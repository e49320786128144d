"""What two phones both wrote onto the sheet, though it is there once: the double comes off the tally, with a reason."""

from __future__ import annotations

from typing import Any

from checklists import builders
from checklists.withdrawing import not_there, written
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, facts
from mobileapp.screens.stamps import when
from mobileapp.widgets.text import Body, Heading


class WithdrawScreen(BaseScreen):
    """`line` at `place`: who wrote it down, what was counted, and why it is one and the same."""

    def build(self, line: str = "", place: str = "", **_: Any) -> None:
        """Both entries side by side, then the reason."""
        t, now = self.desk.state, self.desk.clock()
        self.line, self.place = line, place
        self.title = "Written down twice?"
        if line not in t.lines or not (quantity := not_there(t, line, place)):
            self.add_widget(Body(text="Nothing is left to withdraw here."))
            return
        self.quantity = quantity
        self.add_widget(Heading(text=t.lines[line].name))
        both = [f"{one.entry.who} wrote down {one.quantity}, {when(one.entry.at, now)}" for one in written(t, line)]
        seen = t.discrepancies[line, place].seen
        tally = f"The tally has {t.quantity(line, place)} {t.say_place(place)}, and {seen} were counted there."
        self.add_widget(facts("On two phones that had not met", [*both, tally]))
        self.add_widget(Body(text="Withdraw only what is one and the same. What was lost is missing: log it so."))
        self.why = FormField(self.desk, "why", "Why is it the same?", self._ready, hint="one packet, two notes")
        self.add_widget(self.why)
        self.act_text, self.act_shape = f"Withdraw {t.say(line, quantity)}", "take back"
        self._ready()

    def _ready(self) -> None:
        self.act_ready, self.act_note = bool(self.why.text), "" if self.why.text else "first say why"

    def on_act(self) -> None:
        """Withdraw it, and back to the count, which then agrees."""
        if self.act_ready and self.desk.record(builders.withdraw(self.line, self.quantity, self.place, self.why.text)):
            self.desk.back()
