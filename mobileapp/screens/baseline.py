"""Baseline photos: how everything looked before the first closure came off. One at least is demanded for that."""

from __future__ import annotations

from typing import Any

from checklists.baseline import MOMENT, WHOLE, in_time, taken
from checklists.state import Teardown
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.photo_field import PhotoField
from mobileapp.widgets.text import Body


class BaselineScreen(BaseScreen):
    """One photo's place for the machine as a whole, and one for each opening."""

    def build(self, **_: Any) -> None:
        """The places, those that have a photo shown so."""
        t = self.desk.state
        self.title = "Baseline photos"
        words = ("How it looks before anything comes off: what was dirty, chafed or missing already then shows later. "
                 "One at least, of the machine or of an opening.")
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
    return [(WHOLE, "The machine as it was found"),
            *((f"opening:{opening}", f"{known.name}, from outside") for opening, known in t.openings.items())]


def offered(t: Teardown) -> bool:
    """Whether it is still before the first lift."""
    return not t.ended and in_time(t)


def how_many_taken(t: Teardown) -> str:
    """How many there are: "2 taken"."""
    number = taken(t)
    return f"{number} taken" if number else "one is due"
