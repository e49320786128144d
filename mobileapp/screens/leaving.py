"""Leaving the machine: covers on, the tally read, and on record that it stands secured."""

from __future__ import annotations

from typing import Any

from checklists import builders
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, facts
from mobileapp.screens.stamps import since_whom
from mobileapp.screens.standing import away_words, covers_first, first_to_cover, tally_words
from mobileapp.widgets.text import Small


class LeavingScreen(BaseScreen):
    """Nothing may stay uncovered while nobody is there."""

    def build(self, **_: Any) -> None:
        """What is to be covered, the tally, and a note."""
        t = self.desk.state
        self.title = "Leave the machine"
        if t.secured:
            left = since_whom(t.secured.at, t.secured.who, self.desk.clock())
            self.add_widget(Small(text=f"Last left secured {left}"))
        self.add_widget(covers_first(self.desk))
        self.add_widget(facts(tally_words(t), away_words(t) or ["Everything is at home."]))
        self.note = FormField(self.desk, "note", "Note (may be left empty)", hint="back tomorrow at seven")
        self.add_widget(self.note)
        lacking = first_to_cover(t)
        self.act_text, self.act_shape, self.act_tone = "Covers on, tally read", "covered", "sky"
        self.act_ready, self.act_note = not lacking, lacking

    def on_act(self) -> None:
        """Record that the machine is left secured."""
        if self.desk.record(builders.secure(self.desk.state, self.note.text)):
            self.desk.to_board()
