"""A phone for tests of counting: what it said aloud is kept, and it has a folder of photos."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from screens import touch
from screens.at_the_desk import Hands, Phone

from checklists.next_act import Act, next_act
from mobileapp.desk import Desk
from mobileapp.journal.store import open_journal
from mobileapp.shell import Shell
from mobileapp.widgets.count_pad import TapArea
from mobileapp.widgets.tappable import Tappable


class HeardSignals:
    """Keeps what was felt and heard."""

    def __init__(self) -> None:
        self.said: list[str] = []
        self.refusals = 0

    def counted(self, words: str) -> None:
        """Keep what is said."""
        self.said.append(words)

    def refused(self) -> None:
        """Count the long buzz."""
        self.refusals += 1


class CountingPhone(Phone):
    """One phone with a photo taken on it, and a worker who gets the teardown to where the test begins."""

    def __init__(self, folder: Path) -> None:
        self.signals = HeardSignals()
        self.photos = folder / "photos"
        self.photos.mkdir()
        super().__init__(folder)
        self.hands = Hands(self)

    def _switch_on(self) -> tuple[Desk, Shell]:
        journal = open_journal(self.folder / "journal.sqlite", clock=lambda: self.now, make_id=self._id)
        desk = Desk(journal, lambda: self.now, self._id, self.signals, [str(self.photos)])
        return desk, Shell(desk)

    def take_photo(self, name: str = "IMG_0001.jpg") -> Path:
        """A real, small JPEG in the folder."""
        from PIL import Image

        path = self.photos / name
        Image.new("RGB", (320, 240), (90, 90, 80)).save(path)
        return path

    def until(self, do: str, line: str = "", closure: str = "") -> Act:
        """Work without the screen until the next act is this one."""
        while True:
            act = next_act(self.desk.state, self.now)
            if act.do == do and act.line.startswith(line) and act.closure.startswith(closure):
                return act
            assert act.do != "ended", f"never came to {do}"
            self.hands.do(act)

    def key(self, text: str = "", has: str = "") -> Any:
        """The part that can be tapped and bears these words."""
        part = touch.find(self.shell, text=text, has=has)
        while not isinstance(part, Tappable):
            part = part.parent
            assert part is not self.shell, f"{text or has!r} is on nothing that can be tapped"
        return part

    def tap_pad(self, times: int = 1) -> None:
        """Tap the count pad, with a light hand."""
        for _ in range(times):
            touch.tap(touch.find(self.screen, cls=TapArea), frames=3)

    def kinds(self, last: int) -> list[str]:
        """The kinds of the newest entries, as the journal has them."""
        return [entry.fact.kind for entry in self.journal.entries(self.desk.work.id)][-last:]

    def words(self) -> str:
        """Everything shown."""
        return "\n".join(self.texts())
