"""The fields for a mass worked out from dimensions: shape, sizes, material; with the key that fills the mass in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checklists.words import sentence
from checklists.workshop.expected_mass import MATERIALS, SHAPES, Faults, WorkedOut, work_out
from checklists.workshop.units import NotUnderstood
from mobileapp.desk import Desk
from mobileapp.screens.aside import in_steps
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stack, key_row, remember
from mobileapp.screens.workshop_parts import OfferedField, sentences
from mobileapp.widgets.text import Heading

OTHER, FASTENER = "another material", "fastener"
_HINTS = {"size 1": "12.0 mm", "size 2": "8.0 mm", "size 3": "4.0 mm"}


class SizeFields(Stack):
    """Asks what the mass is worked out from. `filled` is called with the answer, to put it where the mass is typed."""

    def __init__(self, desk: Desk, filled: Callable[[WorkedOut], None]) -> None:
        super().__init__()
        self.desk, self._filled = desk, filled
        self.sizes, self.density, self.said, self.made_of = Stack(), Stack(), Stack(), Stack()
        self.material: Choices | None = None
        self.fields: dict[str, FormField] = {}
        # One part a frame: together they are more than a frame of a slow phone has time for.
        in_steps([self._add_shape, self._lay_sizes, self._add_material, self._lay_density, self._add_key], at_once=1)

    def _add_shape(self) -> None:
        shapes = [Choice(shape.name, sentence(shape.name), ", ".join(shape.sizes)) for shape in SHAPES.values()]
        shapes.append(Choice(FASTENER, "Steel fastener", "by its specification"))
        self.shape = Choices(self.desk, "shape", "Its shape", shapes, self._lay_sizes)
        for part in (Heading(text="Dimensions"), self.shape, self.sizes):
            self.add_widget(part)

    def _add_material(self) -> None:
        materials = [Choice(m.name, sentence(m.name), f"{m.density} ± {m.within}") for m in MATERIALS.values()]
        materials.append(Choice(OTHER, sentence(OTHER), "type its density"))
        self.material = Choices(self.desk, "material", "Its material", materials, self._lay_density)
        self.add_widget(self.made_of)
        self._lay_material()

    def _add_key(self) -> None:
        self.add_widget(key_row("Work the mass out", self.fill, "it is put into the fields below", "go"))
        self.add_widget(self.said)

    def _field(self, name: str, label: str, hint: str) -> FormField:
        self.fields[name] = FormField(self.desk, name, label, self._stale, hint=hint)
        return self.fields[name]

    def _lay_sizes(self) -> None:
        """The sizes that the chosen shape has."""
        self.sizes.clear_widgets()
        self._drop_fields("size")
        if self.shape.value == FASTENER:
            self.fields["size spec"] = OfferedField(self.desk, "size spec", "Fastener", self._stale, hint="M8x60 8.8")
            self.sizes.add_widget(self.fields["size spec"])
        if shape := SHAPES.get(self.shape.value):
            for n, size in enumerate(shape.sizes, 1):
                name = f"size {n}"
                self.sizes.add_widget(self._field(name, sentence(size), _HINTS[name]))
            off = "How far a reading can be off (empty: its last place)"
            self.sizes.add_widget(self._field("size within", off, "0.1 mm"))
        self._lay_material()
        self._stale()

    def _lay_material(self) -> None:
        """Material and density, unless a fastener is chosen: it is of steel."""
        if self.material is None:
            return
        wanted = [] if self.shape.value == FASTENER else [self.material, self.density]
        if self.made_of.children[::-1] != wanted:
            self.made_of.clear_widgets()
            for part in wanted:
                self.made_of.add_widget(part)

    def _lay_density(self) -> None:
        """The density, where no known material is chosen."""
        self.density.clear_widgets()
        self._drop_fields("density")
        if self.material is not None and self.material.value == OTHER:
            self.density.add_widget(self._field("density", "Its density", "7.85 g/cm3"))
            off = "How far that can be off (empty: its last place)"
            self.density.add_widget(self._field("density within", off, "0.05 g/cm3"))
        self._stale()

    def _drop_fields(self, kind: str) -> None:
        for name in [name for name in self.fields if name.startswith(kind)]:
            del self.fields[name]

    def _stale(self) -> None:
        self.said.clear_widgets()

    def _text(self, name: str) -> str:
        return self.fields[name].text if name in self.fields else ""

    def _work_out(self) -> WorkedOut | Faults:
        if self.shape.value == FASTENER:
            return self._by_tables()
        made_of = self.material.value if self.material is not None else ""
        shape, material = SHAPES.get(self.shape.value), MATERIALS.get(made_of)
        if shape is None:
            return {"shape": "Choose the shape first."}
        if not made_of:
            return {"material": "Choose the material first."}
        sizes = [self._text(f"size {n}") for n in range(1, len(shape.sizes) + 1)]
        typed = self._text("density"), self._text("density within")
        dense = (material.density, material.within) if material else typed
        return work_out(shape, sizes, self._text("size within"), *dense)

    def _by_tables(self) -> WorkedOut | Faults:
        from checklists.workshop.mass_of_spec import work_out_spec
        from mobileapp.tables import fastener_tables

        found = work_out_spec(self._text("size spec"), fastener_tables())
        return {"size spec": found.words} if isinstance(found, NotUnderstood) else found

    def fill(self) -> None:
        """Work the mass out and hand it over; or say at each field what cannot be read."""
        found = self._work_out()
        faults = found if isinstance(found, dict) else {}
        parts: dict[str, Any] = {"shape": self.shape, "material": self.material, **self.fields}
        for name, part in [each for each in parts.items() if each[1] is not None]:
            said = faults.get(name, "")
            if isinstance(part, OfferedField):
                part.say_faults((said,) if said else ())
            else:
                part.say_fault(said)
        if isinstance(found, WorkedOut):
            remember(self.desk, "worked out", [found.mass, found.density, found.given])
            self._filled(found)
            self.said.clear_widgets()
            self.said.add_widget(sentences(found.words))


def on_record(desk: Desk, mass: str) -> tuple[str, str]:
    """The density, and what the mass was worked out from; nothing where another mass was typed since."""
    filled, density, given = desk.draft.get("worked out") or ("", "", "")
    return (str(density), str(given)) if filled and filled == mass else ("", "")
