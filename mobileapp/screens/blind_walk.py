"""A blind count that walks from place to place in the fixed order; whole, or it starts its place again.

At each place the counter touches what lies there and counts it, then says "that is all here": the app infers nothing.
Every line of the teardown is offered at every place, so that nothing offered tells what to expect; and something that
is on no list can be noted there, to be logged once the counts are compared.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial
from typing import Any

from checklists.blind_walk import Stop
from checklists.facts import FindLogged, Grown, Seen
from checklists.misplaced import Misplaced, misplaced
from checklists.times import seconds_between
from checklists.words import it_or_them, sentence, within
from mobileapp import blindness
from mobileapp.screens.blind_pad import BlindScreen
from mobileapp.screens.count_order import lines_at
from mobileapp.screens.form_parts import CHUNK, Stack, key_row
from mobileapp.screens.lead import way_to_move
from mobileapp.widgets.plate import Plate, QuietButton
from mobileapp.widgets.row import ChoiceRow, ReasonRow
from mobileapp.widgets.text import Body, Heading

#: A key tapped so soon, in seconds, is the second tap of the one that led here: it is not taken for "nothing here".
_TOO_SOON_SECONDS = 1.0
_ON_NO_LIST = "Something that is on no list"
_NOT_YET, _NOTED = "Touch here to note it", "Noted. Leave it as it lies: after the count it is logged"


class BlindWalk(BlindScreen):
    """A screen that walks through `stops` blind. In its draft: at which stop and spot of it, what was seen so far."""

    #: What follows the last place.
    after_the_last = "the last: compare"
    _line = ""
    _listed, _shown = ("", 0), CHUNK
    _first: tuple[str, str, dict[str, Any]] = ("", "board", {})

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        #: The rows of the place that is shown, by line and spot: they stay as they are while its pad is up.
        self._rows: dict[tuple[str, str], ChoiceRow] = {}
        super().__init__(*args, **kwargs)

    def stops(self) -> tuple[Stop, ...]:
        """The places, in the order of the walk."""
        raise NotImplementedError

    def likely(self) -> Collection[str]:
        """The lines that are offered first."""
        raise NotImplementedError

    def all_counted(self, seen: list[Seen]) -> None:
        """The walk is at its end: what was seen, wherever it lay."""
        raise NotImplementedError

    def begin_walk(self, said: str = "") -> None:
        """Start at the first place."""
        self.desk.draft.update(step="count", stop=0, spot="", seen=[], said=said, upto=len(self.desk.state.history),
                               unlisted=[])  # fmt: skip
        self.desk.draft.pop("begun", None)
        self.desk.keep()
        self._show_stop()

    def take_up_walk(self) -> None:
        """Go on where it stands: at the beginning of a place that was interrupted, or of all if something moved."""
        draft = self.desk.draft
        if not self.still_whole():
            self.begin_walk("Something was recorded meanwhile: the count starts from the beginning.")
            return
        before = [row for row in draft["seen"] if row[1] not in self._stop.spots] if not self._done else draft["seen"]
        if len(before) < len(draft["seen"]) or draft.get("begun"):
            draft["said"] = f"The count was interrupted: {self._stop.name} is counted again from the beginning."
        noted = [spot for spot in draft.get("unlisted", []) if self._done or spot not in self._stop.spots]
        draft.update(seen=before, spot="", unlisted=noted)
        draft.pop("begun", None)
        self.desk.keep()
        self._show_stop()

    def still_whole(self) -> bool:
        """Whether nothing was recorded since the walk began."""
        return bool(self.desk.draft["upto"] == len(self.desk.state.history))

    @property
    def seen_so_far(self) -> list[Seen]:
        """What was seen at the places walked so far."""
        return [Seen(*row) for row in self.desk.draft["seen"]]

    @property
    def _done(self) -> bool:
        return int(self.desk.draft["stop"]) >= len(self.stops())

    @property
    def _stop(self) -> Stop:
        return self.stops()[self.desk.draft["stop"]]

    # --- a place, and its spots where it has several

    def _show_stop(self) -> None:
        if self._done:
            self.all_counted(self.seen_so_far)
        elif len(self._stop.spots) > 1:
            self.desk.draft["spot"] = ""
            self._show_rows(self._stop.name, [partial(self._spot_row, spot) for spot in self._stop.spots])
        else:
            self._at_spot(self._stop.spots[0])

    def _at_spot(self, spot: str) -> None:
        state = self.desk.state
        self.desk.draft["spot"] = spot
        name = self._stop.name if len(self._stop.spots) == 1 else state.say_place(spot)
        self._show_rows(name, [partial(self._line_row, line, spot) for line in lines_at(state, spot, self.likely())])
        noted = spot in self.desk.draft.get("unlisted", [])
        self.add_widget(key_row(_ON_NO_LIST, partial(self._note_unlisted, spot), _NOTED if noted else _NOT_YET, "look",
                                "yellow" if noted else "steel"))  # fmt: skip

    def _note_unlisted(self, spot: str) -> None:
        """Something lies there that no line is of; a second touch takes the note back. What is expected is not told."""
        draft = self.desk.draft
        noted = draft.get("unlisted", [])
        draft["unlisted"] = [one for one in noted if one != spot] if spot in noted else [*noted, spot]
        draft["said"] = ""
        self.desk.keep()
        self._at_spot(spot)

    def _show_rows(self, name: str, rows: list[Callable[[], ChoiceRow]]) -> None:
        self.end()
        self.veil()
        self._since = self.desk.clock()
        self.title = f"Place {self.desk.draft['stop'] + 1} of {len(self.stops())}"
        said = self.desk.draft["said"]
        for words in [said] if said else []:
            self.add_widget(Body(text=words))
        self.add_widget(Heading(text=sentence(name)))
        if (name, len(rows)) != self._listed:
            self._listed, self._shown = (name, len(rows)), CHUNK
            self._rows.clear()
        self.rows = Stack()
        self.add_widget(self.rows)
        self._show_more(rows, 0)
        self._show_key()

    def _show_more(self, rows: list[Callable[[], ChoiceRow]], at: int) -> None:
        """The rows from `at` on: a screenful of them, or as many as were asked for before at this very place."""
        for make in rows[at : self._shown]:
            self.rows.add_widget(make())
        if (left := len(rows) - self._shown) > 0:
            more = QuietButton(text=f"{left} more", shape="more")
            more.bind(on_tap=lambda _: self._more_of(rows, more))
            self.rows.add_widget(more)

    def _more_of(self, rows: list[Callable[[], ChoiceRow]], key: Any) -> None:
        self.rows.remove_widget(key)
        at, self._shown = self._shown, self._shown + CHUNK
        self._show_more(rows, at)

    def _spot_row(self, spot: str) -> ChoiceRow:
        here = sum(seen.quantity for seen in self.seen_so_far if seen.place == spot)
        also = "something on no list" if spot in self.desk.draft.get("unlisted", []) else ""
        return self._row(("", spot), self.desk.state.say_place(spot), here, lambda: self._at_spot(spot), also)

    def _line_row(self, line: str, spot: str) -> ChoiceRow:
        here = sum(seen.quantity for seen in self.seen_so_far if (seen.line, seen.place) == (line, spot))
        return self._row((line, spot), self.desk.state.lines[line].name, here, lambda: self._count_line(line))

    def _row(
        self, key: tuple[str, str], text: str, here: int, tapped: Callable[[], None], also: str = ""
    ) -> ChoiceRow:
        """The row of a line or a spot with what was counted of it: the one made before, so that no tap waits for all
        of them to be made again."""
        row = self._rows.get(key)
        if row is None:
            row = self._rows[key] = ChoiceRow(text=sentence(text), group="here")
            row.bind(on_tap=lambda _: tapped())
        elif row.parent is not None:
            row.parent.remove_widget(row)
        row.note = ", ".join(filter(None, (f"{here} counted" if here else "", also)))
        row.chosen = bool(row.note)
        return row

    def _show_key(self) -> None:
        """The statement that ends a place; before one with several spots is ended, each spot of it."""
        spots = self._spots_ended_by_key
        some = any(place in spots for place in (*(s.place for s in self.seen_so_far), *self.desk.draft["unlisted"]))
        self.act_text = "That is all here" if some else "Nothing here"
        self.act_note, self.act_shape, self.act_tone, self.act_ready = self._what_comes_next(), "go", "bone", True

    @property
    def _spots_ended_by_key(self) -> tuple[str, ...]:
        spot = str(self.desk.draft["spot"])
        return (spot,) if spot else self._stop.spots

    def _what_comes_next(self) -> str:
        stops, at = self.stops(), self.desk.draft["stop"]
        if self.desk.draft["spot"] and len(self._stop.spots) > 1:
            return f"back to {self._stop.name}"
        return f"then {stops[at + 1].name}" if at + 1 < len(stops) else self.after_the_last

    # --- one line at a spot

    def _count_line(self, line: str) -> None:
        self._line = line
        where = self.desk.state.say_place(self.desk.draft["spot"])
        self._since = self.desk.clock()
        self.begin(f"{sentence(where)}: {self.desk.state.lines[line].name}")

    def what_follows(self) -> str:
        """What the pad's key leads back to."""
        return "then what else lies here"

    def next_count(self) -> None:
        """The key: this figure stands, or this spot is ended, or this place."""
        nothing = self.act_text.startswith(("Nothing", "None"))
        if nothing and 0 <= seconds_between(self._since, self.desk.clock()) < _TOO_SOON_SECONDS:
            return
        draft = self.desk.draft
        if self.blind is not None:
            self._keep_figure()
            self._at_spot(draft["spot"])
        elif draft["spot"] and len(self._stop.spots) > 1:
            self._show_stop()
        else:
            draft.update(stop=draft["stop"] + 1, spot="", said="")
            draft.pop("begun", None)
            self.desk.keep()
            self._show_stop()

    def _keep_figure(self) -> None:
        draft, here = self.desk.draft, [self._line, self.desk.draft["spot"]]
        rest = [row for row in draft["seen"] if row[:2] != here]
        draft["seen"] = [*rest, [*here, self.seen]] if self.seen else rest
        draft["said"] = ""
        self.desk.keep()

    def back_in_walk(self) -> bool:
        """One step back inside a place: from the pad to its lines, from a spot to the others. False at the place."""
        if self.blind is not None:
            self._at_spot(self.desk.draft["spot"])
        elif self.desk.draft["spot"] and len(self._stop.spots) > 1:
            self._show_stop()
        else:
            return False
        return True

    # --- left in the middle

    def former(self) -> str:
        """Whose the phone was before the count."""
        raise NotImplementedError

    def on_back(self) -> None:
        """Inside a place one step back; a count left in the middle is dropped, and the phone goes back to whose it
        was."""
        step = self.desk.draft.get("step")
        if step not in ("count", "sign"):
            super().on_back()
        elif step == "sign" or not self.back_in_walk():
            blindness.drop(self.desk.draft)
            self.desk.hand_to(self.former() or self.desk.who)
            self.show_dropped()

    def show_dropped(self) -> None:
        """Say that the count is gone, and who holds the phone."""
        self.end()
        self.title = "Count dropped"
        self.add_widget(Plate(tone="yellow", shape="refused", text="Count dropped", text_size_sp="30sp",
                              note="None of it is on record."))  # fmt: skip
        self.add_widget(Body(text=f"{self.desk.who} holds the phone now. The count is still due: it starts again from "
                                  "nothing."))
        self.hand_back_key()
        self.act_text, self.act_note = "Go back", ""
        self.act_ready, self.act_tone, self.act_shape = True, "orange", "leave"

    def hand_back_key(self) -> None:
        """Where another held the phone before the count: the key that gives it back."""
        former = self.former()
        if former and former != self.desk.who:
            words = f"Hand the phone back to {former}"
            self.add_widget(key_row(words, partial(self._hand_back, former), shape="leave"))

    def _hand_back(self, former: str) -> None:
        self.desk.hand_to(former)
        self.desk.again()

    # --- side by side

    def show_differing(self, differ: list[Seen]) -> None:
        """First what lies elsewhere, with the way to move it; then what else differs, with the way to settle it."""
        asked = {(seen.line, seen.place) for seen in differ}
        moved = [one for one in misplaced(self.desk.state) if (one.line, one.lies) in asked]
        told = {(one.line, place) for one in moved for place in (one.lies, one.on_tally)}
        self._first = ("", "board", {})
        for place in self.unlisted():
            where = self.desk.state.say_place(place)
            self._to_settle(f"Something on no list, {where}", "Photograph it as it lies, and log it as a find",
                            "Log what is on no list", "find", {"form": "log"})  # fmt: skip
        if self.unlisted():
            ours = partial(self.desk.go, "grow", form="line")
            self.add_widget(key_row("It is ours, and was never listed", ours, "Add it to the sheet instead", "more"))
        for one in moved:
            self._to_settle(*self._misplaced(one), *way_to_move(one))
        for seen in differ:
            if (seen.line, seen.place) not in told:
                way = "recount", {"line": seen.line, "place": seen.place}
                self._to_settle(*self._differing(seen), *way)

    def unlisted(self) -> list[str]:
        """Where something was noted that is on no list, and neither a find nor a line was written down for it since."""
        draft = self.desk.draft
        since = self.desk.state.history[draft.get("upto", 0) :]
        logged = sum(isinstance(entry.fact, FindLogged | Grown) for entry in since)
        return list(draft.get("unlisted", []))[logged:]

    def _to_settle(self, what: str, do_next: str, key: str, name: str, args: dict[str, Any]) -> None:
        self._first = self._first if self._first[0] else (key, name, args)
        row = ReasonRow(number=str(len(self.body.children)), what=what, where="", do_next=do_next)
        row.bind(on_tap=lambda _: self.desk.go(name, **args))
        self.add_widget(row)

    def _misplaced(self, one: Misplaced) -> tuple[str, str, str]:
        state = self.desk.state
        return (
            f"Misplaced: {state.say(one.line, one.quantity)} {state.say_place(one.lies)}",
            f"The tally has {it_or_them(one.quantity)} {state.say_place(one.on_tally)}. "
            f"Move {it_or_them(one.quantity)} on the tally",
            f"Move the {within(state.lines[one.line].name)} on the tally",
        )

    def _differing(self, seen: Seen) -> tuple[str, str, str]:
        state = self.desk.state
        known, name = state.discrepancies[seen.line, seen.place], state.lines[seen.line].name
        return (
            f"{name} {state.say_place(seen.place)}",
            f"Counted {known.seen}, the tally has {known.had}. Settle it",
            f"Count the {within(name)} again",
        )

    def first_to_settle(self) -> str:
        """What the large key says while something differs: the way of the first row."""
        return self._first[0]

    def settle_first(self) -> None:
        """Go where the first of what differs is settled."""
        self.desk.go(self._first[1], **self._first[2])

    def agreeing(self, seen: Seen) -> str:
        """A count that agrees, in words."""
        state = self.desk.state
        return f"{seen.quantity} = {seen.quantity}   {state.lines[seen.line].name} {state.say_place(seen.place)}"
