"""Another line of the same closure, another place for this one, or fewer than there should be: from the count pad."""

from __future__ import annotations

from typing import Any

from checklists import places
from checklists.words import how_many
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.pad_figures import PadFigures, elsewhere, figures, may_be_short, others_due
from mobileapp.widgets.plate import PlateButton, QuietButton
from mobileapp.widgets.text import Body

_INSTEAD = {
    places.BENCH: "Lay it on the bench instead",
    places.TRAY: "Lay it in the tray instead",
    places.STORES: "Put it away instead",
}


class ChangeLineScreen(BaseScreen):
    """Every line of the closure that waits for the same count. Choosing one goes on counting there at once."""

    def build(self, line: str = "", source: str = "", target: str = "", **args: Any) -> None:
        """The other place, the other lines that are due, then the way to say that some are not here."""
        state = self.desk.state
        self.title = "Change the count"
        pad = figures(state, line, source, target, state.quantity(line, source))
        others = others_due(state, pad)
        place = elsewhere(state, pad)
        if place:
            self._offer_elsewhere(pad, place)
        for other in others:
            self._offer(other)
        if not others and not place:
            self.add_widget(Body(text="No other line of this closure waits to be counted here."))
        self._offer_less(line, source, pad.direction)

    def _offer(self, pad: PadFigures) -> None:
        line = self.desk.state.lines[pad.line]
        row = PlateButton(tone="orange" if pad.direction == "out" else "sky", shape=pad.direction, text=line.name,
                          note=f"{pad.counted} of {pad.total} {pad.verb}")
        row.bind(on_tap=lambda _: self._count_there(pad.line, pad.source, pad.target))
        self.add_widget(row)

    def _offer_elsewhere(self, pad: PadFigures, place: str) -> None:
        note = f"{self.desk.state.lines[pad.line].name} {self.desk.state.say_place(pad.source)}"
        row = PlateButton(tone="steel", shape="go", text=_INSTEAD[place], note=note)
        row.bind(on_tap=lambda _: self._count_there(pad.line, pad.source, place))
        self.add_widget(row)

    def _count_there(self, line: str, source: str, target: str) -> None:
        del self.desk.trail[-1]
        self.desk.instead("count_pad", line=line, source=source, target=target)

    def _offer_less(self, line: str, source: str, direction: str) -> None:
        state = self.desk.state
        short = direction == "out" and may_be_short(state, line)
        left = how_many(state.quantity(line, source), state.lines[line].name)
        key = QuietButton(
            shape="missing",
            text="Fewer here than there should be",
            note=f"The tally has {left} {state.say_place(source)}",
        )
        key.bind(on_tap=lambda _: self._less(line, source, short))
        self.add_widget(key)

    def _less(self, line: str, source: str, short: bool) -> None:
        if short:
            self.desk.instead("short", line=line)
        else:
            self.desk.instead("recount", line=line, place=source)
