"""The torque used, asked for at sign-off: what is far from the sheet's figure is asked about, never refused."""

from __future__ import annotations

from checklists.torque_words import is_figure
from checklists.workshop.torque import FROM_FRICTION, SAME, WINS, figures_apart
from checklists.workshop.torque_figure import read_torque
from mobileapp import look, workshop
from mobileapp.desk import Desk
from mobileapp.screens.form_parts import Changed, FormField, Stack, key_row, remember
from mobileapp.widgets.plate import Plate, QuietButton

#: True of most threads; beside a doubt it only makes the words longer.
_CLASS = "The class is not said"
_AGREED = "torque all the same"


class TorqueUsed(Stack):
    """The sheet's figure, the field, and below it what is doubtful with a key that says it is meant."""

    def __init__(self, desk: Desk, closure: str, changed: Changed) -> None:
        self._desk, self._closure, self._changed = desk, closure, changed
        self._sheet = desk.state.closures[closure].torque
        self._below: list[Plate | QuietButton] = []
        self._doubts: tuple[str, ...] = ()
        self._field = FormField(desk, "torque", "Torque used", self._typed, hint=self._sheet)
        sheet = Plate(
            tone="bone", shape="look", text=f"Sheet: {self._sheet}", note="The maker's figure wins.", glyph_mm=6
        )
        super().__init__(sheet, self._field, key_row(f"I used {self._sheet}", self._as_on_sheet, shape="chosen"))
        self._show_doubts()

    @property
    def text(self) -> str:
        """The torque as typed."""
        return self._field.text

    def lacking(self) -> str:
        """What is still to be said; empty when the figure stands."""
        if not self.text:
            return "First: the torque used"
        if not self._readable():
            return "First: the torque with its unit"
        return "" if not self._doubts or self._agreed() else "First: look at the torque again"

    def _as_on_sheet(self) -> None:
        self._field.text = self._sheet

    def _readable(self) -> bool:
        """A figure with a unit is asked for only where the sheet gives one."""
        return is_figure(self.text) or not is_figure(self._sheet)

    def _agreed(self) -> bool:
        return bool(self._desk.draft.get(_AGREED) == self.text)

    def _typed(self) -> None:
        self._show_doubts()
        self._changed()

    def _find_doubts(self) -> tuple[str, ...]:
        if not self.text or not is_figure(self._sheet):
            return ()
        if self.text == self._sheet:
            return figures_apart(read_torque(self.text))
        said = workshop.torque_words(self._desk.state, self._closure, self.text)
        words = [words for words in said.words if words != WINS and not words.startswith(_CLASS)]
        return tuple(w for w in words if not w.endswith((FROM_FRICTION, SAME))) if said.second_look else ()

    def _show_doubts(self) -> None:
        self._doubts = self._find_doubts()
        self.clear_widgets(self._below)
        self._below = []
        if self._doubts:
            self._below.append(Plate(tone="yellow", shape="look", text="\n".join(self._doubts), glyph_mm=6,
                                     text_size_sp=look.BODY))  # fmt: skip
        if self._doubts and self._readable():
            shape = "chosen" if self._agreed() else "unchosen"
            self._below.append(key_row(f"Use {self.text} all the same", self._agree, shape=shape))
        for part in self._below:
            self.add_widget(part)

    def _agree(self) -> None:
        remember(self._desk, _AGREED, "" if self._agreed() else self.text)
        self._typed()
