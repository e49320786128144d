"""Count again what lies at one place, and compare. What differs is recounted, moved, logged as missing, or a find."""

from __future__ import annotations

from typing import Any

from checklists import builders, places
from checklists.slips import slips, written_anew
from checklists.withdrawing import not_there, written
from checklists.words import how_many, listing
from checklists.written_too_high import too_many
from mobileapp.screens.blind_pad import RESTARTED, BlindScreen
from mobileapp.screens.form_parts import key_row, remember
from mobileapp.screens.lead_on import lead_on, short_words, what_next
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading

_ELSEWHERE = (places.TRAY, places.BENCH, places.FLOOR, places.STORES, places.SCRAP, places.ENGINE)
_COUNTED_FROM = frozenset({*_ELSEWHERE, "on"})


class RecountScreen(BlindScreen):
    """Counts blind; the figure is recorded whether it agrees or not. Then the figures stand side by side."""

    def build(self, line: str = "", place: str = "", **args: Any) -> None:
        """The pad, or what came of the count that was just made."""
        self.line, self.place = line, place
        self.title = "Count again"
        if "seen" in self.desk.draft:
            self._show_result()
        else:
            self._start(interrupted=bool(self.desk.draft.get("begun")))

    def _start(self, interrupted: bool = False) -> None:
        state = self.desk.state
        words = f"{state.lines[self.line].name} {state.say_place(self.place)}"
        self.begin(f"{words}. {RESTARTED}" if interrupted else words)

    def what_follows(self) -> str:
        """The comparison."""
        return "Compare with the tally"

    def _finish(self) -> None:
        seen = self.seen
        if self.desk.record(builders.check(self.line, self.place, seen)):
            self.desk.draft.pop("begun", None)
            remember(self.desk, "seen", seen)
            self.refresh()
            self._show_result()

    # --- what came of it

    def _show_result(self) -> None:
        self.end()
        state, seen = self.desk.state, int(self.desk.draft["seen"])
        tally = state.quantity(self.line, self.place)
        name = state.lines[self.line].name
        self.title = "Count compared"
        self.add_widget(Heading(text=f"{name} {state.say_place(self.place)}"))
        self.add_widget(Body(text=f"Counted: {seen}\nThe tally: {tally}"))
        if seen == tally:
            self.add_widget(Plate(tone="sky", shape="chosen", text=f"Agrees: {seen} of {tally}"))
        else:
            more = "more than" if seen > tally else "fewer than"
            differs = f"Differs: {abs(seen - tally)} {more} the tally has"
            self.add_widget(Plate(tone="yellow", shape="refused", text=differs))
            self._offer_to_settle(seen, tally)
        self._show_act(agrees=seen == tally)

    def _show_act(self, agrees: bool) -> None:
        self.act = what_next(self.desk) if agrees else None
        self.act_text = short_words(self.act) if self.act else "Count again"
        self.act_note, self.act_tone, self.act_shape = "", "orange", "go"

    def _offer_to_settle(self, seen: int, tally: int) -> None:
        if seen < tally:
            self._offer_withdrawal()
            self._offer_moved_away()
            lost = how_many(tally - seen, self.desk.state.lines[self.line].name)
            self.add_widget(key_row(f"Log {lost} as missing", lambda: self._miss(tally - seen), shape="missing",
                                    note="Nobody knows where. The search comes next"))
            self._offer_slip()
            self._offer_too_high()
        else:
            self._offer_anew(seen - tally)
            self._offer_moved_here()
            self._offer_slip()
            self.add_widget(key_row("There is one more than the tally has anywhere", self._surplus, shape="look",
                                    note="Log it as a find: a surplus is a discrepancy too"))

    def _offer_withdrawal(self) -> None:
        state = self.desk.state
        if twice := not_there(state, self.line, self.place):
            by = listing([one.entry.who for one in written(state, self.line)])
            self.add_widget(key_row("It was written down twice", lambda: self.desk.go(
                "withdraw", line=self.line, place=self.place), shape="take back",
                note=f"on two phones, by {by}: withdraw {twice}"))  # fmt: skip

    def _offer_too_high(self) -> None:
        """Where it was never there, and cannot be inside."""
        double = not_there(self.desk.state, self.line, self.place)
        if not double and (never := too_many(self.desk.state, self.line, self.place)):
            self.add_widget(key_row("It was written down too high", lambda: self.desk.go(
                "too_high", line=self.line, place=self.place), shape="take back",
                note=f"{self.desk.state.say(self.line, never)} never there: take off the tally"))  # fmt: skip

    def _offer_moved_away(self) -> None:
        self.add_widget(Body(text="Do the others lie somewhere else? Count them there:"))
        for place in _ELSEWHERE:
            if place != self.place and not self._no_room(place):
                self._offer_pad(self.place, place)

    def _no_room(self, place: str) -> bool:
        """Fasteners and parts are not put away in stores; nothing lies in an engine that is shut."""
        state = self.desk.state
        if place == places.ENGINE:
            return not state.exposure.not_sealed()
        return place == places.STORES and places.family(builders.home_of(state, self.line)) == "fitted"

    def _offer_anew(self, more: int) -> None:
        """What was written down is taken back: as many as are here can be written down anew."""
        if written_anew(self.desk.state, self.line, self.place):
            words = f"Write down the {self.desk.state.say(self.line, more)} that are here"
            self.add_widget(key_row(words, lambda: self._write_anew(more), shape="more",
                                    note="What was written down of it was taken back"))

    def _write_anew(self, more: int) -> None:
        if self.desk.record(builders.add(self.line, more, self.place, "taken back, and written down anew as counted")):
            self.desk.again()

    def _offer_moved_here(self) -> None:
        state = self.desk.state
        from_here = [place for place, quantity in state.places_of(self.line).items()
                     if quantity > 0 and place != self.place and places.family(place) in _COUNTED_FROM]
        if from_here:
            self.add_widget(Body(text="Were they moved here without being counted? Count them over:"))
        for place in from_here:
            self._offer_pad(place, self.place)
        if state.quantity(self.line, places.MISSING):
            self.add_widget(key_row("It is one that was missing", lambda: self.desk.go("missing", line=self.line),
                                    shape="missing", note="Count it found, to where it lies"))

    def _offer_slip(self) -> None:
        """Where a movement of this line at this place could be wrong."""
        if slips(self.desk.state, self.line, self.place):
            self.add_widget(key_row("Bookkeeping slip", lambda: self.desk.go("slip", line=self.line, place=self.place),
                                    shape="take back", note="A count was tapped that was wrong: take it back"))

    def _offer_pad(self, source: str, target: str) -> None:
        say = self.desk.state.say_place
        words = f"They lie {say(target)}" if target != self.place else f"The tally has them {say(source)}"
        self.add_widget(key_row(words, lambda: self.desk.go(
            "count_pad", line=self.line, source=source, target=target), shape="go"))

    def _miss(self, quantity: int) -> None:
        lost = builders.miss(self.desk.state, self.line, quantity, self.place, "not there when counted again")
        if self.desk.record(lost):
            self.desk.instead("missing", line=self.line)

    def _surplus(self) -> None:
        self.desk.go("find", what=self.desk.state.lines[self.line].name)

    def on_act(self) -> None:
        """Compare; then on to the next act, or count once more."""
        if self.blind is not None:
            self._finish()
        elif self.act is None:
            self.desk.draft.clear()
            self._start()
        else:
            lead_on(self.desk, self.act)
