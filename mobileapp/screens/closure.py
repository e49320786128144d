"""One closure: how it stands, and everything that can be done with it now."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.next_act import Act, next_act
from mobileapp.screens.act_look import look_of
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.closure_card import ClosureCard
from mobileapp.screens.closure_choices import choices
from mobileapp.screens.lead import way_to_act
from mobileapp.widgets.plate import QuietButton
from mobileapp.widgets.text import Body


class ClosureScreen(BaseScreen):
    """The next act is the large key where it concerns this closure."""

    every_second = True

    def build(self, closure: str, **args: Any) -> None:
        """Its card, then the choices."""
        t = self.desk.state
        self.title = t.closures[closure].name
        self.closure = closure
        self.drop_shown = not t.ended
        self.offered: Act | None = None
        self.card = ClosureCard(t, closure, self.desk.clock(), raised=False, disabled=True, named=False)
        self.add_widget(self.card)
        for choice in choices(t, closure):
            key = QuietButton(text=choice.text, note=choice.note, shape=choice.shape)
            key.bind(on_tap=partial(self._go, choice.screen, choice.args))
            self.add_widget(key)
        if t.ended:
            self.add_widget(Body(text=f"This teardown is {t.ended}: nothing more is done on it."))

    def _go(self, screen: str, args: dict[str, Any], *_: object) -> None:
        self.desk.go(screen, **args)

    def refresh(self) -> None:
        """The running tally, and the next act if it is one of this closure."""
        super().refresh()
        now = self.desk.clock()
        act = next_act(self.desk.state, now)
        if act.closure == self.closure or (act.opening and act.opening in self.card.lines):
            self.offered = act
            self.act_text, self.act_note, self.act_shape, self.act_tone, self.act_ready = look_of(
                act, self.desk.state, now)

    def tick(self) -> None:
        """The clocks of uncovered openings, and the time to wait."""
        self.card.tick(self.desk.state, self.desk.clock())
        if self.offered is not None and self.offered.do == "wait":
            self.refresh()

    def on_act(self) -> None:
        """To the screen where the next act is done."""
        if self.offered is not None:
            name, args = way_to_act(self.offered, self.desk.state)
            self.desk.go(name, **args)
