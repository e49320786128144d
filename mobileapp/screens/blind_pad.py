"""A pad for counting what lies somewhere, without being shown how many to expect. It records nothing by itself."""

from __future__ import annotations

from mobileapp import blindness
from mobileapp.screens.base import BaseScreen
from mobileapp.widgets.count_pad import CountPad
from mobileapp.widgets.plate import TakeBackButton

RESTARTED = "The count was interrupted: it starts again from nothing."


class BlindScreen(BaseScreen):
    """A screen that counts blind at times. Its pad starts from nothing each time it is shown: such a count is whole or
    it is none."""

    blind: CountPad | None = None

    def begin(self, line: str) -> None:
        """Show the pad at nothing, for `line`."""
        self.clear_body()
        self.veil()
        self.scrolls = False
        self.blind = CountPad(blind=True, line=line, drop_shown=False)
        self.blind.bind(on_count=lambda _: self.count(), counted=lambda *_: self.show_next())
        self.take_back = TakeBackButton(disabled=True)
        self.take_back.bind(on_tap=lambda _: self.take_one_back())
        self.corner.clear_widgets()
        self.corner.add_widget(self.take_back)
        self.add_widget(self.blind)
        self.show_next()

    def veil(self) -> None:
        """From here on no figure of the tally is shown, neither here nor where a drop is logged meanwhile."""
        blindness.begin(self.desk.draft)
        self.veiled = True

    def end(self) -> None:
        """Take the pad away, for showing what came of it."""
        self.clear_body()
        self.corner.clear_widgets()
        self.blind = None
        blindness.end(self.desk.draft)
        self.veiled = False
        self.scrolls = True

    @property
    def seen(self) -> int:
        """How many were counted so far."""
        return int(self.blind.counted) if self.blind else 0

    def count(self) -> None:
        """One more is here."""
        assert self.blind is not None
        self.blind.counted += 1
        if not self.desk.draft.get("begun"):
            self.desk.draft["begun"] = True
            self.desk.keep()
        self.desk.signals.counted(f"{self.seen}")

    def take_one_back(self) -> None:
        """One was tapped too many."""
        if self.blind and self.seen:
            self.blind.counted -= 1
            self.desk.signals.counted(f"taken back, {self.seen}")

    def show_next(self) -> None:
        """The key that ends this count: "3 here", or "None here" while nothing was counted."""
        self.take_back.disabled = self.seen == 0
        self.act_text = f"{self.seen} here" if self.seen else "None here"
        self.act_note, self.act_shape, self.act_tone = self.what_follows(), "go", "bone"
        self.act_ready = True

    def what_follows(self) -> str:
        """What the key leads to."""
        return ""
