"""A counting phone that keeps its photos by their hash, on the store's own thread."""

from __future__ import annotations

from screens import touch
from screens.counting_phone import CountingPhone

from mobileapp.desk import Desk
from mobileapp.photos.store import PhotoStore, beside
from mobileapp.shell import Shell


class KeepingPhone(CountingPhone):
    """One phone with a store of photos."""

    def _switch_on(self) -> tuple[Desk, Shell]:
        from kivy.clock import Clock

        old, _ = super()._switch_on()
        self.store = PhotoStore(beside(old.journal.path), lambda act: Clock.schedule_once(lambda _: act()))
        given = (old.journal, old.clock, old.make_id, old.signals, old.photo_folders)
        desk = Desk(*given, lambda: self.store)
        return desk, Shell(desk)

    def chooses_photo(self, name: str = "IMG_0001") -> None:
        """Tap a photo in the list, and wait until it is kept."""
        self.tap(has=name)
        self.store.close()
        touch.settle(5)

    def name_of(self, sha: str) -> str:
        """The name under which a kept photo came."""
        return self.desk.state.photos[sha][0].name
