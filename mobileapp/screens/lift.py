"""The lift check: every condition in sight, met or not, a photo, and then the closure comes up."""

from __future__ import annotations

from typing import Any

from checklists.facts import Lifted
from checklists.words import within
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Stack
from mobileapp.screens.lead import way_to_mend
from mobileapp.screens.lead_on import lead_on
from mobileapp.screens.lift_conditions import Condition, conditions, what_can_hurt
from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.plate import Plate, PlateButton
from mobileapp.widgets.text import Body, Heading


class LiftScreen(BaseScreen):
    """What is not met leads to where it is put right. The key that lifts waits for all of it and the photo."""

    def build(self, closure: str = "", **args: Any) -> None:
        """The conditions, the photo, and the cautions of what can hurt now."""
        state = self.desk.state
        self.closure, self.closure_name = closure, state.closures[closure].name
        self.title = "Lift check"
        self.add_widget(Heading(text=self.closure_name))
        self.conditions = conditions(state, closure)
        self.photo = PhotoField(self.desk, "photo", "Photo: nothing loose on it", f"closure:{closure}", "lift check")
        unmet = [self._unmet(condition) for condition in self.conditions if not condition.met]
        met = Stack(*[self._met(condition) for condition in self.conditions if condition.met], gap_mm=1.5)
        warning = self._warning(what_can_hurt(state))
        # The cautions were acknowledged already: what is still to be done stands above them.
        for part in [*unmet, met, self.photo, *warning] if unmet else [self.photo, met, *warning]:
            self.add_widget(part)
        self._show_act()

    def _met(self, condition: Condition) -> Plate:
        return Plate(tone="steel", shape="chosen", text=condition.words, note="met", text_size_sp=look.BODY)

    def _unmet(self, condition: Condition) -> PlateButton:
        reason = condition.reason
        assert reason is not None
        key = PlateButton(tone="yellow", shape="refused", text=condition.words, note=f"not met: {reason.do_next}",
                          text_size_sp=look.BODY)
        name, args = way_to_mend(reason, self.desk.state)
        key.bind(on_tap=lambda _: self.desk.go(name, **args))
        return key

    def _warning(self, cautions: list[str]) -> list[Stack]:
        texts = [Body(text=text, ink=look.YELLOW) for text in cautions]
        return [Stack(Heading(text="Before it comes up"), *texts, gap_mm=3)] if texts else []

    def _show_act(self) -> None:
        unmet = sum(1 for condition in self.conditions if not condition.met)
        self.act_text = f"Lift the {within(self.closure_name)}"
        self.act_ready = not unmet
        self.act_shape, self.act_tone = "lifted", "orange"
        self.act_note = f"{unmet} of {len(self.conditions)} conditions not met" if unmet else ""
        if not unmet and not self.photo.path:
            self.act_text, self.act_note, self.act_shape = "Photograph it", "A photo is needed first", "look"

    def on_act(self) -> None:
        """First its photo. Then it comes up: its openings are uncovered from now on, and are covered next."""
        if not self.photo.path:
            self.photo.dispatch("on_tap")
        elif self.desk.record(Lifted(self.closure, self.photo.path)):
            lead_on(self.desk)
