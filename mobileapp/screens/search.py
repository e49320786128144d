"""One place searched for a missing item: how, what was seen, whether it was there. What is found is counted."""

from __future__ import annotations

from typing import Any

from checklists import builders, places
from checklists.judge_measured import METHODS
from checklists.searches import looked_for_too
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, FormField
from mobileapp.screens.missing import where_found_goes
from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.text import Words

_SAID = {"eye": "By eye", "mirror": "Mirror", "borescope": "Borescope", "magnet": "Magnet", "feel": "By feel",
         "sieve": "Oil or coolant sieved"}  # fmt: skip
NOT_THERE, FOUND, NOT_REACHED = "not there", "found", "not reached"


class SearchScreen(BaseScreen):
    """`line` is missing; `where` is a space of the sheet, or empty for a spot in words.

    `after` is what was just searched for there: a look for one is a look for the other that is missing as well.
    """

    def build(self, line: str, where: str = "", after: str = "", **_: Any) -> None:
        """The method, the result, what was seen, the photo; and where it is now, once it was found."""
        t = self.desk.state
        self.line, self.where = line, where
        self.title = f"Search: {t.spaces[where].name}" if where in t.spaces else "Search a spot"
        self.add_widget(Words(text=f"For {t.say(line, self._missing())}.", bold=True))
        if after in t.lines:
            words = f"It is missing as well, and you have just looked in here for {t.say(after, 1)}. Was it there?"
            self.add_widget(Words(text=words))
        self.spot = FormField(self.desk, "spot", "Where", self._ready, hint="bilge below the starter")
        if where not in t.spaces:
            self.add_widget(self.spot)
        results = [
            Choice(NOT_THERE, "It was not there"), Choice(FOUND, "It was there"),
            Choice(NOT_REACHED, "I could not look into it", "on record as not looked into"),
        ]  # fmt: skip
        self.result = Choices(self.desk, "result", "Result", results, self.desk.again)
        methods = [Choice(method, _SAID[method]) for method in METHODS]
        self.method = Choices(self.desk, "method", self._how(), methods, self._ready)
        hint = "bend in the way" if self.result.value == NOT_REACHED else "valve seat clean, nothing"
        label = "What was in the way" if self.result.value == NOT_REACHED else "What was seen"
        self.seen = FormField(self.desk, "seen", label, self._ready, hint=hint)
        self.add_widget(self.method)
        self.add_widget(self.result)
        self.to, self.number = where_found_goes(self.desk, line, self._missing(), self._ready)
        if self.result.value == FOUND:
            self.add_widget(self.to)
            if self._missing() > 1:
                self.add_widget(self.number)
        self.add_widget(self.seen)
        photo = PhotoField(self.desk, "photo", label="Photo (may be left out)", about=f"line:{line}", moment="search")
        self.add_widget(photo)
        self._ready()

    def _missing(self) -> int:
        """How many; one where none is any more, as on a screen that was come back to: recording it is refused."""
        return max(1, self.desk.state.quantity(self.line, places.MISSING))

    def _how(self) -> str:
        return "How it was tried" if self.desk.draft.get("result") == NOT_REACHED else "How it was searched"

    def _ready(self) -> None:
        where, seen = self.where or self.spot.text, self.seen.text
        what = "what was in the way" if self.result.value == NOT_REACHED else "what was seen"
        lacking = [words for given, words in ((where, "where"), (self.method.value, "how it was searched"),
                   (self.result.value, "the result"), (seen, what)) if not given]  # fmt: skip
        self.act_text, self.act_shape, self.act_tone = "Record this search", "look", "yellow"
        if self.result.value == FOUND:
            self.act_text, self.act_shape, self.act_tone = self._found_words(), "back", "sky"
        self.act_ready, self.act_note = not lacking, f"First: {lacking[0]}" if lacking else ""

    def _found_words(self) -> str:
        return f"Count {self.desk.state.say(self.line, self.number.number)} found"

    def on_act(self) -> None:
        """Record it, and in the same entry where it is now, if it was there."""
        draft, result = self.desk.draft, self.result.value
        fact = builders.search(
            self.desk.state, self.line, self.where or self.spot.text, self.method.value, self.seen.text,
            photo=str(draft.get("photo", "")), found=self.number.number if result == FOUND else 0, to=self.to.value,
            reached=result != NOT_REACHED,
        )  # fmt: skip
        if not self.desk.record(fact):
            return
        other = looked_for_too(self.desk.state, self.line, self.where, self.desk.who, self.desk.clock())
        if result == FOUND:
            self._to_what_is_missing()
        elif other:
            same = {"method": self.method.value, "result": result, "seen": self.seen.text}
            self.desk.instead("search", line=other, where=self.where, after=self.line, draft=same)
        else:
            self.desk.back()

    def _to_what_is_missing(self) -> None:
        while len(self.desk.trail) > 1 and self.desk.trail[-2][0] in ("missing", "whereabouts"):
            del self.desk.trail[-2]
        self.desk.instead("missing", line=self.line)
