"""Parts of the forms by which a sheet grows: rows of kinds with a number, a clear shape, fields that unfold."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any

from checklists.sheet import SHAPES, Shape
from mobileapp.desk import Desk
from mobileapp.screens.form_parts import Choice, Choices, Faulty, FormField, Stack, key_row, remember
from mobileapp.widgets.text import Heading

_MOST_FIGURES = 9
_UNKNOWN = "unknown"


def whole(text: str) -> int:
    """The whole number typed; 0 where none was."""
    digits = text.strip()
    return int(digits) if digits.isascii() and digits.isdigit() and len(digits) <= _MOST_FIGURES else 0


def size(text: str) -> Decimal:
    """The size typed, with a decimal point or comma; not a number where it is none."""
    try:
        return Decimal(text.strip().replace(",", ".")) if text.strip() else Decimal("NaN")
    except InvalidOperation:
        return Decimal("NaN")


class Unfolding(Stack):
    """A part, and below it others that are there only when they are asked for."""

    def __init__(self, head: Any) -> None:
        super().__init__(head)
        self._below: tuple[Any, ...] = ()

    def unfold(self, *parts: Any) -> None:
        """Show these below the first, and put the others away with what was typed in them."""
        self.clear_widgets(self._below)
        self._below = parts
        for part in parts:
            self.add_widget(part)


class KindRows(Faulty):
    """Several kinds, each with how many of it. Rows left empty do not count."""

    def __init__(self, desk: Desk, key: str, title: str, label: str, hint: str) -> None:
        self._desk, self._key, self._label, self._hint = desk, key, label, hint
        self._fields: list[tuple[FormField, FormField]] = []
        self._rows = Stack()
        more = key_row(f"One more kind of {key}", self._one_more, shape="more")
        super().__init__(Stack(Heading(text=title), self._rows, more))
        for _ in range(int(desk.draft.get(f"{key} rows", 1))):
            self._add_row()

    def _one_more(self) -> None:
        self._add_row()
        remember(self._desk, f"{self._key} rows", len(self._fields))

    def _add_row(self) -> None:
        number = len(self._fields)
        name = FormField(self._desk, f"{self._key} {number}", self._label, hint=self._hint)
        count = FormField(self._desk, f"{self._key} {number} count", "How many", hint="10", figures=True)
        self._fields.append((name, count))
        self._rows.add_widget(name)
        self._rows.add_widget(count)

    def rows(self) -> list[tuple[str, int]]:
        """Name and number of every row in which something is typed."""
        return [(name.text, whole(count.text)) for name, count in self._fields if name.text or count.text]


class ShapeFields(Faulty):
    """A clear shape and its sizes in mm; with `unknown`, the size may be left unknown."""

    def __init__(self, desk: Desk, unknown: bool = False) -> None:
        shapes = [shape for shape in SHAPES if not unknown or SHAPES[shape]]
        choices = [Choice(shape, shape.capitalize(), "" if SHAPES[shape] else "size not known") for shape in shapes]
        if unknown:
            choices.insert(0, Choice(_UNKNOWN, "Size not known"))
        desk.draft.setdefault("shape", choices[0].value)
        self._kind = Choices(desk, "shape", "Clear shape", choices, self._unfold)
        self._long = FormField(desk, "mm 0", "Diameter or long way, mm", hint="42")
        self._short = FormField(desk, "mm 1", "Short way, mm", hint="34.5")
        self._sizes = Unfolding(self._kind)
        super().__init__(self._sizes)
        self._unfold()

    def is_known(self) -> bool:
        """Whether a shape was given."""
        return self._kind.value != _UNKNOWN

    def value(self) -> Shape:
        """The shape as typed."""
        sizes = [size(self._long.text), size(self._short.text)]
        return Shape(self._kind.value, tuple(sizes[: SHAPES.get(self._kind.value, 1)]))

    def _unfold(self) -> None:
        wanted = SHAPES.get(self._kind.value, 0)
        self._long.field.label = "Diameter, mm" if wanted == 1 else "Long way, mm"
        self._sizes.unfold(*(self._long, self._short)[:wanted])
