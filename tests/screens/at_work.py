"""A phone in the hand for the screens of forms and refusals: what is typed, read and written down."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kept_photos import photo_first
from screens import touch
from screens.at_the_desk import ADA, JONAS, Hands, Phone

from checklists import builders
from checklists.facts import Entry, Fact, Person
from checklists.next_act import Act, next_act
from checklists.sheet import Sheet
from checklists.state import Teardown
from mobileapp.screens.form_parts import Stepper
from mobileapp.service import TeardownService, start_teardown
from mobileapp.widgets.field import Field
from mobileapp.widgets.row import ChoiceRow
from mobileapp.widgets.signature_pad import SignatureField
from mobileapp.widgets.tappable import Tappable

MANIFOLD = "inlet-manifold"
BOLT, NUT = "inlet-manifold.bolt-m8", "inlet-manifold.nut-m8"


class AtWork(Phone):
    """A started teardown of the inlet manifold; between taps two hands do what is not the story's point."""

    def __init__(self, folder: Path, sheet: Sheet | None = None, people: tuple[Person, ...] = (ADA, JONAS)) -> None:
        super().__init__(folder)
        self.hands = Hands(self)
        if sheet is None:
            self.begin("inlet-manifold-inline-four", "harbour workboat, main engine", people)
        else:
            fact = builders.start(sheet, "harbour workboat, main engine", people, "rough running", "")
            begun = start_teardown(self.journal, self.desk.clock, self._id, fact, people[0].name)
            assert isinstance(begun, TeardownService), begun
            self.desk.take(begun)

    @property
    def state(self) -> Teardown:
        """The state of the teardown in hand."""
        return self.desk.state

    def does(self, fact: Fact, who: str = "") -> None:
        """Record a fact that must pass."""
        for one in photo_first(self.state, fact, self.now):
            self.hands.record(one, who or self.desk.who)

    def works_until(self, do: str, closure: str = "") -> Act:
        """Follow the next act until it is `do` (for `closure`)."""
        while True:
            act = next_act(self.state, self.now)
            if act.do == do and closure in ("", act.closure):
                return act
            assert act.do != "ended", f"ended before {do}"
            self.hands.do(act)

    def shows(self, name: str, **args: Any) -> Any:
        """A screen, reached from the board."""
        self.go(name, **args)
        return self.screen

    def key(self, text: str = "", has: str = "") -> Any:
        """The part that can be tapped and bears these words."""
        part = touch.find(self.shell, text=text, has=has)
        while not isinstance(part, Tappable):
            part = part.parent
            assert part is not self.shell, f"{text or has!r} is on nothing that can be tapped"
        return part

    def fields(self, label: str) -> list[Field]:
        """The fields of that label that are shown."""
        return [w for w in touch.visible(self.screen) if isinstance(w, Field) and w.label == label]

    def types(self, label: str, text: str, nth: int = 0) -> None:
        """Type into the (nth) field of that label, over what stands there."""
        fields = self.fields(label)
        assert len(fields) > nth, f"no field {label!r} ({nth}) on: {self.texts()}"
        touch.tap(fields[nth])
        entry = fields[nth].entry
        assert entry.focus
        entry.select_all()
        entry.delete_selection()
        entry.insert_text(text)
        entry.focus = False
        touch.settle(2)

    def chooses(self, words: str, nth: int = 0) -> None:
        """Tap the (nth) choice of these words."""
        touch.tap(touch.find_all(self.screen, text=words, cls=ChoiceRow)[nth])

    def signs(self, line: Any = touch.NAME) -> None:
        """Write a name into the signature's field."""
        touch.draw(touch.find(self.screen, cls=SignatureField), line)

    def more(self, times: int) -> None:
        """Tap the plus key of the one stepper there is."""
        stepper = touch.find(self.screen, cls=Stepper)
        for _ in range(times):
            touch.tap(stepper.more, frames=3)

    def photo(self, name: str = "inside.png") -> str:
        """A picture in the phone's folder."""
        from PIL import Image

        path = self.folder / name
        Image.new("RGB", (32, 24), (40, 40, 40)).save(path)
        return str(path)

    def takes_photo(self, label: str, name: str = "inside.png") -> None:
        """Fill a photo's place: to the list of photos, name the file, and back."""
        path = self.photo(name)
        self.tap(label)
        self.types("Path of the photo", path)
        self.tap("Use this file")

    @property
    def entries(self) -> list[Entry]:
        """What the journal holds."""
        return list(self.journal.entries(self.desk.work.id))

    @property
    def last(self) -> Fact:
        """The newest fact in the journal."""
        return self.entries[-1].fact
