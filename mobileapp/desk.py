"""What a screen works with: the teardown in hand, the way to other screens, and the one door to the journal.

Screens never touch the journal. They ask the desk to record a fact; it is durable before anything on the screen
changes, and a refusal leads to the screen that lists every reason.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from copy import deepcopy
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from checklists.fact_codec import fact_to_plain
from checklists.facts import Fact
from checklists.state import Teardown
from mobileapp import blindness
from mobileapp.device.share import DesktopShare, Share
from mobileapp.device.signals import Signals
from mobileapp.errand import Errand
from mobileapp.journal.errors import JournalError
from mobileapp.journal.store import Journal
from mobileapp.service import Clock, Outcome, TeardownService

if TYPE_CHECKING:  # the first frame does not wait for what photos need
    from mobileapp.device.camera import Camera
    from mobileapp.photos.store import PhotoStore

Step = tuple[str, dict[str, Any]]
HOME: Step = ("teardowns", {})
#: Screens that need no teardown in hand.
_WITHOUT_TEARDOWN = (
    *("teardowns", "start", "photos", "trouble", "packs", "unclaimed"),
    *("workshop", "torque", "order", "limits", "pieces", "weigh", "whereabouts", "near_misses"),
)


class Shows(Protocol):
    """Puts a screen before the person: its name and its arguments (plain data, so that they can be kept)."""

    def __call__(self, name: str, args: dict[str, Any]) -> None: ...


class Desk:
    """The teardown in hand and the trail of screens that led here, kept so that a killed app comes back to it."""

    def __init__(
        self,
        journal: Journal,
        clock: Clock,
        make_id: Callable[[], str],
        signals: Signals,
        photo_folders: list[str],
        make_photos: Callable[[], PhotoStore] | None = None,
        camera: Camera | None = None,
        share: Share | None = None,
        pack_folders: Iterable[str] = (),
    ) -> None:
        self.journal = journal
        self.clock = clock
        self.make_id = make_id
        self.signals = signals
        self.photo_folders = photo_folders
        self._camera = camera
        self._make_camera: Callable[[], Camera] | None = None
        self.share: Share = share or DesktopShare()
        #: Where packs are looked for besides our own folder.
        self.pack_folders = tuple(pack_folders)
        #: What is being done, or was done and not said yet, whatever screen is shown.
        self.errand: Errand | None = None
        #: What was typed on a form that was left before it was done, by the form's name; kept like the trail.
        self.unfinished: dict[str, dict[str, Any]] = {}
        self._make_photos = make_photos
        self._photos: PhotoStore | None = None
        self.service: TeardownService | None = None
        self.trail: list[Step] = [HOME]
        #: The bookmark as it is in the journal: writing it again would cost a commit for nothing.
        self._mark: dict[str, Any] = {}
        self._show: Shows = lambda name, args: None

    # --- the way about

    def shown_by(self, show: Shows) -> None:
        """Use `show` to put screens before the person."""
        self._show = show

    def come_back(self) -> None:
        """Show the screen the person was on when the app last stopped, or the list of teardowns."""
        self._mark = self.journal.bookmark() or {}
        mark = deepcopy(self._mark)
        try:
            self.trail = [(str(name), dict(args)) for name, args in mark.get("trail", [])] or [HOME]
            self.unfinished = {str(name): dict(draft) for name, draft in mark.get("unfinished", {}).items()}
            if mark.get("teardown"):
                self.open(str(mark["teardown"]), str(mark.get("who", "")))
        except (AttributeError, TypeError, ValueError):
            self.trail = [HOME]
        except JournalError as fault:
            self.trail = [HOME, ("trouble", {"words": str(fault)})]
        if self.service is None:
            self.trail = [step for step in self.trail if step[0] in _WITHOUT_TEARDOWN] or [HOME]
        self._show_top()

    def go(self, name: str, /, **args: Any) -> None:
        """Go on to a screen; `back` returns here."""
        self.trail.append((name, args))
        self._show_top()

    def instead(self, name: str, /, **args: Any) -> None:
        """Go to a screen in place of this one; `back` returns to the one before."""
        self.trail[-1:] = [(name, args)]
        self._show_top()

    def back(self) -> None:
        """Return to the screen before; from the first one nothing happens."""
        if len(self.trail) > 1:
            self.trail.pop()
            self._show_top()

    def to_board(self) -> None:
        """Return to the board of the teardown in hand."""
        self.trail = [HOME, ("board", {})]
        self._show_top()

    def to_teardowns(self) -> None:
        """Put the teardown down and return to the list."""
        self.service = None
        self.trail = [HOME]
        self._show_top()

    def again(self) -> None:
        """Show the present screen anew."""
        self._show_top()

    @property
    def draft(self) -> dict[str, Any]:
        """What is typed or chosen on the present screen so far. After changing it, `keep` it."""
        draft: dict[str, Any] = self.trail[-1][1].setdefault("draft", {})
        return draft

    def keep(self) -> None:
        """Remember where the person is and what they typed, so that a killed app comes back to it."""
        teardown, who = (self.service.id, self.service.who) if self.service else ("", "")
        mark: dict[str, Any] = {"trail": [list(step) for step in self.trail], "teardown": teardown, "who": who}
        if self.unfinished:
            mark["unfinished"] = self.unfinished
        if mark == self._mark:
            return
        try:
            self.journal.set_bookmark(mark)
            self._mark = deepcopy(mark)
        except JournalError:
            # A bookmark is a convenience: the count itself reports a full disk, in words, when it is tapped.
            return

    @property
    def counts_blind(self) -> bool:
        """Whether whoever holds the phone is counting blind: no figure of the tally is shown."""
        return blindness.stands(self.trail)

    def _show_top(self) -> None:
        blindness.drop_beneath(self.trail)
        self.keep()
        name, args = self.trail[-1]
        self._show(name, args)

    def folder(self, name: str) -> Path:
        """A folder of ours beside the journal, for what is written to be taken away: "sheets" or "packs"."""
        return Path(self.journal.path).parent / name

    @property
    def photos(self) -> PhotoStore | None:
        """The store of kept photos, made when it is first needed; None where there is none."""
        if self._photos is None and self._make_photos is not None:
            self._photos = self._make_photos()
        return self._photos

    @property
    def camera(self) -> Camera | None:
        """The camera, made when it is first needed; None where there is none."""
        if self._camera is None and self._make_camera is not None:
            self._camera = self._make_camera()
        return self._camera

    @camera.setter
    def camera(self, camera: Camera | None) -> None:
        self._camera = camera

    def camera_made_by(self, make: Callable[[], Camera]) -> None:
        """Use the camera that `make` makes, where none was given: the first board does not wait for it."""
        self._make_camera = make

    # --- the teardown in hand

    def open(self, teardown_id: str, who: str = "") -> None:
        """Take a teardown in hand."""
        self.service = TeardownService(self.journal, self.clock, teardown_id, who)
        if not self.service.state.history:
            self.service = None

    def take(self, service: TeardownService) -> None:
        """Take a teardown that was just started in hand."""
        self.service = service

    @property
    def work(self) -> TeardownService:
        """The teardown in hand; only asked for by screens that need one."""
        assert self.service is not None
        return self.service

    @property
    def state(self) -> Teardown:
        """The state of the teardown in hand."""
        return self.work.state

    @property
    def who(self) -> str:
        """The person who holds the phone."""
        return self.work.who

    def hand_to(self, who: str) -> None:
        """The phone goes to another person on the job."""
        self.work.who = who
        self.keep()

    def record(self, fact: Fact) -> bool:
        """Do it. True once it is durable; otherwise the screen that says why not is before the person."""
        outcome = self.guarded(lambda: self.work.record(fact))
        if outcome is None:
            return False
        if not outcome.done:
            self.signals.refused()
            self.go("refusal", kind=fact.kind, body=fact_to_plain(fact))
        return outcome.done

    def guarded(self, act: Callable[[], Outcome]) -> Outcome | None:
        """Run an act on the journal; when the journal cannot do it, show its words and answer None."""
        try:
            return act()
        except JournalError as fault:
            self.signals.refused()
            self.go("trouble", words=str(fault))
            return None
