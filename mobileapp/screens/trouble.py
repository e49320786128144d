"""What went wrong outside the rules, in plain words, and what to do next."""

from __future__ import annotations

from typing import Any

from mobileapp.screens.base import BaseScreen
from mobileapp.widgets.frame import Frame
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Small

TITLE = "This could not be done"
_KEPT = "Nothing that was counted before is lost: a count is written down before it is shown."


class TroubleScreen(BaseScreen):
    """Says what the journal or a sheet says; the way back leads to where it was tried."""

    def build(self, words: str, title: str = TITLE, note: str = _KEPT, **args: Any) -> None:
        """The words as large as reading them takes."""
        self.title = title
        _say(self, words, note)
        self.act_text = "Go back and try again"
        self.act_shape, self.act_tone = "leave", "sky"

    def on_act(self) -> None:
        """Back to where it was tried."""
        self.desk.back()


def plain_trouble(words: str) -> Frame:
    """The same page where there is no journal, and so nothing to go back to."""
    frame = Frame(teardown=False, back_shown=False, title="The journal could not be opened")
    _say(frame, words, "Nothing was changed. Close Countback, put this right, and start it again.")
    return frame


def _say(frame: Frame, words: str, note: str) -> None:
    first, *rest = words.split("\n")
    frame.add_widget(Plate(tone="yellow", shape="refused", text=first))
    for line in rest:
        frame.add_widget(Body(text=line.strip()))
    if note:
        frame.add_widget(Small(text=note))
