"""Short at the start: fewer are fitted than belong there. The rest may already be inside, so a photo goes with it."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists import builders
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Stepper, key_row
from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.text import Body, Heading


class ShortScreen(BaseScreen):
    """How many are not there, and a photo of the empty holes."""

    def build(self, line: str = "", **args: Any) -> None:
        """The figure, the photo, and what follows from it."""
        state = self.desk.state
        self.line, self.name_of = line, state.lines[line].name
        home = builders.home_of(state, line)
        there = state.quantity(line, home)
        self.title = "Fewer than should be"
        self.add_widget(Heading(text=f"{self.name_of}: {state.required.get(line, there)} belong here"))
        self.add_widget(Body(text=f"The tally has {there} {state.say_place(home)}."))
        self.number = Stepper(self.desk, "quantity", "How many are not there?", most=max(1, there), changed=self._show)
        self.photo = PhotoField(self.desk, "photo", "Photo of the empty hole", f"line:{line}", "empty hole")
        self.add_widget(self.number)
        self.add_widget(self.photo)
        warning = "It counts as missing until it is found: it may have fallen in long ago."
        self.add_widget(Body(text=warning, ink=look.YELLOW))
        anew = partial(self.desk.go, "recount", line=line, place=home)
        self.add_widget(key_row("There is no hole for it", anew, "The sheet has too many: count those that are fitted"))
        self._show()

    def _show(self) -> None:
        self.act_text = f"Record {self.number.number} short at the start"
        self.act_ready = bool(self.photo.path)
        self.act_note = "" if self.act_ready else "A photo of the empty hole is needed"
        self.act_tone, self.act_shape = "yellow", "missing"

    def on_act(self) -> None:
        """Record it; then the pad counts what is there."""
        if self.desk.record(builders.short_at_start(self.desk.state, self.line, self.number.number, self.photo.path)):
            self.desk.back()
