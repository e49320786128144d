"""Baseline photos: how everything looked before the first closure came off. Offered, never demanded."""

from __future__ import annotations

from typing import Any

from checklists.state import Teardown
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.text import Body

MOMENT = "baseline"


class BaselineScreen(BaseScreen):
    """One photo's place for the machine as a whole, and one for each opening."""

    def build(self, **_: Any) -> None:
        """The places, those that have a photo shown so."""
        t = self.desk.state
        self.title = "Baseline photos"
        words = "How it looks before anything comes off: what was dirty, chafed or missing already then shows later."
        self.add_widget(Body(text=words))
        known = {fact.about: sha for sha, (fact, _) in t.photos.items() if fact.moment == MOMENT}
        for about, label in places_of(t):
            if about in known:
                self.desk.draft.setdefault(about, known[about])
            self.add_widget(PhotoField(self.desk, about, label, about, MOMENT))
        self.act_text, self.act_shape = "On to the work", "go"

    def on_act(self) -> None:
        """Back to the board."""
        self.desk.to_board()


def places_of(t: Teardown) -> list[tuple[str, str]]:
    """What a baseline photo can belong to, and how it is called."""
    return [("teardown:", "The machine as it was found"),
            *((f"opening:{opening}", f"{known.name}, from outside") for opening, known in t.openings.items())]


def offered(t: Teardown) -> bool:
    """Whether it is still before the first lift."""
    return not t.ended and not any(state.was_lifted for state in t.closure_states.values())


def how_many_taken(t: Teardown) -> str:
    """How many there are: "2 taken, not demanded"."""
    taken = sum(fact.moment == MOMENT for fact, _ in t.photos.values())
    return f"{taken} taken, not demanded"
