"""A phone at work that keeps its photos by their hash, on the store's own thread."""

from __future__ import annotations

from pathlib import Path

from screens import touch
from screens.at_work import AtWork

from checklists import builders, places
from mobileapp.desk import Desk
from mobileapp.evidence import keep_photo
from mobileapp.photos.store import PhotoStore, beside
from mobileapp.service import Outcome
from mobileapp.shell import Shell


class PhotoWork(AtWork):
    """At work on the inlet manifold, with a store of photos."""

    def _switch_on(self) -> tuple[Desk, Shell]:
        from kivy.clock import Clock

        old, _ = super()._switch_on()
        self.store = PhotoStore(beside(old.journal.path), lambda act: Clock.schedule_once(lambda _: act()))
        desk = Desk(old.journal, old.clock, old.make_id, old.signals, [], lambda: self.store)
        return desk, Shell(desk)

    def let_go(self) -> None:
        """Close what is open."""
        if self.screen is not None:
            self.screen.leave()
        self.store.close()
        self.journal.close()

    def wait(self) -> None:
        """Until what was begun beside the main thread is done, and shown; and what that began in its turn."""
        from mobileapp.screens.aside import finish

        for _ in range(3):
            finish()
            self.store.close()
            touch.settle(5)

    def takes_photo(self, label: str, name: str = "inside.png") -> None:
        """Fill a photo's place, and wait until it is kept."""
        super().takes_photo(label, name)
        self.store.close()
        touch.settle(5)

    def photo(self, name: str = "inside.png") -> str:
        """A picture in the phone's folder; another name is another picture."""
        from PIL import Image

        path = self.folder / name
        shade = sum(name.encode()) % 200
        Image.new("RGB", (640, 480), (shade, 120, 255 - shade)).save(path)
        return str(path)

    def keeps(self, about: str, moment: str, name: str) -> str:
        """Keep a photo without the screens; its hash."""
        became = keep_photo(self.desk.work, self.store, Path(self.photo(name)), about, moment)
        assert isinstance(became, Outcome), became
        return str(became.entry.fact.photo)  # type: ignore[union-attr]  # keeping it made a Photographed

    def opens_the_ports(self) -> None:
        """The manifold comes off; its ports stand uncovered."""
        self.hands.do(self.works_until("lift", "inlet-manifold"))
        self.works_until("cover")

    def covers_all(self) -> None:
        """A cover from the stores into every uncovered opening."""
        for opening in list(self.state.exposure.uncovered(self.state.openings)):
            line = builders.cover_lines(self.state, opening)[0]
            self.does(builders.cover(self.state, opening, line, places.STORES))
