"""One place searched for a missing item: how, what was seen, and whether it was there."""

from __future__ import annotations

from typing import Any

from checklists.facts_measured import Searched
from checklists.judge_measured import METHODS
from checklists.searches import is_missing
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, FormField
from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.text import Words

_SAID = {"eye": "By eye", "mirror": "Mirror", "borescope": "Borescope", "magnet": "Magnet", "feel": "By feel",
         "sieve": "Oil or coolant sieved"}  # fmt: skip
NOT_THERE, FOUND = "not there", "found"


class SearchScreen(BaseScreen):
    """`line` is missing; `where` is a space of the sheet, or empty for a spot in words."""

    def build(self, line: str, where: str = "", **_: Any) -> None:
        """The method, what was seen, the photo, the result."""
        t = self.desk.state
        self.line, self.where = line, where
        self.title = f"Search: {t.spaces[where].name}" if where in t.spaces else "Search a spot"
        self.add_widget(Words(text=f"For {t.say(line, max(1, t.quantity(line, 'missing')))}.", bold=True))
        self.spot = FormField(self.desk, "spot", "Where", self._ready, hint="bilge below the starter")
        if where not in t.spaces:
            self.add_widget(self.spot)
        self.seen = FormField(self.desk, "seen", "What was seen", self._ready, hint="valve seat clean, nothing")
        results = [Choice(NOT_THERE, "It was not there"), Choice(FOUND, "It was there")]
        self.result = Choices(self.desk, "result", "Result", results, self._ready)
        methods = [Choice(method, _SAID[method]) for method in METHODS]
        self.method = Choices(self.desk, "method", "How it was searched", methods, self._ready)
        photo = PhotoField(self.desk, "photo", label="Photo (may be left out)", about=f"line:{line}", moment="search")
        for part in (self.method, self.result, self.seen, photo):
            self.add_widget(part)
        self._ready()

    def _ready(self) -> None:
        where = self.where or self.spot.text
        lacking = [words for given, words in ((where, "where"), (self.method.value, "how it was searched"),
                   (self.result.value, "the result"), (self.seen.text, "what was seen")) if not given]  # fmt: skip
        self.act_text, self.act_shape, self.act_tone = "Record this search", "look", "yellow"
        self.act_ready, self.act_note = not lacking, f"First: {lacking[0]}" if lacking else ""

    def on_act(self) -> None:
        """Record it; what was found is then counted found, so that it is back on the tally."""
        found = self.result.value == FOUND
        where = self.where or self.spot.text
        photo = str(self.desk.draft.get("photo", ""))
        if not self.desk.record(Searched(self.line, where, self.method.value, found, self.seen.text, photo)):
            return
        if found and is_missing(self.desk.state, self.line):
            self.desk.instead("missing", line=self.line, form="found")
        else:
            self.desk.back()
