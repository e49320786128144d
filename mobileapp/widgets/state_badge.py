"""How a closure or an opening stands: its word, its own shape and a colour."""

from __future__ import annotations

from kivy.properties import OptionProperty, StringProperty

from mobileapp.widgets.plate import Plate
from mobileapp.widgets.rules import load_rules

#: Which colour goes with which word. Never the only thing that tells two states apart.
TONE_OF = {
    "fitted": "bone",
    "loosened": "orange",
    "lifted": "orange",
    "cleared": "sky",
    "set down": "sky",
    "signed": "sky",
    "recalled": "yellow",
    "sealed": "bone",
    "uncovered": "yellow",
    "covered": "orange",
}


class StateBadge(Plate):
    """A small plate for one of the states in `TONE_OF`; `detail` adds a figure (4:07, 7 of 10)."""

    state = OptionProperty("fitted", options=list(TONE_OF))
    detail = StringProperty("")

    def tone_of(self, state: str) -> str:
        """The tone of a state."""
        return TONE_OF[state]


load_rules(__file__)
