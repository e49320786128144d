"""The forms by which a sheet grows. Each makes a partial sheet; ids come from the names that are typed."""

from __future__ import annotations

from typing import Any, ClassVar

from checklists import places
from checklists.naming import unique_id, unique_ids
from checklists.sheet import (
    LINE_KINDS,
    WAYS,
    Caution,
    Closure,
    Fastener,
    Line,
    Opening,
    Part,
    Passage,
    Sheet,
    Space,
)
from checklists.sheet_fault import spoken_path
from mobileapp.desk import Desk
from mobileapp.screens.form_parts import Choice, Choices, FormField
from mobileapp.screens.grow_parts import KindRows, ShapeFields, Unfolding, whole
from mobileapp.widgets.text import Small


class GrowForm:
    """The parts of a form, which key of the addition each answers for, and the addition."""

    noun: ClassVar[str]
    article: ClassVar[str] = "a"
    shape: ClassVar[str] = "more"

    def __init__(self, desk: Desk, closure: str) -> None:
        self.desk, self.closure = desk, closure
        self.sheet: Sheet = desk.state.sheet
        self.parts: list[Any] = []
        self.answers: dict[str, Any] = {}
        self.ask()

    def ask(self) -> None:
        """Make the parts."""
        raise NotImplementedError

    def part(self) -> Sheet:
        """The addition, as typed so far."""
        raise NotImplementedError

    def own_faults(self) -> dict[str, str]:
        """What the form itself finds lacking, by the key of the addition; in plainer words than the rules' own."""
        return {}

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """What the sheet holds of this already, by name."""
        raise NotImplementedError

    def say_faults(self, faults: dict[str, str]) -> tuple[Any, list[str]]:
        """Put each fault beside the field it is about. The first such field, and the faults that have none."""
        for field in self.answers.values():
            field.say_fault("")
        first, left = None, []
        for path, message in faults.items():
            field = self._answers(path)
            if field is None:
                left.append(f"{spoken_path(path)}: {message}")
            else:
                field.say_fault(message[:1].upper() + message[1:])
                first = first or field
        return first, left

    def _answers(self, path: str) -> Any:
        fits = [key for key in self.answers if path.startswith(key)]
        return self.answers[max(fits, key=len)] if fits else None

    def _field(self, key: str, path: str, label: str, **kwargs: Any) -> FormField:
        field = FormField(self.desk, key, label, **kwargs)
        self.answers[path] = field
        self.parts.append(field)
        return field

    def _choices(self, key: str, path: str, title: str, choices: list[Choice], **kwargs: Any) -> Choices:
        made = Choices(self.desk, key, title, choices, **kwargs)
        self.answers[path] = made
        self.parts.append(made)
        return made

    def _id(self, name: str, taken: Any, otherwise: str) -> str:
        return unique_id(name, {known.id for known in taken}, otherwise)


_NOTHING = "nothing"


class ClosureForm(GrowForm):
    """A closure with its fasteners and parts."""

    noun, shape = "closure", "fitted"

    def ask(self) -> None:
        """Name, fasteners, parts, torque, what it lies over, second count."""
        self.name = self._field("name", "closure[0]", "Name of the closure", hint="Rocker cover")
        self.fasteners = KindRows(self.desk, "fastener", "Fasteners", "Specification", "M6 x 25 bolt")
        self.kinds = KindRows(self.desk, "part", "Parts that come off with it", "Part", "Gasket")
        nothing = Choice(_NOTHING, "Held by nothing that is counted")
        self.held_by = Choices(self.desk, "held by", "", [nothing], several=True)
        self.parts += [self.fasteners, self.held_by, self.kinds]
        self.answers.update({"closure[0].fastener": self.fasteners, "closure[0].part": self.kinds})
        self.torque = self._field(
            "torque", "closure[0].torque", "Torque, the maker's figure (may be left empty)", hint="10 N.m"
        )
        below = [Choice(c.id, c.name) for c in self.sheet.closures]
        self.below = Choices(self.desk, "below", "It lies over", below, several=True)
        if below:
            self.answers["closure[0].lies_over"] = self.below
            self.parts.append(self.below)
        self.desk.draft.setdefault("second", "yes")
        self.second = self._choices(
            "second",
            "closure[0].second_count",
            "Second count before it goes back",
            [
                Choice("yes", "Second count", "by another person; alone, a re-inspection after a pause"),
                Choice("no", "No second count"),
            ],
        )

    def own_faults(self) -> dict[str, str]:
        """What holds it is counted, or somebody says that nothing does."""
        if self.fasteners.rows() or self.held_by.values:
            return {}
        return {"closure[0].fastener": "Say what holds it, or choose: held by nothing that is counted."}

    def part(self) -> Sheet:
        """One closure."""
        fasteners, kinds = self.fasteners.rows(), self.kinds.rows()
        ids = unique_ids([name for name, _ in fasteners + kinds])
        made = [Fastener(made_id, name, n) for made_id, (name, n) in zip(ids, fasteners, strict=False)]
        parts = [
            Part(made_id, name, n) for made_id, (name, n) in zip(ids[len(fasteners) :], kinds, strict=True)
        ]
        closure = Closure(
            self._id(self.name.text, self.sheet.closures, "closure"),
            self.name.text,
            tuple(made),
            tuple(parts),
            self.torque.text,
            tuple(self.below.values),
            self.second.value != "no",
        )
        return Sheet("", "", closures=(closure,))

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """Closures by name."""
        return [closure.name for closure in sheet.closures]


_NEW = "+new"


class OpeningForm(GrowForm):
    """An opening, with the space behind it when that is new too."""

    noun, article, shape = "opening", "an", "uncovered"

    def ask(self) -> None:
        """Name, closure, space, clear size, cover."""
        self.name = self._field("name", "opening[0]", "Name of the opening", hint="Inlet port 1")
        if self.closure or len(self.sheet.closures) == 1:
            self.desk.draft.setdefault("closure", self.closure or self.sheet.closures[0].id)
        self.sealed = self._choices(
            "closure", "opening[0].closure", "Sealed by", [Choice(c.id, c.name) for c in self.sheet.closures]
        )
        self._ask_space()
        self.clear = ShapeFields(self.desk)
        self.answers["opening[0].clear"] = self.clear
        self.parts.append(self.clear)
        self.cover = self._field(
            "cover", "opening[0].cover", "How it is covered", hint="port cap, or a rag"
        )

    def own_faults(self) -> dict[str, str]:
        """It is asked for in words, not by an id that nobody typed."""
        return {} if self.sealed.value else {"opening[0].closure": "Choose what seals it."}

    def _ask_space(self) -> None:
        spaces = [Choice(s.id, s.name) for s in self.sheet.spaces]
        if not spaces:
            self.desk.draft.setdefault("space", _NEW)
        self.space = self._choices(
            "space",
            "opening[0].space",
            "Leads into",
            [*spaces, Choice(_NEW, "A new space")],
            changed=self._unfold,
        )
        self.space_name = FormField(self.desk, "space name", "Name of the space", hint="Inlet port 1")
        self.harm = FormField(
            self.desk, "harm", "What a stray item does there", hint="breaks valve, piston"
        )
        self.answers.update({"space[0]": self.space_name, "space[0].harm": self.harm})
        self.new_space = Unfolding(self.space)
        self.parts[-1] = self.new_space
        self._unfold()

    def _unfold(self) -> None:
        self.new_space.unfold(*((self.space_name, self.harm) if self.space.value == _NEW else ()))

    def part(self) -> Sheet:
        """One opening, and its space where that is new."""
        spaces: tuple[Space, ...] = ()
        space = self.space.value
        if space == _NEW:
            space = self._id(self.space_name.text, self.sheet.spaces, "space")
            spaces = (Space(space, self.space_name.text, self.harm.text),)
        opening = Opening(
            self._id(self.name.text, self.sheet.openings, "opening"),
            self.name.text,
            space,
            self.clear.value(),
            self.sealed.value,
            self.cover.text,
        )
        return Sheet("", "", spaces=spaces, openings=(opening,))

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """Openings by name."""
        return [opening.name for opening in sheet.openings]


class SpaceForm(GrowForm):
    """A space further in, which no opening leads into directly."""

    noun, shape = "space", "engine"

    def ask(self) -> None:
        """Name and harm."""
        self.name = self._field("name", "space[0]", "Name of the space", hint="Cylinder 1")
        self.harm = self._field(
            "harm", "space[0].harm", "What a stray item does there", hint="breaks valve, piston"
        )

    def part(self) -> Sheet:
        """One space."""
        made = self._id(self.name.text, self.sheet.spaces, "space")
        return Sheet("", "", spaces=(Space(made, self.name.text, self.harm.text),))

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """Spaces by name."""
        return [space.name for space in sheet.spaces]


class PassageForm(GrowForm):
    """A one-way inner way from one space to another."""

    noun, article, shape = "inner passage", "an", "go"

    def ask(self) -> None:
        """From, to, how an item gets along, and the clear size where it is known."""
        spaces = [Choice(s.id, s.name) for s in self.sheet.spaces]
        if len(spaces) < 2:
            self.parts.append(Small(text="A passage joins two spaces: add the spaces first."))
        self.source = self._choices("from", "passage[0].from", "From", spaces)
        self.target = self._choices("to", "passage[0].to", "To", spaces)
        self.answers["passage[0]"] = self.target
        self.way = self._choices(
            "way", "passage[0].way", "A stray item", [Choice(way, f"{way} through") for way in WAYS]
        )
        self.clear = ShapeFields(self.desk, unknown=True)
        self.answers["passage[0].clear"] = self.clear
        self.parts.append(self.clear)

    def part(self) -> Sheet:
        """One passage."""
        clear = self.clear.value() if self.clear.is_known() else None
        return Sheet("", "", passages=(Passage(self.source.value, self.target.value, clear, self.way.value),))

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """Passages by their ends."""
        names = {space.id: space.name for space in sheet.spaces}
        return [f"{names[p.source]} to {names[p.target]}" for p in sheet.passages]


class LineForm(GrowForm):
    """Rags, covers, tools, own things, consumables: what must come home."""

    noun, shape = "line", "out"

    def ask(self) -> None:
        """Name, kind, quantity."""
        self.name = self._field("name", "line[0]", "Name of one", hint="Port cap")
        self.quantity = self._field("quantity", "line[0].quantity", "How many", hint="4", figures=True)
        self.kind = self._choices(
            "kind", "line[0].kind", "Kind", [Choice(kind, kind.capitalize()) for kind in LINE_KINDS]
        )

    def part(self) -> Sheet:
        """One line."""
        made = self._id(self.name.text, self.desk.state.lines.values(), "item")
        line = Line(made, self.name.text, self.kind.value, whole(self.quantity.text), places.STORES)
        return Sheet("", "", items=(line,))

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """Lines by name."""
        return [item.name for item in sheet.items]


class CautionForm(GrowForm):
    """A hazard to be read and acknowledged."""

    noun, shape = "caution", "look"

    def ask(self) -> None:
        """The words."""
        self.text = self._field(
            "text", "caution[0]", "The caution", hint="Springs under load"
        )

    def part(self) -> Sheet:
        """One caution."""
        made = self._id(self.text.text, self.sheet.cautions, "caution")
        return Sheet("", "", cautions=(Caution(made, self.text.text),))

    @staticmethod
    def held(sheet: Sheet) -> list[str]:
        """Cautions."""
        return [caution.text for caution in sheet.cautions]


FORMS: dict[str, type[GrowForm]] = {
    "closure": ClosureForm, "opening": OpeningForm, "line": LineForm, "space": SpaceForm, "passage": PassageForm,
    "caution": CautionForm,
}  # fmt: skip
