"""A find that is one of ours: which missing item it is. That is then where the find lies, or in the tray."""

from __future__ import annotations

from typing import Any

from checklists import builders
from checklists.facts import FindMatched
from checklists.state import Teardown
from checklists.words import how_many, within
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, Stepper, facts
from mobileapp.screens.stamps import since_whom
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body


class MatchFindScreen(BaseScreen):
    """The find, everything that is missing, and what follows."""

    def build(self, find: str = "", **_: Any) -> None:
        """What it is, and which it could be."""
        t = self.desk.state
        self.find = find
        self.title = "Is it one of ours?"
        self.number: Stepper | None = None
        self.add_widget(Plate(tone="bone", shape="look", text=t.finds[find].logged.what, text_size_sp=look.HEADING))
        choices = [Choice(line, how_many(count, t.lines[line].name), self._since(line)) for line, count in lost(t)]
        if not choices:
            self.add_widget(Body(text="Nothing is missing: the find is not one of ours."))
        self.line = Choices(self.desk, "line", "Which missing item is it?", choices, self._chosen)
        self.add_widget(self.line)
        self.follows = facts("", [])
        self.add_widget(self.follows)
        self._ready()

    def _since(self, line: str) -> str:
        items, now = [item for item in self.desk.state.missing if item.line == line], self.desk.clock()
        return "; ".join(f"{item.cause} {since_whom(item.mark.at, item.mark.who, now)}" for item in items)

    def _chosen(self) -> None:
        self.desk.draft.pop("quantity", None)
        if self.number is not None:
            self.remove_part(self.number)
            self.number = None
        most = dict(lost(self.desk.state))[self.line.value]
        if most > 1:
            self.number = Stepper(self.desk, "quantity", "How many of them?", most=most, changed=self._ready)
            self.add_widget(self.number)
        self._ready()

    def remove_part(self, part: Any) -> None:
        """Take a part out of the body."""
        self.body.remove_widget(part)

    def _fact(self) -> FindMatched:
        number = self.number.number if self.number else 1
        return builders.match_find(self.desk.state, self.find, self.line.value, number)

    def _ready(self) -> None:
        chosen = self.line.value
        self.act_shape, self.act_tone = "back", "sky"
        self.act_ready = bool(chosen)
        if not chosen:
            self.act_text, self.act_note = "It is ours", "First: which one it is"
            return
        t, (moved,) = self.desk.state, self._fact().moves
        name = how_many(moved.quantity, t.lines[chosen].name)
        self.act_text, self.act_note = "It is ours", f"{name}, now {t.say_place(moved.target)}"

    def on_act(self) -> None:
        """Match it."""
        if self.line.value and self.desk.record(self._fact()):
            self.desk.back()


def lost(t: Teardown) -> list[tuple[str, int]]:
    """Each missing line with how many of it are missing."""
    found: dict[str, int] = {}
    for item in t.missing:
        found[item.line] = found.get(item.line, 0) + item.quantity
    return list(found.items())


def ours_words(t: Teardown, find: str) -> str:
    """Which of ours a find turned out to be; empty where it was not matched."""
    return ", ".join(within(how_many(quantity, t.lines[line].name)) for line, quantity in t.finds[find].ours)
