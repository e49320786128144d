"""The forms of the items screen: each asks the little that must be said, and makes the fact."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from checklists import builders, places
from checklists.facts import TO_BE_WEIGHED, Fact
from mobileapp.desk import Desk
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stepper
from mobileapp.screens.item_acts import hands, in_hand, opened, pieces, spots


class ItemForm:
    """What is asked, whether enough is said, what the key says, and the fact that follows."""

    title: ClassVar[str] = ""

    def __init__(self, desk: Desk, line: str, changed: Callable[[], None]) -> None:
        self.desk, self.line, self.changed = desk, line, changed
        self.name = desk.state.lines[line].name
        self.parts: list[Any] = []
        self.ask()

    def ask(self) -> None:
        """Make the parts."""

    def lacking(self) -> str:
        """What is still to be said; empty when nothing is."""
        return ""

    def says(self) -> str:
        """The words on the key."""
        return self.title

    def fact(self) -> Fact:
        """What is recorded."""
        raise NotImplementedError

    def _said(self, quantity: int) -> str:
        return self.desk.state.say(self.line, quantity)

    def _number(self, label: str, **limits: Any) -> Stepper:
        return Stepper(self.desk, "number", label, changed=self.changed, **limits)


class IntoForm(ItemForm):
    """Where in or over the open engine one is put, and from where, if it could be from several places."""

    title = "Into the engine"

    def ask(self) -> None:
        """The spots."""
        t = self.desk.state
        choices = [Choice(place, words) for place, words in spots(t)]
        self.spot = Choices(self.desk, "spot", "Where is it put?", choices, self.changed)
        self.parts = [self.spot]
        held = hands(t, self.line)
        self.desk.draft.setdefault("from", next(iter(held), ""))
        if len(held) > 1:
            known = [Choice(place, _cap(t.say_place(place)), f"{t.quantity(self.line, place)} there") for place in held]
            self.source = Choices(self.desk, "from", "Where is it taken from?", known, self.changed)
            self.parts = [self.source, self.spot]

    def lacking(self) -> str:
        """The spot."""
        return "" if self.spot.value else "where it is put"

    def says(self) -> str:
        """One into the engine."""
        return f"Count {self._said(1)} into the engine"

    def fact(self) -> Fact:
        """The movement."""
        return builders.move(self.line, 1, str(self.desk.draft["from"]), self.spot.value)


class BreakForm(ItemForm):
    """Into how many pieces one broke."""

    title = "It broke"

    def ask(self) -> None:
        """The number of pieces."""
        self.number = self._number("Into how many pieces, with those not found yet", least=2, most=99)
        self.parts = [self.number]

    def says(self) -> str:
        """The pieces."""
        return f"{self._said(1)} broke into {self.number.number} pieces"

    def fact(self) -> Fact:
        """The conversion."""
        return pieces(self.desk.state, self.line, self.number.number, TO_BE_WEIGHED)


class OpenForm(ItemForm):
    """What a pack holds."""

    title = "Open a pack"

    def ask(self) -> None:
        """What is inside, and how many."""
        self.what = FormField(self.desk, "what", "What is inside, one of it", self.changed, hint="Wipe")
        self.number = self._number("How many, counted singly", most=999)
        self.parts = [self.what, self.number]

    def lacking(self) -> str:
        """The name."""
        return "" if self.what.text else "what is inside"

    def says(self) -> str:
        """What comes onto the tally."""
        return f"Count {self.number.number} out of the pack"

    def fact(self) -> Fact:
        """The conversion."""
        return opened(self.desk.state, self.line, self.what.text, self.number.number)


class RenewForm(ItemForm):
    """How many are renewed, and why."""

    title = "Renew"

    def ask(self) -> None:
        """Number and reason."""
        self.place = in_hand(self.desk.state, self.line)
        self.number = self._number("How many", most=max(1, self.desk.state.quantity(self.line, self.place)))
        self.why = FormField(self.desk, "why", "Why", self.changed, hint="thread damaged")
        self.parts = [self.number, self.why]

    def lacking(self) -> str:
        """The reason."""
        return "" if self.why.text else "why"

    def says(self) -> str:
        """Old and new."""
        return f"Renew {self._said(self.number.number)}"

    def fact(self) -> Fact:
        """Both sides."""
        return builders.renew(self.line, self.number.number, self.place, self.why.text)


class AddForm(ItemForm):
    """More of a line comes onto the tally."""

    title = "Add more"

    def ask(self) -> None:
        """Number, place and reason."""
        t = self.desk.state
        home = t.lines[self.line].home
        offered = [places.STORES, places.BENCH]
        if places.family(home) == "fitted":
            lifted = t.closure_states[places.named(home)].was_lifted
            offered = [places.TRAY, places.BENCH, *([] if lifted else [home])]
        self.desk.draft.setdefault("place", offered[0])
        self.number = self._number("How many more")
        self.place = Choices(
            self.desk,
            "place",
            "Where are they now?",
            [Choice(p, _cap(t.say_place(p))) for p in offered],
            self.changed,
        )
        self.why = FormField(
            self.desk, "why", "Why (may be left empty)", self.changed, hint="fetched from the van"
        )
        self.parts = [self.number, self.place, self.why]

    def says(self) -> str:
        """How many more."""
        return f"Add {self._said(self.number.number)} to the tally"

    def fact(self) -> Fact:
        """The addition."""
        return builders.add(self.line, self.number.number, self.place.value, self.why.text)


def _cap(words: str) -> str:
    return words[:1].upper() + words[1:]


FORMS: dict[str, type[ItemForm]] = {
    "into": IntoForm, "break": BreakForm, "open": OpenForm, "renew": RenewForm, "add": AddForm,
}  # fmt: skip
