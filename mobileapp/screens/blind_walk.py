"""A blind count of several things, place by place in the fixed order; whole, or it starts its category again."""

from __future__ import annotations

from checklists.facts import Seen
from checklists.times import seconds_between
from checklists.words import sentence
from mobileapp.screens.blind_pad import BlindScreen
from mobileapp.screens.count_order import Pair, category, category_words, start_again_at
from mobileapp.widgets.row import ReasonRow

#: A key tapped so soon, in seconds, is the second tap of the one that led here: it is not taken for "None here".
_TOO_SOON_SECONDS = 1.0


class BlindWalk(BlindScreen):
    """A screen that walks through `what_to_count` blind. The figures so far are in its draft, under "seen"."""

    def what_to_count(self) -> tuple[Pair, ...]:
        """The (line, place) pairs, in the order of the walk."""
        raise NotImplementedError

    def all_counted(self, seen: list[int]) -> None:
        """The walk is at its end, with these figures."""
        raise NotImplementedError

    def begin_walk(self) -> None:
        """Start at the first place."""
        pairs = [list(pair) for pair in self.what_to_count()]
        self.desk.draft.update(step="count", seen=[], pairs=pairs, said="")
        self.desk.draft.pop("begun", None)
        self.desk.keep()
        self._show_pad()

    def take_up_walk(self) -> None:
        """Go on where it stands: at the beginning of a category that was interrupted, or of all if something moved."""
        draft = self.desk.draft
        if tuple(self._pairs) != self.what_to_count():
            draft.update(seen=[], pairs=[list(pair) for pair in self.what_to_count()],
                         said="Something was moved meanwhile: the count starts from the beginning.")
        else:
            at = start_again_at(self._pairs, len(draft["seen"]))
            if at < len(draft["seen"]) or draft.get("begun"):
                words = category_words(self._pairs[at])
                draft["said"] = f"The count was interrupted: {words} is counted again from the beginning."
            draft["seen"] = draft["seen"][:at]
        draft.pop("begun", None)
        self.desk.keep()
        self._show_pad()

    @property
    def _pairs(self) -> list[Pair]:
        return [(line, place) for line, place in self.desk.draft["pairs"]]

    def _show_pad(self) -> None:
        pairs, done = self._pairs, len(self.desk.draft["seen"])
        if done >= len(pairs):
            self.all_counted(list(self.desk.draft["seen"]))
            return
        line, place = pairs[done]
        state = self.desk.state
        self._since = self.desk.clock()
        where, said = state.say_place(place), self.desk.draft.get("said", "")
        self.title = f"Count {done + 1} of {len(pairs)}"
        self.begin(f"{said + ' ' if said else ''}{sentence(where)}: {state.lines[line].name}")

    def what_follows(self) -> str:
        """Where the counter goes next."""
        pairs, done = self._pairs, len(self.desk.draft["seen"])
        if done + 1 == len(pairs):
            return self.after_the_last
        new_place = category(pairs[done + 1]) != category(pairs[done])
        return f"then {self.desk.state.say_place(pairs[done + 1][1])}" if new_place else "next item"

    #: What follows the last count.
    after_the_last = "the last: compare"

    def next_count(self) -> None:
        """This figure stands; on to the next."""
        if not self.seen and 0 <= seconds_between(self._since, self.desk.clock()) < _TOO_SOON_SECONDS:
            return
        draft = self.desk.draft
        draft["seen"] = [*draft["seen"], self.seen]
        draft["said"] = ""
        draft.pop("begun", None)
        self.desk.keep()
        self._show_pad()

    # --- side by side

    def differing(self, number: int, seen: Seen) -> ReasonRow:
        """A count that differs, laid beside the tally; it leads to where it is settled."""
        state = self.desk.state
        known = state.discrepancies[seen.line, seen.place]
        row = ReasonRow(number=str(number), what=f"{state.lines[seen.line].name} {state.say_place(seen.place)}",
                        where="", do_next=f"Counted {known.seen}, the tally has {known.had}. Settle it")
        row.bind(on_tap=lambda _: self.desk.go("recount", line=seen.line, place=seen.place))
        return row

    def agreeing(self, seen: Seen) -> str:
        """A count that agrees, in words."""
        state = self.desk.state
        return f"{seen.quantity} = {seen.quantity}   {state.lines[seen.line].name} {state.say_place(seen.place)}"
