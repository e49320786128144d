"""The people on the job: who holds the phone, who comes, who goes; and, far down, the ending that is no closure."""

from __future__ import annotations

from functools import partial
from typing import Any

from kivy.metrics import mm
from kivy.uix.widget import Widget

from checklists.facts import Joined, Left, Person
from checklists.judge import judge
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, key_row
from mobileapp.widgets.plate import QuietButton
from mobileapp.widgets.row import ChoiceRow
from mobileapp.widgets.text import Body, Heading

_RELEASE = ("What is never found ends a teardown as released, not clear. That is not a closure, "
            "and it stays on record for good.")


class PeopleScreen(BaseScreen):
    """Tap a name when the phone changes hands: what is counted from then on is that person's."""

    def build(self, **args: Any) -> None:
        """Who holds the phone, who comes, who goes, and the other ending."""
        self.title = "People"
        self.drop_shown = not self.desk.state.ended
        people = self.desk.state.people
        self._add_holders(people)
        if self.desk.state.ended:
            return
        self.add_widget(key_row("Hand the job over", partial(self.desk.go, "handover"),
                                "the other counts blind, signs and takes it"))
        self.add_widget(key_row("Leave the machine", partial(self.desk.go, "leaving"),
                                "covers on, tally read", "leave"))
        self._add_newcomer()
        if len(people) > 1:
            self._add_leavers(people)
        self._add_release()

    def _add_holders(self, people: list[Person]) -> None:
        self.add_widget(Heading(text="Who holds the phone now?"))
        for person in people:
            holds = person.name == self.desk.who
            row = ChoiceRow(text=person.name, note=_role(person, holds), group="holder", chosen=holds)
            row.bind(on_tap=partial(self._hand_to, person.name))
            self.add_widget(row)

    def _add_newcomer(self) -> None:
        self.add_widget(Heading(text="Somebody comes to the job"))
        self.name_field = FormField(self.desk, "name", label="Name", hint="Jonas Wieland")
        self.role_field = FormField(self.desk, "role", label="Role", hint="fitter, second counter")
        self.add_widget(self.name_field)
        self.add_widget(self.role_field)
        self.add_widget(QuietButton(text="Add to the job", shape="chosen", on_tap=lambda _: self._join()))

    def _add_leavers(self, people: list[Person]) -> None:
        self.add_widget(Heading(text="Somebody goes off the job"))
        for person in people:
            key = QuietButton(text=f"{person.name} goes", note="no longer there for a second count", shape="leave")
            key.bind(on_tap=partial(self._leave_job, person.name))
            self.add_widget(key)

    def _add_release(self) -> None:
        self.add_widget(Widget(size_hint_y=None, height=mm(2 * look.APART_MM)))
        self.add_widget(Heading(text="Ending without closing"))
        self.add_widget(Body(text=_RELEASE))
        key = QuietButton(text="Release, not clear", shape="refused")
        key.bind(on_tap=lambda _: self.desk.go("sign_off", what="release"))
        self.add_widget(key)

    def _hand_to(self, name: str, *_: object) -> None:
        if name != self.desk.who:
            self.desk.hand_to(name)
            self.desk.again()

    def _join(self) -> None:
        fact = Joined(Person(self.name_field.text, self.role_field.text))
        reasons = judge(self.desk.state, fact, self.desk.clock(), self.desk.who)
        if reasons:
            self.name_field.say_fault(" ".join(f"{reason.words} {reason.do_next}" for reason in reasons))
        elif self.desk.record(fact):
            self.desk.draft.clear()
            self.desk.again()

    def _leave_job(self, name: str, *_: object) -> None:
        if not self.desk.record(Left(name)):
            return
        if self.desk.who == name:
            self.desk.hand_to(self.desk.state.people[0].name)
        self.desk.again()


def _role(person: Person, holds: bool) -> str:
    return ", ".join(word for word in (person.role, "holds the phone" if holds else "") if word)
