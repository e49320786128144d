"""A bookkeeping slip: which count was wrong, and why. It is taken back by a reversing movement that names it."""

from __future__ import annotations

from typing import Any

from checklists import builders
from checklists.facts import Entry
from checklists.slips import WHY, right_of, slip_words, slips
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, FormField
from mobileapp.widgets.text import Body, Heading

_OTHER = "in my own words"


class SlipScreen(BaseScreen):
    """The counts that could be wrong, newest first; one is chosen, with a reason, and nothing is erased."""

    def build(self, line: str = "", place: str = "", **_: Any) -> None:
        """The list, the reasons, and the key that takes the chosen one back."""
        state = self.desk.state
        self.line, self.place, self.title = line, place, "Bookkeeping slip"
        self.add_widget(Heading(text=f"{state.lines[line].name} {state.say_place(place)}"))
        self.wrong = {f"{entry.device}/{entry.seq}": entry for entry in slips(state, line, place)}
        if not self.wrong:
            self.add_widget(Body(text="No count there could be wrong by now."))
            self.act_text = "Go back"
            return
        counts = [Choice(key, *self._words(entry)) for key, entry in self.wrong.items()]
        self.which = Choices(self.desk, "which", "Which count was wrong? The newest comes first.", counts, self._ready)
        reasons = [*(Choice(why, why) for why in WHY), Choice(_OTHER, "Another reason", "typed below")]
        self.why = Choices(self.desk, "why", "Why was it wrong?", reasons, self._ready)
        self.own = FormField(self.desk, "own", "In your own words", self._ready)
        for part in (self.which, self.why, self.own):
            self.add_widget(part)
        self._ready()

    def _words(self, entry: Entry) -> tuple[str, str]:
        """What it moved; when and by whom, and what of it has to be counted anew once it is taken back."""
        what, note = slip_words(self.desk.state, entry)
        right = right_of(self.desk.state, entry, self.line, self.place)
        return what, f"{note}; then count {right} of it anew" if right else note

    def _reason(self) -> str:
        picked = "" if self.why.value == _OTHER else self.why.value
        return "; ".join(filter(None, (picked, self.own.text)))

    def _lacking(self) -> str:
        if not self.which.value:
            return "First: which count was wrong"
        return "" if self._reason() else "First: say why"

    def _ready(self) -> None:
        lacking = self._lacking()
        self.act_text, self.act_shape, self.act_tone = "Take that count back", "take back", "orange"
        self.act_ready, self.act_note = not lacking, lacking or "The wrong count stays on record, taken back"

    def on_act(self) -> None:
        """Take it back; where the items have moved on since, the refusal says so."""
        if not self.wrong or self._taken_back():
            self.desk.back()

    def _taken_back(self) -> bool:
        if self._lacking():
            return False
        return self.desk.record(builders.undo(self.wrong[self.which.value], self._reason()))
