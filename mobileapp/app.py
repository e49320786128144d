"""The app, and the one composition root: here the journal, the clock, the device and the screens are put together."""

from __future__ import annotations

import gc
import os
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mobileapp import kivy_env

# Starting makes much and drops nothing. Looking for garbage less often starts the app sooner, and later spares a tap
# the pause; what is dropped is nearly all freed at once anyway, by its reference count.
gc.set_threshold(50_000, 20, 50)
kivy_env.prepare()

from kivy.app import App  # noqa: E402  Kivy reads its environment on import, so that comes first

from mobileapp.desk import Desk  # noqa: E402
from mobileapp.device.signals import PhoneSignals, SilentSignals  # noqa: E402
from mobileapp.journal.errors import JournalError  # noqa: E402
from mobileapp.journal.store import open_journal  # noqa: E402
from mobileapp.shell import Shell  # noqa: E402

if TYPE_CHECKING:
    from mobileapp.device.camera import Camera
    from mobileapp.device.share import Share
    from mobileapp.photos.store import PhotoStore

JOURNAL_NAME = "journal.sqlite"


def wall_clock() -> str:
    """The time here and now, with its offset, to the millisecond."""
    return datetime.now().astimezone().isoformat(timespec="milliseconds")


def new_id() -> str:
    """An id nobody else will make: 64 random bits."""
    return os.urandom(8).hex()


class CountbackApp(App):  # type: ignore[misc]  # Kivy has no types
    """Countback on a phone or a desktop."""

    title = "Countback"

    def __init__(self, data_dir: Path | None, watched: Path | None = None, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.watched = watched
        # On a phone only the running app knows where its own files go.
        self.data_dir = data_dir or Path(self.user_data_dir)
        self.desk: Desk | None = None

    def build(self) -> Any:
        """Open the journal and show where the person was; what is wrong with the journal, if anything."""
        from kivy.core.window import Window

        from mobileapp import look

        look.dress_window()
        try:
            self.desk = make_desk(self.data_dir, self.watched)
        except JournalError as fault:
            return _trouble(str(fault))
        shell = Shell(self.desk)
        Window.bind(on_keyboard=shell.on_key)
        self.desk.come_back()
        return shell

    def on_start(self) -> None:
        """When the first screen stands: what a killed export left is cleared away, beside the main thread."""
        from kivy.clock import Clock

        from mobileapp.screens.aside import work_aside

        Clock.schedule_once(lambda _: work_aside(lambda: clear_exports(self.data_dir), lambda _: None), 2)

    def on_pause(self) -> bool:
        """Every count was durable when it was tapped: there is nothing to save."""
        return True

    def on_stop(self) -> None:
        """Let go of the journal."""
        if self.desk is not None:
            self.desk.journal.close()


def clear_exports(data_dir: Path) -> int:
    """Throw away the pieces that killed exports and imports left in our own folders; how many."""
    from mobileapp.packs.copying import clear_leftovers
    from mobileapp.photos.safe_file import ABANDONED, clear_abandoned

    now = time.time()
    cleared = clear_abandoned([data_dir / name for name in ("packs", "sheets")], now)
    return cleared + clear_leftovers(data_dir, now - ABANDONED)


def make_desk(data_dir: Path, watched: Path | None = None) -> Desk:
    """Everything a screen works with, on the journal in `data_dir`.

    On a desktop a photo is chosen from the files, or comes into the folder `watched`.
    """
    journal = open_journal(data_dir / JOURNAL_NAME, clock=wall_clock, make_id=new_id)
    on_phone = "ANDROID_ARGUMENT" in os.environ
    signals = PhoneSignals() if on_phone else SilentSignals()
    camera = _phone_camera(data_dir) if on_phone else None
    desk = Desk(journal, wall_clock, new_id, signals, _photo_folders(data_dir), lambda: _photos(data_dir), camera,
                _phone_share() if on_phone else None, _pack_folders())  # fmt: skip
    if watched:
        desk.camera = camera or _beside_left(_watched(watched, desk), data_dir)
    desk.camera_made_by(lambda: _beside_left(_chooser(), data_dir))
    return desk


def _on_main_thread(act: Callable[[], None]) -> None:
    from kivy.clock import Clock

    Clock.schedule_once(lambda _: act())


def _photos(data_dir: Path) -> PhotoStore:
    """The store of kept photos. What an interrupted write left in it is cleared up first, on the store's thread."""
    from mobileapp.photos.store import PhotoStore, beside

    store = PhotoStore(beside(data_dir / JOURNAL_NAME), _on_main_thread)
    store.later(store.leftovers, lambda _: None)
    return store


def _phone_camera(data_dir: Path) -> Camera:
    from mobileapp.device.camera_android import AndroidCamera
    from mobileapp.device.camera_awaited import FOLDER, AwaitedPhotos

    return AndroidCamera(AwaitedPhotos(data_dir / FOLDER, wall_clock, new_id), _on_main_thread)


def _beside_left(camera: Camera, data_dir: Path) -> Camera:
    """A desktop offers what a restored backup brought of a phone's camera."""
    from mobileapp.device.camera_awaited import FOLDER, NotedPhotos
    from mobileapp.device.camera_left import BesideLeft

    return BesideLeft(camera, NotedPhotos(data_dir / FOLDER))


def _chooser() -> Camera:
    from mobileapp.device.camera_chooser import ChooserCamera

    return ChooserCamera(_on_main_thread)


def _watched(folder: Path, desk: Desk) -> Camera:
    """It looks twice a second while a photo is waited for; what came is opened on the store's thread."""
    from kivy.clock import Clock

    from mobileapp.device.camera_watched import WatchedFolder

    camera = WatchedFolder(folder, lambda work, then: desk.photos.later(work, then))
    Clock.schedule_interval(lambda _: camera.poll(time.monotonic()), 0.5)
    return camera


def _phone_share() -> Share:
    from mobileapp.device.share_android import AndroidShare

    return AndroidShare()


def _pack_folders() -> list[str]:
    """Where a pack that came from elsewhere usually lies."""
    return [str(Path.home() / "Downloads"), "/storage/emulated/0/Download"]


def _photo_folders(data_dir: Path) -> list[str]:
    """Where photos are offered from: our own folder, and the usual ones of a phone or a desktop."""
    usual = [Path.home() / "Pictures", Path("/storage/emulated/0/DCIM/Camera")]
    return [str(folder) for folder in [data_dir / "photos", *usual]]


def _trouble(words: str) -> Any:
    from mobileapp.screens.trouble import plain_trouble

    return plain_trouble(words)


def run_app(data_dir: Path | None, watched: Path | None = None) -> int:
    """Open the window and stay until it is closed; None for the phone's own place. 0 when it went well."""
    CountbackApp(data_dir, watched).run()
    return 0
