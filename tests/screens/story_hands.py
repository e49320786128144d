"""Two people with one phone, who do everything by taps and typing; each screen they see must keep the running tally."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from screens import touch
from screens.at_the_desk import Phone
from screens.at_work import AtWork

from checklists.facts import Entry, Photographed, SecondCounted, TookOver, moves_of
from checklists.reasons import Reason
from checklists.state import tally
from checklists.times import seconds_after
from mobileapp.desk import Desk
from mobileapp.device.signals import SilentSignals
from mobileapp.journal.store import Journal, open_journal
from mobileapp.photos.store import PhotoStore, beside
from mobileapp.shell import Shell
from mobileapp.widgets.count_pad import TapArea
from mobileapp.widgets.field import Field
from mobileapp.widgets.row import ReasonRow
from mobileapp.widgets.running_tally import RunningTally, TallyCell
from mobileapp.widgets.tappable import Tappable

INES, TOMAS = "Ines Vardal", "Tomas Reke"
PIPE, MANIFOLD, INLET = "Coolant crossover", "Inlet manifold", "inlet-manifold"
PORTS = [f"Inlet port {number} at the head" for number in (1, 2, 3, 4)]
OUTLET, RETURN = "Coolant outlet at the front of the head", "Coolant return at the back of the head"
#: Frames after a tap, and how many more until a new screen is laid out to its end: the board builds on for longer.
FRAMES, MORE_FRAMES, BOARD_FRAMES = 1, 2, 4


class StoryPhone(AtWork):
    """A phone that is switched on with nothing started. Nothing but fingers reaches its journal."""

    def __init__(self, folder: Path, now: str) -> None:
        self.left: list[tuple[Journal, PhotoStore]] = []
        self.seen: set[str] = set()
        self.shots = 0
        self.kills = 0
        (folder / "camera").mkdir()
        Phone.__init__(self, folder, now)
        self.show()
        self._looks_about()

    def _switch_on(self) -> tuple[Desk, Shell]:
        from kivy.clock import Clock

        journal = open_journal(self.folder / "journal.sqlite", clock=lambda: self.now, make_id=self._id)
        photos = PhotoStore(beside(journal.path), lambda act: Clock.schedule_once(lambda _: act()))
        self.left.append((journal, photos))
        folders = [str(self.folder / "camera")]
        desk = Desk(journal, lambda: self.now, self._id, SilentSignals(), folders, lambda: photos)
        return desk, Shell(desk)

    def killed(self) -> None:
        """The app is killed where it stands, its journal left open, and started anew from what is on the storage."""
        before = self._stands()
        self.kills += 1
        self.screen.leave()  # a dead app ticks no more
        touch.clear()
        self.desk, self.shell = self._switch_on()
        self.show()
        assert self._stands() == before
        self._looks_about()

    def _stands(self) -> tuple[Any, ...]:
        """Where the person is, what is shown and typed there, who holds the phone, what is on record."""
        desk = self.desk
        typed = [field.text for field in touch.find_all(self.screen, cls=Field)]
        held = (desk.who, len(self.entries), dict(desk.state.balances)) if desk.service else ()
        return desk.trail, self.texts(), typed, held

    def switched_off(self) -> None:
        """Let go of every journal and store, those of the killed apps too."""
        self.screen.leave()
        for journal, photos in self.left:
            photos.close()
            journal.close()

    def passes(self, minutes: float) -> None:
        """Time goes by."""
        self.now = seconds_after(self.now, 60 * minutes)

    # --- the eye

    def _looks_about(self) -> None:
        """Whatever screen is there: the running tally stands on it, in sight, with the figures of now."""
        self.seen.add(self.name)
        if self.desk.service is None:
            return
        strip = touch.find(self.screen, cls=RunningTally)
        assert touch.in_view(strip), f"the tally is out of sight on {self.name}"
        cells = touch.find_all(strip, cls=TallyCell)
        shown = {cell.word: cell.count for cell in cells}
        now = tally(self.desk.state)
        assert list(shown.values()) == [now.out, now.in_engine, now.missing], f"{shown} on {self.name}, not {now}"
        figures = [text for cell in cells for text in touch.texts(cell) if text.isdigit()]
        blind = self.screen.veiled
        assert figures == ([] if blind else [str(number) for number in now]), f"{figures} on {self.name}"

    def reads(self, *words: str) -> None:
        """These words are on the screen."""
        for word in words:
            assert self.says(word), f"nothing says {word!r} on {self.name}: {self.texts()}"

    # --- the fingers

    def touches(self, part: Any) -> None:
        """One tap, and what it led to is looked at."""
        self.now = seconds_after(self.now, 1)
        before = self.screen
        touch.tap(part, FRAMES)
        if self.screen is not before:
            touch.settle(BOARD_FRAMES if self.name == "board" else MORE_FRAMES)
        self._looks_about()

    def key(self, text: str = "", has: str = "") -> Any:
        """The first part that can be tapped now and bears these words."""
        for part in touch.find_all(self.screen, text, has):
            while not isinstance(part, Tappable) and part is not self.shell:
                part = part.parent
            if isinstance(part, Tappable) and not part.disabled:
                return part
        raise AssertionError(f"no key {text or has!r} on {self.name}: {self.texts()}")

    def tap(self, *texts: str, has: str = "") -> None:
        """Tap keys one after another, each by all its words; or one by some of them."""
        for text in texts:
            self.touches(self.key(text))
        if has:
            self.touches(self.key(has=has))

    def act(self, words: str = "") -> None:
        """Tap the large key; it must say these words."""
        key = self.screen.ids.act
        assert words in key.text, f"the large key says {key.text!r}, not {words!r}, on {self.name}"
        assert not key.disabled, f"{key.text!r} is not ready: {key.note}"
        self.touches(key)

    def back(self, times: int = 1) -> None:
        """Tap the way back."""
        for _ in range(times):
            self.touches(next(w for w in touch.visible(self.screen) if getattr(w, "shape", "") == "leave"))

    def to_board(self) -> None:
        """Back, and back again, until the board is there."""
        while self.name != "board":
            self.back()

    def way(self, *texts: str) -> None:
        """From the board along these keys."""
        self.to_board()
        self.tap(*texts)

    def counts(self, times: int = 1) -> None:
        """Tap the pad, once for each item."""
        for _ in range(times):
            self.touches(touch.find(self.screen, cls=TapArea))

    def takes_photo(self, label: str) -> None:
        """Take a photo with the phone's camera, then choose it: it is the newest. Waits until it is kept."""
        from PIL import Image

        for earlier in (self.folder / "camera").iterdir():
            earlier.unlink()  # those that are kept are not needed there any more
        self.shots += 1
        name = f"IMG_{self.shots:04}.jpg"
        shade = (40 + 5 * self.shots, 90, 80)
        Image.new("RGB", (64, 48), shade).save(self.folder / "camera" / name)
        self.tap(label)
        self.tap(has=name)
        self.left[-1][1].close()
        touch.settle(FRAMES + MORE_FRAMES)
        self._looks_about()
        self.reads(f"{name}, kept")

    def signs_as(self, name: str) -> None:
        """Touch the name, and write it with the finger."""
        self.tap(name)
        self.signs()
        self._looks_about()

    def hand_to(self, name: str) -> None:
        """The phone changes hands."""
        self.way("People")
        self.tap(name)
        self.reads("holds the phone")
        self.back()
        assert self.desk.who == name

    # --- the refusal

    def refused(self, codes: Sequence[str], reasons: Sequence[Reason]) -> None:
        """The screen says NO, with every one of these reasons as a row of its own."""
        assert "NO" in self.texts(), self.texts()
        assert [reason.code for reason in reasons] == list(codes)
        rows = touch.find_all(self.screen, cls=ReasonRow)
        assert sorted(row.what for row in rows) == sorted(reason.words for reason in reasons)

    def mends(self, words: str) -> None:
        """Tap the reason with these words: it leads to where it is put right."""
        rows = [row for row in touch.find_all(self.screen, cls=ReasonRow) if words in row.what]
        assert rows, f"no reason with {words!r}: {self.texts()}"
        self.touches(rows[0])


# --- two journals compared


def told(entries: Sequence[Entry], same: dict[str, str]) -> list[tuple[Any, ...]]:
    """What was done, by whom and in which order, without what only one telling has: ids, photos, wording.

    `same` gives lines of the one journal the name they have in the other.
    """
    return [_told(entry, same) for entry in entries if not isinstance(entry.fact, Photographed)]


_TOLD_OF = ("machine", "people", "caution", "closure", "opening", "where", "clear", "torque", "near", "kept",
            "alone", "to")  # fmt: skip


def _told(entry: Entry, same: dict[str, str]) -> tuple[Any, ...]:
    fact = entry.fact
    about = [getattr(fact, name) for name in _TOLD_OF if hasattr(fact, name)]
    moves = sorted((same.get(m.line, m.line), m.quantity, m.source, m.target) for m in moves_of(fact))
    seen: list[Any] = []
    if isinstance(fact, SecondCounted | TookOver):
        seen = sorted((same.get(s.line, s.line), s.place, s.quantity) for s in fact.entries)
    return (entry.who, fact.kind, *about, *moves, *seen)
