"""Ten written down where nine are: what was never there comes off the tally again, with a reason."""

from __future__ import annotations

from typing import Any

from checklists import places
from checklists.written_too_high import take_off, too_many, written_down
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, facts
from mobileapp.screens.photo_field import PhotoField
from mobileapp.screens.stamps import when
from mobileapp.widgets.text import Body, Heading

_NO_HOLE = (
    "Only where there is no hole for it. With an empty hole it is short at the start: it may have fallen in long ago."
)
_NOT_INSIDE = (
    "Nothing has stood open yet, so it cannot be inside. Was it there and is gone? Then go back, and log it as missing."
)


class TooHighScreen(BaseScreen):
    """`line` at `place`: who wrote it down, what was counted there, and why it was written down too high."""

    photo: PhotoField | None = None

    def build(self, line: str = "", place: str = "", **_: Any) -> None:
        """What was written and what is there; a photo where a hole could be empty; the reason."""
        t, now = self.desk.state, self.desk.clock()
        self.line, self.place = line, place
        self.title = "Written down too high?"
        if line not in t.lines or not (quantity := too_many(t, line, place)):
            self.add_widget(Body(text="Nothing is left to take off here."))
            return
        self.add_widget(Heading(text=t.lines[line].name))
        wrote = [f"{entry.who} wrote it down, {when(entry.at, now)}" for entry in written_down(t, line)]
        seen = t.discrepancies[line, place].seen
        tally = f"The tally has {t.quantity(line, place)} {t.say_place(place)}, and {seen} were counted there."
        self.add_widget(facts("", [*wrote, tally]))
        fitted = places.family(place) == "fitted"
        self.add_widget(Body(text=_NO_HOLE if fitted else _NOT_INSIDE))
        if fitted:
            self.photo = PhotoField(self.desk, "photo", "Photo: every hole is filled", f"line:{line}", "other")
            self.add_widget(self.photo)
        self.why = FormField(self.desk, "why", "How did it come to be?", self._ready, hint="the sheet has too many")
        self.add_widget(self.why)
        self.act_text, self.act_shape = f"Take {t.say(line, quantity)} off the tally", "take back"
        self._ready()

    def _ready(self) -> None:
        shown = self.photo is None or self.photo.path
        lacking = "First: the photo" if not shown else "" if self.why.text else "First: say how"
        self.act_ready, self.act_note = not lacking, lacking

    def on_act(self) -> None:
        """Take it off, and back to the count, which then agrees."""
        photo = self.photo.path if self.photo else ""
        fact = take_off(self.desk.state, self.line, self.place, self.why.text if self.act_ready else "", photo)
        if self.act_ready and self.desk.record(fact):
            self.desk.back()
