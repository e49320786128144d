"""Openings: one in hand with its clocks and what is done with it, the others below, each one tap away."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from checklists import builders, places
from checklists.clock_back import Uncovered, ran_back_at, told, uncovered
from checklists.exposure import COVERED, SEALED, UNCOVERED
from checklists.words import listing, within
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, Stack, key_row
from mobileapp.screens.lead_on import lead_on, short_words, what_next
from mobileapp.screens.stamps import since_whom, when
from mobileapp.widgets.row import StateRow
from mobileapp.widgets.running_time import CLOCK_BACK, running_time
from mobileapp.widgets.state_badge import StateBadge
from mobileapp.widgets.text import Body, Heading, Small


class OpeningsScreen(BaseScreen):
    """`opening` is the one in hand; without it, the first that stands uncovered. Its act is the large key."""

    every_second: ClassVar[bool] = True

    def build(self, opening: str = "", **args: Any) -> None:
        """The one in hand, then every other."""
        self.title = "Openings"
        self.rows: dict[str, StateRow] = {}
        self.do: Callable[[], None] = self.desk.to_board
        state = self.desk.state
        if not state.openings:
            self.add_widget(Body(text="This sheet has no openings yet. Add them from the board."))
            return
        self.opening = opening if opening in state.openings else self._first()
        self._show_all()

    def _first(self) -> str:
        """The first that stands uncovered, else covered, else any."""
        rank = {UNCOVERED: 0, COVERED: 1, SEALED: 2}
        states = self.desk.state.opening_states
        return min(states, key=lambda opening: rank[states[opening].state])

    def _show_all(self) -> None:
        self.clear_body()
        self._back = ran_back_at(self.desk.state.history)
        self._show_in_hand()
        others = [o for o in self.desk.state.openings if o != self.opening]
        if others:
            self.add_widget(Heading(text="Other openings"))
        self.rows = {opening: self._row(opening) for opening in others}
        for row in self.rows.values():
            self.add_widget(row)
        self.tick()

    def _row(self, opening: str) -> StateRow:
        known = self.desk.state.openings[opening]
        row = StateRow(text=known.name, state=self._state(opening), note=f"clear {known.clear}. {known.cover}")
        row.bind(on_tap=lambda _: self.desk.instead("openings", opening=opening))
        return row

    def _state(self, opening: str) -> str:
        return self.desk.state.opening_states[opening].state

    # --- the one in hand

    def _show_in_hand(self) -> None:
        state, known = self.desk.state, self.desk.state.openings[self.opening]
        how = state.opening_states[self.opening]
        self.badge = StateBadge(state=how.state, text_size_sp=look.HEADING, glyph_mm=9)
        self.in_all = Small()
        self.since = since_whom(how.since, how.who, self.desk.clock())
        size = Body(text=f"Clear size: {known.clear}\nCover: {known.cover}")
        self.add_widget(Stack(Heading(text=known.name), self.badge, self.in_all, size, gap_mm=2))
        {UNCOVERED: self._ask_cover, COVERED: self._ask_uncover, SEALED: self._say_sealed}[how.state]()

    def _act(self, text: str, do: Callable[[], None], note: str = "", shape: str = "go", tone: str = "orange") -> None:
        self.act_text, self.act_note, self.act_shape, self.act_tone, self.do = text, note, shape, tone, do

    def _acted(self) -> bool:
        """Something was just done with it: the large key leads on now, so that a second tap does nothing by mistake."""
        return bool(self.desk.draft.get("acted") == self.opening)

    def _lead_on(self) -> None:
        act = what_next(self.desk)
        self._act(short_words(act), lambda: lead_on(self.desk, act))

    def _ask_cover(self) -> None:
        """Covering is the act while the work goes on; looking inside is, once the machine is being closed."""
        closing = self.desk.state.work_done is not None
        if self._acted():
            self._lead_on()
        elif closing:
            self._act("Look inside and photograph it", self._look, self._looked(), "look")
        ready = builders.cover_lines(self.desk.state, self.opening)
        if not ready:
            self._say_no_cover(quiet=closing or self._acted())
        elif closing or self._acted():
            self._choose_cover(ready)
            self.add_widget(key_row("Cover it again" if closing else "Cover it", self._cover, shape="covered"))
        else:
            self._choose_cover(ready)
            one = self.desk.state.say(self.desk.draft["cover"], 1)
            self._act(f"Cover it with {one}", self._cover, shape="covered")
        if not closing or self._acted():
            self.add_widget(key_row("Look inside", self._look, self._looked(), "look"))

    def _say_no_cover(self, quiet: bool) -> None:
        self.add_widget(Body(text="No cover and no rag is put away.", ink=look.YELLOW))
        if quiet:
            self.add_widget(key_row("Bring a cover onto the tally", lambda: self.desk.go("items")))
        else:
            self._act("Bring a cover onto the tally", lambda: self.desk.go("items"), shape="more")

    def _choose_cover(self, ready: list[str]) -> None:
        state = self.desk.state
        if self.desk.draft.get("cover") not in ready:
            self.desk.draft["cover"] = ready[0]
        choices = [
            Choice(line, state.lines[line].name, f"{state.quantity(line, places.STORES)} put away") for line in ready
        ]
        self.add_widget(Choices(self.desk, "cover", "Cover it with", choices, self._cover_chosen))

    def _cover_chosen(self) -> None:
        if self.do == self._cover:
            self.act_text = f"Cover it with {self.desk.state.say(self.desk.draft['cover'], 1)}"

    def _ask_uncover(self) -> None:
        state, place = self.desk.state, places.cover_of(self.opening)
        inside = [state.say(line, q) for (line, p), q in state.balances.items() if p == place and q > 0]
        out, note = f"Take {listing(inside)} out", "counted back to where it is put away"
        self.add_widget(Body(text=f"In it: {listing(inside)}"))
        if self._acted():
            self._lead_on()
            self.add_widget(key_row(f"{out} again", self._put_away, note, "uncovered"))
        else:
            self._act(out, self._put_away, note, "uncovered", "sky")
        self.add_widget(key_row("It is torn or dirty", self._to_bench, "out of the opening, to the bench", "out"))

    def _say_sealed(self) -> None:
        closure = self.desk.state.openings[self.opening].closure
        self.add_widget(Body(text=f"Sealed by the {within(self.desk.state.closures[closure].name)}."))
        self._lead_on()

    def _look(self) -> None:
        self.desk.go("look", opening=self.opening)

    def _looked(self) -> str:
        """What the last look said."""
        if self.opening not in self.desk.state.looks:
            return "nobody has looked since it was opened"
        seen, mark = self.desk.state.looks[self.opening]
        return f"last at {when(mark.at, self.desk.clock())} by {mark.who}: {seen.seen}"

    # --- acts

    def _cover(self) -> None:
        line = self.desk.draft["cover"]
        if self.desk.record(builders.cover(self.desk.state, self.opening, line)):
            left = self.desk.state.quantity(line, places.STORES)
            self._done(f"{self.desk.state.say(line, 1)} in, {left} left")

    def _put_away(self) -> None:
        self._uncover(places.STORES, "out, counted back")

    def _to_bench(self) -> None:
        self._uncover(places.BENCH, "out, on the bench")

    def _uncover(self, to: str, words: str) -> None:
        if self.desk.record(builders.uncover(self.desk.state, self.opening, to)):
            self._done(words)

    def _done(self, words: str) -> None:
        self.desk.signals.counted(words)
        self.desk.draft["acted"] = self.opening
        self.desk.keep()
        self.refresh()
        self._show_all()

    def on_act(self) -> None:
        """The act of the opening in hand, or on to the next."""
        self.do()

    def tick(self) -> None:
        """The clocks run."""
        if not self.desk.state.openings:
            return
        now, states = self.desk.clock(), self.desk.state.opening_states
        self.badge.detail = self._running(self.opening, now)
        total = in_all(uncovered(self._back, states[self.opening], now))
        self.in_all.text = f"{total}; {self.since}" if self.since else total
        for opening, row in self.rows.items():
            row.detail = self._running(opening, now)

    def _running(self, opening: str, now: str) -> str:
        """How long it has stood uncovered this time; empty when it does not."""
        known = self.desk.state.opening_states[opening]
        if known.state != UNCOVERED:
            return ""
        this_time = told(self._back, known.spans[-1], known.since, now)
        return CLOCK_BACK if this_time is None else running_time(this_time)


def in_all(stood: Uncovered) -> str:
    """How long an opening stood uncovered so far, in words; no figure is claimed over a clock that was set back."""
    least = running_time(stood.least)
    if not stood.untold:
        return f"uncovered for {least} in all" if stood.least else "not uncovered so far"
    why = "the clock was set back"
    return f"uncovered for at least {least} in all: {why}" if stood.least >= 1 else f"how long cannot be told: {why}"

