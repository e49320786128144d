"""The parts of a form: fields and choices that remember themselves in the draft, a stepper, faults beside a field."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from kivy.metrics import mm
from kivy.uix.boxlayout import BoxLayout

from mobileapp import look
from mobileapp.desk import Desk
from mobileapp.screens.draft_field import DraftField
from mobileapp.widgets.plate import Plate, QuietButton
from mobileapp.widgets.row import ChoiceRow
from mobileapp.widgets.text import Figure, Small, Words

Changed = Callable[[], None]
#: A list is shown in pieces of at most this many.
CHUNK = 9


class Choice(NamedTuple):
    """One value to choose, how it is called, and what is said below it."""

    value: str
    text: str
    note: str = ""


class Stack(BoxLayout):
    """Parts one below the other, as high as they need."""

    def __init__(self, *parts: Any, gap_mm: float = look.GAP_MM, **kwargs: Any) -> None:
        super().__init__(orientation="vertical", size_hint_y=None, spacing=mm(gap_mm), **kwargs)
        self.bind(minimum_height=self.setter("height"))
        for part in parts:
            self.add_widget(part)


class Faulty(Stack):
    """A part with room below it for what is wrong with it."""

    def __init__(self, *parts: Any) -> None:
        super().__init__(*parts, gap_mm=2)
        self._said: Plate | None = None

    def say_fault(self, words: str) -> None:
        """Say what is wrong; empty takes it away."""
        if self._said is not None:
            self.remove_widget(self._said)
            self._said = None
        if words:
            self._said = Plate(tone="yellow", shape="look", text=words, glyph_mm=6, text_size_sp=look.BODY)
            self.add_widget(self._said)


class FormField(Faulty):
    """A field kept in the draft under `key`, with room for its fault."""

    def __init__(
        self, desk: Desk, key: str, label: str, changed: Changed | None = None, **kwargs: Any
    ) -> None:
        self.field = DraftField(desk, key, label=label, **kwargs)
        super().__init__(self.field)
        if changed is not None:
            self.field.bind(text=lambda *_: changed())

    @property
    def text(self) -> str:
        """What is typed, without spaces round it."""
        return str(self.field.text).strip()

    @text.setter
    def text(self, text: str) -> None:
        self.field.text = text


class Choices(Faulty):
    """One of several values, kept in the draft under `key`. More than a screenful comes in pieces."""

    def __init__(
        self,
        desk: Desk,
        key: str,
        title: str,
        choices: Sequence[Choice],
        changed: Changed | None = None,
        several: bool = False,
    ) -> None:
        self._rows = Stack()
        super().__init__(*([Small(text=title)] if title else []), self._rows)
        self._desk, self._key, self._changed, self._several = desk, key, changed, several
        self._choices = list(choices)
        self._show(max(CHUNK, 1 + max(map(self._rank, self._chosen()), default=0)))

    def _chosen(self) -> list[str]:
        chosen = self._desk.draft.get(self._key)
        return list(chosen or []) if self._several else [str(chosen)]

    def _rank(self, value: str) -> int:
        """Where a value stands among the choices; first where it is none of them."""
        return next((at for at, choice in enumerate(self._choices) if choice.value == value), 0)

    @property
    def value(self) -> str:
        """What is chosen, or empty."""
        known = {choice.value for choice in self._choices}
        chosen = self._desk.draft.get(self._key)
        return str(chosen) if chosen in known else ""

    @property
    def values(self) -> list[str]:
        """All that are chosen, where several can be."""
        chosen = self._desk.draft.get(self._key) or []
        return [choice.value for choice in self._choices if choice.value in chosen]

    def choose(self, value: str) -> None:
        """Choose it for the person, who said as much elsewhere."""
        remember(self._desk, self._key, value)
        self._show(max(CHUNK, 1 + self._rank(value)))

    def _show(self, most: int) -> None:
        self._rows.clear_widgets()
        chosen = self._desk.draft.get(self._key)
        for choice in self._choices[:most]:
            self._rows.add_widget(self._row(choice, chosen))
        if (left := len(self._choices) - most) > 0:
            more = QuietButton(text=f"{left} more", shape="more")
            more.bind(on_tap=lambda _: self._show(most + CHUNK))
            self._rows.add_widget(more)

    def _row(self, choice: Choice, chosen: Any) -> ChoiceRow:
        on = choice.value in (chosen or []) if self._several else choice.value == chosen
        row = ChoiceRow(
            text=choice.text, note=choice.note, chosen=on, group="" if self._several else self._key
        )
        row.bind(on_tap=lambda _: self._choose(choice.value))
        return row

    def _choose(self, value: str) -> None:
        if self._several:
            chosen = self.values
            now: Any = [v for v in chosen if v != value] if value in chosen else [*chosen, value]
        else:
            now = value
        remember(self._desk, self._key, now)
        if self._changed:
            self._changed()


class Stepper(Stack):
    """A small number set with two keys, kept in the draft under `key`."""

    def __init__(
        self,
        desk: Desk,
        key: str,
        label: str,
        least: int = 1,
        most: int = 999,
        first: int | None = None,
        changed: Changed | None = None,
    ) -> None:
        super().__init__(gap_mm=1.5)
        self._desk, self._key, self._least, self._most, self._changed = desk, key, least, most, changed
        self._first = least if first is None else first
        self.fewer, self.more = _step_key("−"), _step_key("+")
        self.figure = Figure(halign="right", size_hint_x=0.35, pos_hint={"center_y": 0.5})
        self.fewer.bind(on_tap=lambda _: self._step(-1))
        self.more.bind(on_tap=lambda _: self._step(1))
        self.add_widget(side_by_side(Small(text=label, pos_hint={"center_y": 0.5}), self.figure))
        self.add_widget(side_by_side(self.fewer, self.more))
        self._say()

    @property
    def number(self) -> int:
        """The number set."""
        return min(self._most, max(self._least, int(self._desk.draft.get(self._key, self._first))))

    def _step(self, by: int) -> None:
        remember(self._desk, self._key, min(self._most, max(self._least, self.number + by)))
        self._say()
        if self._changed:
            self._changed()

    def _say(self) -> None:
        self.figure.text = str(self.number)
        self.fewer.disabled = self.number <= self._least
        self.more.disabled = self.number >= self._most


def side_by_side(*parts: Any) -> BoxLayout:
    """Parts next to each other, as high as the highest."""
    row = BoxLayout(size_hint_y=None, spacing=mm(look.GAP_MM))
    row.bind(minimum_height=row.setter("height"))
    for part in parts:
        row.add_widget(part)
    return row


def _step_key(sign: str) -> QuietButton:
    return QuietButton(text=sign, upright=True, text_size_sp=look.FIGURE, most=look.FIGURE_MOST)


def remember(desk: Desk, key: str, value: Any) -> None:
    """Keep one thing typed or chosen, so that a killed app comes back to it."""
    desk.draft[key] = value
    desk.keep()


def key_row(
    text: str, tapped: Callable[[], None], note: str = "", shape: str = "go", tone: str = "steel"
) -> QuietButton:
    """A large row that leads somewhere or does something."""
    row = QuietButton(text=text, note=note, shape=shape, tone=tone)
    row.bind(on_tap=lambda _: tapped())
    return row


def facts(title: str, lines: Sequence[str], ink: Any = look.PALE) -> Stack:
    """A few sentences of values under the sentence they stand for."""
    head = [Words(text=title, bold=True)] if title else []
    return Stack(*head, *[Words(text=line, ink=ink) for line in lines], gap_mm=1.5)
