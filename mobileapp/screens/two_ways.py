"""One thing of the sheet that two phones wrote down unlike: both ways side by side, and which is right."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.facts import SheetSettled
from checklists.two_ways import KINDS, TwoWays, as_part, differences
from checklists.words import sentence
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices
from mobileapp.screens.stamps import when
from mobileapp.widgets.text import Body, Heading


class TwoWaysScreen(BaseScreen):
    """The first that is not settled; the next one comes when this is."""

    def build(self, **_: Any) -> None:
        """What differs, as each wrote it."""
        t = self.desk.state
        self.title = "Which is right?"
        if not t.two_ways:
            self.add_widget(Body(text="Nothing on the sheet stands in two ways."))
            return
        two = next(iter(t.two_ways.values()))
        name = getattr(two.ways[0].thing, "name", "") or getattr(two.ways[0].thing, "text", "")
        self.add_widget(Heading(text=f"{sentence(KINDS[two.what])}: {name}"))
        self.add_widget(Body(text="Two phones that had not met wrote it down unlike. Look at the machine and choose."))
        now = self.desk.clock()
        ways = [
            Choice(f"way {number}", _way(words), f"{way.mark.who}, {when(way.mark.at, now)}")
            for number, (way, words) in enumerate(zip(two.ways, differences(t, two), strict=True))
        ]
        self.choices = Choices(self.desk, f"{two.what} {two.id}", "", ways, self._ready)
        self.add_widget(self.choices)
        self.settle = partial(self._settle, two)
        self.act_text, self.act_shape, self.act_tone = "This is right", "go", "orange"
        self._ready()

    def _ready(self) -> None:
        self.act_ready = bool(self.choices.value)
        self.act_note = "" if self.act_ready else "choose one"

    def on_act(self) -> None:
        """Say which is right; the next one, or back."""
        if self.act_text and self.choices.value:
            self.settle(self.choices.value)

    def _settle(self, two: TwoWays, way: str) -> None:
        thing = two.ways[int(way.removeprefix("way "))].thing
        if self.desk.record(SheetSettled(two.what, as_part(thing))):
            self.desk.again() if self.desk.state.two_ways else self.desk.back()


def _way(words: tuple[tuple[str, str], ...]) -> str:
    return "\n".join(f"{sentence(label)}: {said}" for label, said in words)
