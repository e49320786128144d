"""The closeout look into one opening: what was seen, whether it is clear, a photo."""

from __future__ import annotations

from typing import Any

from checklists.exposure import COVERED, SEALED
from checklists.facts import Looked
from checklists.words import within
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.find import where_seen
from mobileapp.screens.form_parts import Choice, Choices, FormField
from mobileapp.screens.lead_on import lead_on
from mobileapp.screens.photo_field import PhotoField
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading, Small

#: Ready words, so that a glove need not type; the last is not clear. None of them is chosen for the person.
READY = (
    "Clean and dry, nothing inside",
    "A film of oil, nothing else inside",
    "Something is in there",
)


class LookScreen(BaseScreen):
    """Nothing is chosen beforehand. What is not clear leads on to logging it as a find."""

    def build(self, opening: str = "", **args: Any) -> None:
        """What is known, then what was seen, clear or not, and the photo."""
        state = self.desk.state
        self.opening = opening
        self.known = state.openings[opening]
        self.title = "Look inside"
        self.add_widget(Heading(text=self.known.name))
        self.add_widget(Small(text=state.spaces[self.known.space].harm))
        self._say_before()
        if state.opening_states[opening].state in (COVERED, SEALED):
            self._say_shut(state.opening_states[opening].state)
        else:
            self._ask()

    def _say_before(self) -> None:
        """What the last look said; a newer movement there makes it out of date."""
        state = self.desk.state
        if self.opening not in state.looks:
            return
        seen, mark = state.looks[self.opening]
        words = f"Last look at {when(mark.at, self.desk.clock())} by {mark.who}: {seen.seen}."
        moved = state.touched.get(self.known.space)
        if moved and moved.n > mark.n:
            words += f" Something moved there at {when(moved.at, self.desk.clock())}: look again."
        self.add_widget(Small(text=words))

    def _say_shut(self, how: str) -> None:
        if how == COVERED:
            self.add_widget(Plate(tone="yellow", shape="covered", text="Covered: nobody can look in"))
            self.act_text, self.act_shape = "Take the cover out and count it back", "uncovered"
        else:
            closure = within(self.desk.state.closures[self.known.closure].name)
            self.add_widget(Plate(tone="bone", shape="sealed", text=f"Sealed by the {closure}"))
            self.add_widget(Body(text=f"It can be looked into when the {closure} is off."))

    def _ask(self) -> None:
        ready = [Choice(words, words) for words in READY]
        self.said = Choices(self.desk, "ready", "What do you see?", ready, self._taken)
        self.words = FormField(self.desk, "seen", "In your own words", self._show_act)
        self.clear_or_not = Choices(self.desk, "clear", "Is it clear?", [
            Choice("clear", "Clear", "nothing in it that does not belong there"),
            Choice("not clear", "Not clear", "the next step logs what is in there"),
        ], self._show_act)
        self.photo = PhotoField(self.desk, "photo", "Photo of the inside", f"opening:{self.opening}", "closeout")
        for part in (self.said, self.words, self.photo, self.clear_or_not):
            self.add_widget(part)
        self._show_act()

    def _taken(self) -> None:
        """Ready words go into the field, where they can be changed; they say as well whether it is clear."""
        self.words.text = self.said.value
        self.clear_or_not.choose("not clear" if self.said.value == READY[2] else "clear")
        self._show_act()

    def _contrary(self) -> bool:
        """Something is in there, and yet it is called clear."""
        return self.clear_or_not.value == "clear" and READY[2].lower() in self.words.text.lower()

    def _show_act(self) -> None:
        due = [name for name, given in (("what you see", self.words.text), ("a photo", self.photo.path),
                                        ("clear or not", self.clear_or_not.value)) if not given]
        clear = self.clear_or_not.value != "not clear"
        self.act_text = f"Record: {self.clear_or_not.value or 'looked into'}"
        self.act_note = f"Still to say: {', '.join(due)}" if due else "" if clear else "Then log what is in there"
        self.act_ready = bool(self.words.text) and not self._contrary()
        if self._contrary():
            self.act_note = "Something is in there, so it is not clear"
        elif self.act_ready and due:
            self.act_text = "Say whether it is clear" if self.photo.path else "Photograph the inside"
        self.act_tone, self.act_shape = ("orange" if clear else "yellow"), "look"

    def on_act(self) -> None:
        """Record what was seen; first uncover what is covered; log what is in there."""
        if self.desk.state.opening_states[self.opening].state == COVERED:
            self.desk.go("openings", opening=self.opening)
            return
        clear = self.clear_or_not.value == "clear"
        if not self.photo.path:
            self.photo.dispatch("on_tap")
        elif not self.clear_or_not.value:
            self.scroll.scroll_to(self.clear_or_not)
        elif self.desk.record(Looked(self.opening, clear, self.words.text, self.photo.path)):
            if clear:
                lead_on(self.desk)
            else:
                self.desk.instead("find", form="log", draft={"where": where_seen(self.known), "photo": self.photo.path})

