"""The count pad: one tap, one item, durable before the figure changes."""

from __future__ import annotations

from typing import Any

from checklists import builders
from checklists.times import seconds_between
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.lead_on import lead_on, short_words, what_next
from mobileapp.screens.pad_figures import (
    PadFigures,
    elsewhere,
    figures,
    may_be_short,
    others_due,
    resolve,
    statement,
    to_take_back,
    what_and_where,
)
from mobileapp.widgets.count_pad import CountPad
from mobileapp.widgets.plate import TakeBackButton

#: A tap that follows so soon, in seconds, is the glove's second one and no item: it is not asked about.
_BOUNCE_SECONDS = 1.0
TITLES = {"out": "Count out", "back": "Count back", "taken away": "Take away"}
#: The quiet key, by whether other lines wait and whether it may be laid in another place.
_QUIET = {
    (True, True): "Other line or place, or fewer here",
    (True, False): "Other line, or fewer here",
    (False, True): "Other place, or fewer here",
    (False, False): "Fewer here than there should be",
}


class CountPadScreen(BaseScreen):
    """Counts items of one line from one place to another. Neither place need be said: then it is worked out."""

    def build(self, line: str = "", source: str = "", target: str = "", **args: Any) -> None:
        """The pad, and far up in the corner the key that takes one back."""
        self.scrolls = False
        self.line = line
        self._remember(source, target)
        self.tapped = self.desk.clock()
        self.pad = CountPad(drop_shown=False)
        self.pad.bind(on_count=lambda _: self.count())
        self.take_back = TakeBackButton()
        self.take_back.bind(on_tap=lambda _: self.take_one_back())
        self.corner.add_widget(self.take_back)
        self.add_widget(self.pad)

    def _remember(self, source: str, target: str) -> None:
        """Where it counts, and from which entry on: kept, so that a killed app still knows what may be taken back."""
        draft, state = self.desk.draft, self.desk.state
        if "since" not in draft:
            source, target = resolve(state, self.line, source, target, self.desk.clock(), self.desk.who)
            draft.update(since=len(state.history), source=source, target=target, had=state.quantity(self.line, source))
            self.desk.keep()
        self.since, self.source, self.target, self.had = (
            draft["since"], draft["source"], draft["target"], draft["had"])

    def refresh(self) -> None:
        """The figure from the journal's state, and what belongs beside it."""
        super().refresh()
        now = figures(self.desk.state, self.line, self.source, self.target, self.had)
        self.figures = now
        self.title = TITLES[now.verb]
        self.pad.direction, self.pad.total, self.pad.counted = now.direction, now.total, now.counted
        self.pad.done = now.done
        self.take_back.disabled = to_take_back(self.desk.state, self.line, self.since) is None
        said = self.desk.draft.get("said", "")
        self.pad.line = said or (statement(self.desk.state, now) if now.done else what_and_where(self.desk.state, now))
        self._show_act(now)

    def _show_act(self, now: PadFigures) -> None:
        """While counting, the key below leads to the other lines, quietly; when all are counted, to what comes next."""
        self.act = what_next(self.desk) if now.done else None
        self.others = [] if now.done else others_due(self.desk.state, now)
        self.elsewhere = "" if now.done else elsewhere(self.desk.state, now)
        self.act_text = short_words(self.act) if self.act else _QUIET[bool(self.others), bool(self.elsewhere)]
        self.act_tone = "orange" if self.act else "steel"
        self.act_shape = "go" if self.act else "more" if self.others or self.elsewhere else "missing"

    def count(self) -> None:
        """One item was counted. Once all are, a double tap is answered here; a tap by itself is one too many."""
        before, self.tapped = self.tapped, self.desk.clock()
        if self.figures.done and 0 <= seconds_between(before, self.tapped) < _BOUNCE_SECONDS:
            self._say_all_counted()
        else:
            self._count_one()

    def _say_all_counted(self) -> None:
        now = self.figures
        all_of = statement(self.desk.state, now) if now.left else f"All {now.total} are {now.verb}"
        self.pad.line = f"{all_of}. The last tap counted nothing."
        self.desk.signals.refused()

    def _count_one(self) -> None:
        """One too many is refused, and the refusal offers to log it as a find."""
        self.desk.draft.pop("said", None)
        if self.desk.record(builders.move(self.line, 1, self.source, self.target)):
            self.refresh()
            self.desk.signals.counted(self.figures.spoken())

    def take_one_back(self) -> None:
        """Take back the last count made here, and say so."""
        entry = to_take_back(self.desk.state, self.line, self.since)
        if entry is None or not self.desk.record(builders.undo(entry, "counted by mistake")):
            return
        one = self.desk.state.say(self.line, 1)
        self.desk.draft["said"] = f"Taken back: {one}. " + figures(
            self.desk.state, self.line, self.source, self.target, self.had).spoken()
        self.desk.keep()
        self.refresh()
        self.desk.signals.counted(self.desk.draft["said"])

    def on_act(self) -> None:
        """On to the next act, in place of this pad; or to another line; or to say that some are not here."""
        if self.act is not None:
            lead_on(self.desk, self.act)
        elif self.others or self.elsewhere:
            self.desk.go("change_line", line=self.line, source=self.source, target=self.target)
        elif may_be_short(self.desk.state, self.line):
            self.desk.go("short", line=self.line)
        else:
            self.desk.go("recount", line=self.line, place=self.source)
