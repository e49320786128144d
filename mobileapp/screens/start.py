"""Starting a teardown: which sheet, which machine and people, and why. One short step a screen."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.judge import judge
from checklists.sheet import Sheet
from checklists.state import Teardown
from mobileapp import look, shelf
from mobileapp.journal.errors import JournalError
from mobileapp.screens import start_form
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.draft_field import DraftField
from mobileapp.screens.form_parts import Stack
from mobileapp.service import TeardownService, start_teardown
from mobileapp.widgets.plate import Plate, PlateButton
from mobileapp.widgets.row import ChoiceRow
from mobileapp.widgets.text import Small


class StartScreen(BaseScreen):
    """`step` 0 is the sheet, 1 machine and people, 2 why. The answers stay until the teardown is started."""

    def build(self, step: int = 0, **args: Any) -> None:
        """The questions of this step, each with what stands against its answer."""
        self.step = step
        self.answers = self._answers()
        self.title, questions = start_form.STEPS[step]
        self.add_widget(Small(text=f"Step {step + 1} of {len(start_form.STEPS)}"))
        faults = self.answers.get("faults", {})
        if step == 0:
            for plate in _said(faults.get("sheet", "")):
                self.add_widget(plate)
            self._add_sheets()
        for question in questions:
            self.add_widget(self._asked(question, faults.get(question.key, "")))
        self._offer()

    def _answers(self) -> dict[str, Any]:
        first = next(args for name, args in self.desk.trail if name == "start")
        typed = first.pop("draft", {})  # where an earlier version kept them
        return self.desk.unfinished.setdefault("start", typed)

    def _asked(self, question: start_form.Question, fault: str) -> Stack:
        """A question with what stands against its answer, until something is typed."""
        field, plates = self._field(question), _said(fault)
        stack = Stack(field, *plates, gap_mm=2)
        if plates:
            field.bind(text=lambda *_: self._answered(stack, plates, question.key))
        return stack

    def _answered(self, stack: Stack, plates: list[Plate], key: str) -> None:
        while plates:
            stack.remove_widget(plates.pop())
            self.answers.get("faults", {}).pop(key, None)
            self.desk.keep()

    def _field(self, question: start_form.Question) -> DraftField:
        return DraftField(self.desk, question.key, self.answers, label=question.label, hint=question.hint)

    def _add_sheets(self) -> None:
        for offer in start_form.offers(self.desk.journal.path.parent / "sheets"):
            if offer.report:
                row = PlateButton(text=offer.name, note=offer.note, shape="refused", tone="yellow")
                row.bind(on_tap=partial(self._show_report, offer.report))
            else:
                chosen = self.answers.get("sheet") == offer.key
                row = ChoiceRow(text=offer.name, note=offer.note, group="sheet", chosen=chosen)
                row.bind(on_tap=partial(self._choose, offer.key))
            self.add_widget(row)

    def _show_report(self, report: str, *_: object) -> None:
        self.desk.go("trouble", words=report, title="This sheet cannot be used",
                     note="Mend the file in the sheets folder, then come back here.")

    def _choose(self, key: str, *_: object) -> None:
        self.answers["sheet"] = key
        self.answers.pop("faults", None)
        self.desk.keep()
        self._offer()

    def _offer(self) -> None:
        """The act of this step: on to the next, or start."""
        if self.step + 1 < len(start_form.STEPS):
            self.act_text = "On to: " + start_form.STEPS[self.step + 1][0].lower()
            self.act_ready = bool(self.step or self.answers.get("sheet"))
            self.act_note = "" if self.act_ready else "First: choose a sheet"
        else:
            self.act_text, self.act_note = "Start the teardown", str(self.answers.get("machine", "")).strip()

    def on_act(self) -> None:
        """On to the next step once nothing stands against this one; from the last one, start."""
        sheet = self._sheet()
        if sheet is None:
            return
        fact = start_form.fact_of(self.answers, sheet)
        who = fact.people[0].name
        faults = start_form.faults_by_field(judge(Teardown(), fact, self.desk.clock(), who), self.answers)
        here = start_form.faults_of_step(faults, self.step)
        if here:
            self._show_faults(here)
        elif self.step + 1 < len(start_form.STEPS):
            self._show_faults({})
            self.desk.go("start", step=self.step + 1)
        else:
            self._start(fact, who)

    def _sheet(self) -> Sheet | None:
        try:
            return start_form.sheet_of(self.answers)
        except shelf.SheetFault as fault:
            self._show_report(str(fault))
            return None

    def _show_faults(self, faults: dict[str, str]) -> None:
        had = self.answers.get("faults", {})
        self.answers["faults"] = faults
        if faults or had:
            self.desk.again()

    def _start(self, fact: Any, who: str) -> None:
        try:
            begun = start_teardown(self.desk.journal, self.desk.clock, self.desk.make_id, fact, who)
        except JournalError as fault:
            self.desk.signals.refused()
            self.desk.go("trouble", words=str(fault))
            return
        if not isinstance(begun, TeardownService):
            self._go_to_faults(start_form.faults_by_field(begun.reasons, self.answers))
            return
        self.desk.unfinished.pop("start", None)
        self.desk.take(begun)
        self.desk.to_board()
        self.desk.go("cautions")

    def _go_to_faults(self, faults: dict[str, str]) -> None:
        """Back to the first step that something stands against."""
        self.answers["faults"] = faults
        step = next(s for s in range(len(start_form.STEPS)) if start_form.faults_of_step(faults, s))
        self.desk.trail = [place for place in self.desk.trail if place[0] != "start" or place[1].get("step", 0) <= step]
        self.desk.again()


def _said(words: str) -> list[Plate]:
    """What stands against an answer, as a plate beside it; nothing where nothing does."""
    return [Plate(tone="yellow", shape="look", text=words, glyph_mm=6, text_size_sp=look.BODY)] if words else []
