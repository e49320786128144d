"""The sheet grows during the work: closures, spaces, openings, inner passages, lines and cautions, each by a form."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists import builders
from checklists.growing import faults_of_addition
from checklists.sheet import Sheet
from checklists.words import within
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import key_row
from mobileapp.screens.grow_forms import FORMS, GrowForm
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body

_DONE = "Go to the board"


class GrowScreen(BaseScreen):
    """What the sheet holds and what can be added; with `form`, one of the forms. `closure` is the one worked on."""

    def build(self, closure: str = "", form: str = "", **_: Any) -> None:
        """The list, or a form."""
        self.closure = closure if closure in self.desk.state.closures else ""
        self.form: GrowForm | None = None
        if form in FORMS and not self.desk.state.ended:
            self._form(form)
        else:
            self._list()

    def _list(self) -> None:
        sheet = self.desk.state.sheet
        self.title = "Add to the sheet"
        if self.desk.state.ended:
            self.add_widget(Plate(tone="bone", shape="gate", text=f"This teardown is {self.desk.state.ended}",
                                  note="Nothing more is added to its sheet."))  # fmt: skip
            self.act_text, self.act_shape = _DONE, "go"
            return
        self._offer(sheet)
        for name, form in FORMS.items():
            held = form.held(sheet)
            self.add_widget(
                key_row(f"Add {form.article} {form.noun}", partial(self._go, name), _note(held), form.shape)
            )

    def _offer(self, sheet: Sheet) -> None:
        """The addition that the work waits for."""
        if not sheet.closures:
            self.act_text, self.act_shape = "Add the first closure", "fitted"
            self.add_widget(
                Body(
                    text="First the closure that comes off: its fasteners and parts. "
                    "Then the openings under it, each with the space behind it."
                )
            )
            return
        bare = [c.id for c in sheet.closures if c.id not in {o.closure for o in sheet.openings}]
        self.closure = self.closure or next(iter(bare), "")
        if self.closure:
            self.act_text = f"Add an opening under the {within(self.desk.state.closures[self.closure].name)}"
            self.act_shape = "uncovered"
        else:
            self.act_text, self.act_shape = _DONE, "go"

    def _go(self, form: str) -> None:
        self.desk.go("grow", form=form, closure=self.closure)

    def _form(self, name: str) -> None:
        self.form = FORMS[name](self.desk, self.closure)
        self.title = f"Add {self.form.article} {self.form.noun}"
        for part in self.form.parts:
            self.add_widget(part)
        self.act_text, self.act_shape = f"Add this {self.form.noun}", self.form.shape
        self.other: Plate | None = None

    def on_act(self) -> None:
        """Open the form that is due; in a form, add what it says or show what is wrong beside its fields."""
        if self.act_text == _DONE:
            self.desk.to_board()
            return
        if self.form is None:
            self._go("opening" if self.desk.state.closures else "closure")
            return
        part = self.form.part()
        faults = {**faults_of_addition(self.desk.state.sheet, part), **self.form.own_faults()}
        self._say_faults(faults)
        if not faults and self.desk.record(builders.grow(part)):
            self.desk.back()

    def _say_faults(self, faults: dict[str, str]) -> None:
        assert self.form is not None
        first, left = self.form.say_faults(faults)
        if self.other is not None:
            self.body.remove_widget(self.other)
            self.other = None
        if left:
            self.other = Plate(tone="yellow", shape="look", text="\n".join(left), glyph_mm=6)
            self.add_widget(self.other)
        self.act_note = f"{len(faults)} to put right first" if faults else ""
        if first is not None:
            self.scroll.scroll_to(first, animate=False)


def _note(held: list[str]) -> str:
    if not held:
        return "none yet"
    return f"{len(held)} so far, the last: {held[-1]}"
