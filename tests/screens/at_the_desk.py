"""A phone in the hand: the real shell on a real journal in a folder of its own, with a clock that is stepped."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from careful_worker import CarefulWorker
from kept_photos import drawn
from screens import touch

from checklists import builders
from checklists.facts import Fact, Person
from checklists.next_act import Act, next_act
from checklists.state import Teardown
from checklists.times import seconds_after
from mobileapp.desk import Desk
from mobileapp.device.signals import SilentSignals
from mobileapp.journal.store import Journal, open_journal
from mobileapp.service import TeardownService, start_teardown
from mobileapp.shelf import load_sheet
from mobileapp.shell import Shell
from mobileapp.widgets.tappable import Tappable

ADA, JONAS = Person("Ada Berg", "fitter"), Person("Jonas Wieland", "second counter")


class Phone:
    """One phone: its desk, what it shows, and the time on its clock."""

    def __init__(self, folder: Path, now: str = "2026-03-02T08:00:00.000+01:00") -> None:
        self.folder = folder
        self.now = now
        self._made = 0
        self.desk, self.shell = self._switch_on()

    def _switch_on(self) -> tuple[Desk, Shell]:
        journal = open_journal(self.folder / "journal.sqlite", clock=lambda: self.now, make_id=self._id)
        desk = Desk(journal, lambda: self.now, self._id, SilentSignals(), [])
        return desk, Shell(desk)

    def _id(self) -> str:
        self._made += 1
        return f"id-{self._made}"

    @property
    def journal(self) -> Journal:
        """The journal of this phone."""
        return self.desk.journal

    @property
    def screen(self) -> Any:
        """The screen before the person."""
        return self.shell.screen

    @property
    def name(self) -> str:
        """The name of that screen."""
        return self.desk.trail[-1][0]

    def show(self) -> None:
        """Come back to where the person was, as the app does when it starts."""
        self.desk.come_back()
        touch.show(self.shell)

    def kill_and_start(self) -> None:
        """The app is killed and started again."""
        if self.screen is not None:
            self.screen.leave()
        self.journal.close()
        touch.clear()
        self.desk, self.shell = self._switch_on()
        self.show()

    def begin(self, sheet: str = "rocker-cover", machine: str = "Port engine",
              people: tuple[Person, ...] = (ADA, JONAS)) -> TeardownService:
        """Start a teardown without the screens, and take it in hand."""
        fact = builders.start(load_sheet(sheet), machine, people, "rough running", "white smoke")
        begun = start_teardown(self.journal, self.desk.clock, self._id, fact, people[0].name)
        assert isinstance(begun, TeardownService)
        self.desk.take(begun)
        return begun

    def go(self, name: str, **args: Any) -> None:
        """Show a screen of the teardown in hand, on the way from its board."""
        self.desk.trail = [("teardowns", {}), ("board", {})]
        if name != "board":
            self.desk.trail.append((name, args))
        self.desk.again()
        touch.show(self.shell)

    def texts(self) -> list[str]:
        """Every piece of text on the screen."""
        return touch.texts(self.shell)

    def says(self, words: str) -> bool:
        """Whether some text on the screen holds these words."""
        return any(words in text for text in self.texts())

    def tap(self, text: str = "", has: str = "") -> None:
        """Tap the key or row with these words."""
        touch.tap(self.key(text, has))

    def key(self, text: str = "", has: str = "") -> Any:
        """The part that can be tapped and bears these words."""
        label = touch.find(self.shell, text=text, has=has)
        while not isinstance(label, Tappable):
            label = label.parent
            assert label is not self.shell, f"{text or has!r} is on nothing that can be tapped"
        return label

    def back(self) -> None:
        """Tap the way back."""
        touch.tap(next(w for w in touch.visible(self.shell) if getattr(w, "shape", "") == "leave"))

    def act(self) -> None:
        """Tap the large key."""
        touch.tap(self.screen.ids.act)


class Hands(CarefulWorker):
    """Does the next act on the phone's teardown, again and again, without the screens."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        self.acts: list[Act] = []

    @property
    def teardown(self) -> Teardown:
        """The state of the teardown in hand."""
        return self.phone.desk.state

    @property
    def now(self) -> str:
        """The time on the phone."""
        return self.phone.now

    @now.setter
    def now(self, stamp: str) -> None:
        self.phone.now = stamp

    def record(self, fact: Fact, who: str) -> None:
        """Record it through the service."""
        work = self.phone.desk.work
        holder, work.who = work.who, who
        outcome = work.record(drawn(fact))
        work.who = holder
        assert outcome.done, [reason.words for reason in outcome.reasons]
        self.phone.now = seconds_after(self.phone.now, 1)

    def until(self, do: str, times: int = 1) -> Act:
        """Work until the next act is `do` for the `times`-th time."""
        while True:
            act = next_act(self.teardown, self.now)
            times -= act.do == do
            if times == 0 or act.do == "ended":
                return act
            self.do(act)
