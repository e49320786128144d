"""The first screen: every teardown of this phone, the one last worked on first."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.properties import NumericProperty, StringProperty

from mobileapp.desk import Desk
from mobileapp.journal.errors import JournalError
from mobileapp.journal.rows import Card
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.stamps import when
from mobileapp.screens.unclaimed_key import unclaimed_key
from mobileapp.unclaimed import look_for
from mobileapp.widgets.plate import Faced, Plate, QuietButton
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.tappable import Tappable
from mobileapp.widgets.text import Body

#: A long list comes in pieces of this many.
CHUNK = 9
#: How each state of a teardown looks: shape and tone beside the word.
_LOOKS = {"open": ("uncovered", "orange"), "closed": ("gate", "sky"), "released, not clear": ("refused", "yellow")}


class TeardownRow(Tappable, Faced):
    """One teardown: machine, sheet, how it stands, its figures and when it was last worked on."""

    machine = StringProperty("")
    sheet = StringProperty("")
    state = StringProperty("open")
    last = StringProperty("")
    out = NumericProperty(0)
    in_engine = NumericProperty(0)
    missing = NumericProperty(0)

    def shape_of(self, state: str) -> str:
        """The shape beside the word of the state."""
        return _LOOKS.get(state, ("look", "yellow"))[0]

    def colour_of(self, state: str) -> str:
        """The tone of the state's plate."""
        return _LOOKS.get(state, ("look", "yellow"))[1]

    def figures(self, out: float, in_engine: float, missing: float) -> str:
        """The tally in one line."""
        return f"{int(out)} out, {int(in_engine)} in the engine, {int(missing)} missing"


class TeardownsScreen(BaseScreen):
    """Tap a teardown to take it in hand, or start one."""

    def __init__(self, desk: Desk, **args: Any) -> None:
        desk.service = None  # on the list no teardown is in hand, however one came here
        super().__init__(desk, **args)

    def build(self, **args: Any) -> None:
        """The newest few; older ones on asking."""
        self.title = "Teardowns"
        self.back_shown = False
        self.act_text = "Start a teardown"
        try:
            cards = self.desk.journal.teardowns()
        except JournalError as fault:
            self.add_widget(Plate(tone="yellow", shape="refused", text=str(fault)))
            return
        self._list(cards)
        # The list itself is there sooner without it.
        Clock.schedule_once(lambda _: Clock.schedule_once(lambda _: self._offer_workshop()))

    def _offer_workshop(self) -> None:
        shop = QuietButton(text="Workshop", note="torque, tightening order, limits, whereabouts", shape="set down")
        shop.bind(on_tap=lambda _: self.desk.go("workshop"))
        self.add_widget(shop)
        packs = QuietButton(text="Packs and backups", note="take in, restore, back up", shape="go")
        packs.bind(on_tap=lambda _: self.desk.go("packs"))
        self.add_widget(packs)
        look_for(self.desk, self._offer_unclaimed)

    def _offer_unclaimed(self, paths: list[Path]) -> None:
        if paths and self.parent is not None:
            self.add_widget(unclaimed_key(self.desk, len(paths)))

    def _list(self, cards: list[Card]) -> None:
        if not cards:
            self.add_widget(Body(text=_NOTHING_YET))
        shown = max(CHUNK, int(self.desk.draft.get("shown", CHUNK)))
        now = self.desk.clock()
        for card in cards[:shown]:
            self.add_widget(self._row(card, now))
        if len(cards) > shown:
            older = QuietButton(text="Show older ones", note=f"{len(cards) - shown} more", shape="more")
            older.bind(on_tap=lambda _: self._show_more(shown + CHUNK))
            self.add_widget(older)

    def _row(self, card: Card, now: str) -> TeardownRow:
        row = TeardownRow(machine=card.machine, sheet=card.sheet, state=card.state, out=card.out,
                          in_engine=card.in_engine, missing=card.missing, last=f"last at {when(card.last_at, now)}")
        row.bind(on_tap=partial(self._open, card.teardown))
        return row

    def _show_more(self, shown: int) -> None:
        self.desk.draft["shown"] = shown
        self.desk.again()

    def _open(self, teardown: str, *_: object) -> None:
        try:
            self.desk.open(teardown)
        except JournalError as fault:
            self.desk.go("trouble", words=str(fault))
            return
        self.desk.to_board()

    def on_act(self) -> None:
        """Start a teardown."""
        self.desk.go("start")


_NOTHING_YET = (
    "No teardown yet.\n\nBefore the first bolt comes off, tap \"Start a teardown\": choose a sheet, name the "
    "machine and the people, and read the cautions. From then on every bolt, rag and tool is counted out and "
    "counted back."
)

load_rules(__file__)
