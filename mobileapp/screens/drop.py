"""Log a drop in two taps: what fell, and where it went. Then what to do now: stop, turn nothing, search.

Over a blind count the same two taps tell nothing of the tally: every line is offered, whatever is left of it, and it
came from where it most likely lay.
"""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists import builders, places
from checklists.facts import moves_of
from checklists.state import Teardown
from checklists.where_it_could_be import shut_since_seen
from checklists.words import listing, within
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import CHUNK, FormField, Stack, Stepper, key_row
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Heading, Words

#: So many openings are named in a note; the rest are counted.
_NAMED = 3


class DropScreen(BaseScreen):
    """`line` and `source` say what fell once it is chosen; `into` and `logged` say that it is on record."""

    def build(
        self, line: str = "", source: str = "", into: str = "", logged: int = 0, shown: int = CHUNK, **_: Any
    ) -> None:
        """What fell, then where, then what to do now."""
        self.drop_shown = False
        self.line, self.source, self.into = line, source, into
        self.blind = self.desk.counts_blind
        if line not in self.desk.state.lines:
            self._ask_what(shown)
        elif not logged:
            self._ask_where()
        else:
            self._say_what_now(logged)

    # --- what fell

    def _ask_what(self, shown: int) -> None:
        self.title = "What fell?"
        t = self.desk.state
        newest = last_moved(t)
        could = [(line, "", 0) for line in t.lines] if self.blind else what_could_fall(t)
        rows = sorted(could, key=lambda row: (self._not_in_hand(row), -newest.get(row[0], -1)))
        for line, source, quantity in rows[:shown]:
            note = "" if self.blind else f"{quantity} {t.say_place(source)}"
            self.add_widget(key_row(t.lines[line].name, partial(self._fell, line, source), note, "drop"))
        if len(rows) > shown:
            self.add_widget(
                key_row(f"{len(rows) - shown} more", partial(self.desk.instead, "drop", shown=shown + CHUNK))
            )
        if not rows:
            self.add_widget(Words(text="Nothing is on the tally yet."))

    def _not_in_hand(self, row: tuple[str, str, int]) -> int:
        """What was being counted when it fell comes first, from where it was being taken."""
        step = self.desk.trail[-2] if len(self.desk.trail) > 1 else ("", {})
        if step[0] != "count_pad" or step[1].get("line") != row[0]:
            return 2
        return int(step[1].get("draft", {}).get("source") != row[1])

    def _fell(self, line: str, source: str) -> None:
        self.desk.go("drop", line=line, source=source or builders.drop_source(self.desk.state, line))

    # --- where it went

    def _ask_where(self) -> None:
        t = self.desk.state
        self.title = f"Where did it go? {t.lines[self.line].name}"
        most = 1 if self.blind else max(1, t.quantity(self.line, self.source))
        self.number: Stepper | None = (
            Stepper(self.desk, "quantity", "How many fell", most=most) if most > 1 else None
        )
        if self.number is not None:
            self.add_widget(self.number)
        if self.blind:
            self.add_widget(Words(text="One of it. Of several, log each."))
        shut = shut_since_seen(t, self.line, self.source)
        said = "just now: it could be in what stands uncovered" if shut else "it counts as missing"
        self._row("Nobody saw where it went", partial(self._log, ""), said, "missing", "yellow")
        if shut:
            note = f"or into what is covered or closed by now: {_named([within(t.openings[o].name) for o in shut])}"
            self._row("It fell earlier, nobody saw where", partial(self._log, "", True), note, "missing", "yellow")
        spaces = open_spaces(t)
        for space in spaces:
            self._row(f"Into {within(t.spaces[space].name)}", partial(self._log, space), "seen to fall in", "engine")
        for space in covered_since(t, shut, spaces):
            note = "seen to fall in; covered since"
            self._row(f"Into {within(t.spaces[space].name)}", partial(self._log, space, True), note, "engine")
        self.near = FormField(self.desk, "near", "Near what (may be left empty)", hint="beside port 2")
        self.add_widget(self.near)

    def _row(self, *said: Any) -> None:
        self.add_widget(key_row(*said))

    def _log(self, into: str, earlier: bool = False) -> None:
        quantity = self.number.number if self.number is not None else 1
        fact = builders.drop(self.desk.state, self.line, quantity, self.near.text, self.source, into, earlier)
        if self.desk.record(fact):
            # Back from what comes next leads to the work, not to the questions that were answered.
            while len(self.desk.trail) > 1 and self.desk.trail[-2][0] == "drop":
                del self.desk.trail[-2]
            self.desk.instead("drop", line=self.line, source=self.source, into=into, logged=quantity)

    # --- what to do now

    def _say_what_now(self, quantity: int) -> None:
        t = self.desk.state
        self.title = "Drop logged"
        said = t.say(self.line, quantity)
        where = f"in {within(t.spaces[self.into].name)}" if self.into in t.spaces else "missing"
        self.add_widget(
            Plate(
                tone="yellow",
                shape="refused",
                text="Stop",
                note=f"{said}: {where}",
                glyph_mm=20,
                text_size_sp=look.FIGURE,
            )
        )
        self.add_widget(Heading(text="Do not turn anything. Do not close anything."))
        self.add_widget(Stack(*[Words(text=step) for step in self._steps()], gap_mm=2))
        if self.into:
            self.act_text = f"Take out {said} and count it"
            self.act_shape, self.act_tone = "engine", "yellow"
        else:
            self.act_text, self.act_shape, self.act_tone = f"Search for {said}", "missing", "yellow"
        if self.blind:
            self.act_note = "the count ends"
            self.add_widget(key_row("Back to the count", self.desk.back, "it starts from the beginning", "leave"))

    def _steps(self) -> list[str]:
        if self.into:
            return [
                "Leave everything as it lies, and light the space.",
                "Take it out with fingers, magnet or suction.",
                "Count it out of the space. Then look in again: the opening wants a new look.",
            ]
        return [
            "Stand still and listen: say aloud where you think it went.",
            "Cover every opening that stands uncovered.",
            "Search near the opening first, then tray, bench, clothes and floor.",
        ]

    def on_act(self) -> None:
        """To the search, or to taking it out."""
        if self.into:
            self.desk.instead("count_pad", line=self.line, source=places.inside(self.into), target="")
        else:
            self.desk.instead("missing", line=self.line)


def last_moved(t: Teardown) -> dict[str, int]:
    """Of each line the entry that moved it last: what was in hand a moment ago fell most likely."""
    return {move.line: number for number, entry in enumerate(t.history) for move in moves_of(entry.fact)
            if entry.fact.kind != "started"}


def what_could_fall(t: Teardown) -> list[tuple[str, str, int]]:
    """(line, place, quantity): what is out now first (tray, bench, engine), then what is at home."""
    out: list[tuple[str, str, int]] = []
    rest: list[tuple[str, str, int]] = []
    for line in t.lines:
        for place, quantity in t.places_of(line).items():
            family = places.family(place)
            if quantity > 0 and family in places.OUT_FAMILIES | places.ENGINE_FAMILIES:
                out.append((line, place, quantity))
            elif quantity > 0 and family in ("fitted", places.STORES):
                rest.append((line, place, quantity))
    order = (places.TRAY, places.BENCH)
    out.sort(
        key=lambda row: order.index(places.family(row[1])) if places.family(row[1]) in order else len(order)
    )
    return out + rest


def open_spaces(t: Teardown) -> list[str]:
    """The spaces right behind openings that stand uncovered now, in the sheet's order."""
    uncovered = t.exposure.uncovered(t.openings)
    return list(dict.fromkeys(t.openings[opening].space for opening in uncovered))


def covered_since(t: Teardown, shut: list[str], uncovered: list[str]) -> list[str]:
    """The further spaces behind openings that were covered meanwhile; into a sealed one nothing can be counted."""
    spaces = dict.fromkeys(t.openings[opening].space for opening in shut)
    reachable = t.exposure.not_sealed()
    return [space for space in spaces if space not in uncovered and space in reachable]


def _named(names: list[str]) -> str:
    """A few of many names; the rest are counted."""
    more = len(names) - _NAMED
    return listing([*names[:_NAMED], f"{more} more"] if more > 1 else names)
