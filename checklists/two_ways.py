"""What two phones that had not met wrote onto the sheet by one name, but not alike: both ways, until one is chosen.

An opening of 40 mm on one phone and 45 mm on the other is one opening, and one of them is wrong. Which, no rule can
know, so neither is dropped: the first stands for the time being, and nothing closes until somebody says which is right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from checklists.reasons import Reason
from checklists.refusing import PASSED, Reasons, no
from checklists.sheet import Caution, Closure, Line, Opening, Part, Sheet, Space, closure_lines
from checklists.words import within

if TYPE_CHECKING:
    from checklists.facts import SheetSettled
    from checklists.state import Mark, Teardown

Thing = Caution | Space | Opening | Closure | Line
T = TypeVar("T", Caution, Space, Opening, Closure)
#: What can be written in two ways, with how each is called.
KINDS = {"caution": "caution", "space": "space", "opening": "opening", "closure": "closure", "line": "item"}


@dataclass(frozen=True, slots=True)
class TwoWays:
    """One thing of the sheet as one phone wrote it, and as another did."""

    what: str
    first: Thing
    other: Thing
    first_by: Mark
    other_by: Mark

    @property
    def id(self) -> str:
        """By which both phones know it."""
        return self.first.id


# --- two phones meet


def meet(t: Teardown, part: Sheet, mark: Mark) -> Sheet:
    """What a part adds that is not on the sheet yet. What is there in another way is noted in the state.

    A closure that both wrote keeps the fasteners and parts of both.
    """
    for what, known, told in _both(t, part):
        if _alike(known, told) or (what, known.id) in t.two_ways:
            continue
        t.two_ways[what, known.id] = TwoWays(what, known, told, _written(t, what, known.id), mark)
    _widen(t, part)
    cautions = {caution.id for caution in t.sheet.cautions}
    return replace(
        part,
        cautions=tuple(caution for caution in part.cautions if caution.id not in cautions),
        spaces=tuple(space for space in part.spaces if space.id not in t.spaces),
        passages=tuple(passage for passage in part.passages if passage not in t.sheet.passages),
        openings=tuple(opening for opening in part.openings if opening.id not in t.openings),
        closures=tuple(closure for closure in part.closures if closure.id not in t.closures),
        items=tuple(line for line in part.items if line.id not in t.lines),
    )


def _both(t: Teardown, part: Sheet) -> Iterator[tuple[str, Thing, Thing]]:
    cautions = {caution.id: caution for caution in t.sheet.cautions}
    lines = [line for closure in part.closures for line in closure_lines(closure)] + list(part.items)
    groups: tuple[tuple[str, dict[str, Thing], tuple[Thing, ...]], ...] = (
        ("caution", {**cautions}, part.cautions),
        ("space", {**t.spaces}, part.spaces),
        ("opening", {**t.openings}, part.openings),
        ("closure", {**t.closures}, part.closures),
        ("line", {**t.lines}, tuple(lines)),
    )
    for what, known, told in groups:
        for thing in told:
            if thing.id in known:
                yield what, known[thing.id], thing


def differences(t: Teardown, two: TwoWays) -> list[tuple[str, str, str]]:
    """What differs, in words: how it is called, as the first wrote it, as the other did."""
    pairs = zip(_said(two.first, t), _said(two.other, t), differing_fields(two.first), differing_fields(two.other),
                strict=True)  # fmt: skip
    return [(label, first, other) for (label, first), (_, other), one, another in pairs if one != another]


def told(part: Sheet) -> str:
    """What was chosen, in words, for the record."""
    thing = chosen(part)
    if thing is None:
        return "nothing"
    (_, name), *rest = _said(thing)
    said = "; ".join(f"{label} {words}" for label, words in rest)
    return f"{name} ({said})" if said else name


def _said(thing: Thing, t: Teardown | None = None) -> list[tuple[str, str]]:
    return [(label, _in_words(label, value, thing, t)) for label, value in differing_fields(thing)]


def _in_words(label: str, value: object, thing: Thing, t: Teardown | None) -> str:
    if label in ("text", "name", "harm", "cover"):
        return str(getattr(thing, label)) or "not said"
    if t is not None and label == "leads into" and value in t.spaces:
        return t.spaces[str(value)].name
    if t is not None and label == "under" and value in t.closures:
        return t.closures[str(value)].name
    if isinstance(thing, Closure) and label in ("limits", "positions"):
        number = len(thing.limits if label == "limits" else thing.positions)
        return f"{number} of them" if number else "none"
    if isinstance(thing, Closure) and label == "passes":
        return ", ".join(f"{share} %" for share in thing.passes) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value) if value else "not said"


def _alike(one: Thing, other: Thing) -> bool:
    return _compared(one) == _compared(other)


def _compared(thing: Thing) -> tuple[object, ...]:
    """What must be the same. How many of a line there are is the count's affair; what a closure lies over adds up."""
    return tuple(value for _, value in differing_fields(thing))


def differing_fields(thing: Thing) -> list[tuple[str, object]]:
    """The values that two phones can write differently, each with how it is called. Capital letters do not count."""
    if isinstance(thing, Caution):
        return [("text", thing.text.casefold())]
    name: list[tuple[str, object]] = [("name", thing.name.casefold())]
    if isinstance(thing, Space):
        return [*name, ("harm", thing.harm.casefold())]
    if isinstance(thing, Opening):
        return [*name, ("leads into", thing.space), ("clear size", thing.clear), ("under", thing.closure),
                ("cover", thing.cover.casefold())]  # fmt: skip
    if isinstance(thing, Closure):
        return [*name, ("torque", thing.torque), ("second count", thing.second_count), ("limits", thing.limits),
                ("positions", (thing.positions, thing.y_down)), ("passes", thing.passes)]  # fmt: skip
    return [*name, ("kind", thing.kind), ("shape", thing.shape)]


def _widen(t: Teardown, part: Sheet) -> None:
    told = {closure.id: closure for closure in part.closures}
    t.sheet = replace(t.sheet, closures=tuple(_with_both(one, told.get(one.id)) for one in t.sheet.closures))


def _with_both(known: Closure, told: Closure | None) -> Closure:
    if told is None:
        return known
    known_fasteners = {one.id for one in known.fasteners}
    more = tuple(one for one in told.fasteners if one.id not in known_fasteners)
    known_parts = {one.id for one in known.parts}
    parts = (*known.parts, *(one for one in told.parts if one.id not in known_parts))
    if not more:
        return replace(known, parts=parts)
    # A map of positions shows every fastener; one that lacks some would leave them untightened.
    return replace(known, fasteners=(*known.fasteners, *more), parts=parts, positions=(), passes=())


def _written(t: Teardown, what: str, name: str) -> Mark:
    """Who wrote it first: whoever grew the sheet by it, or who started the teardown."""
    from checklists.facts import Grown
    from checklists.state import Mark

    for number, entry in enumerate(t.history, 1):
        if isinstance(entry.fact, Grown) and name in _ids(entry.fact.part, what):
            return Mark(number, entry.at, entry.who)
    return t.started


def _ids(part: Sheet, what: str) -> set[str]:
    if what == "line":
        return {line.id for closure in part.closures for line in closure_lines(closure)} | {i.id for i in part.items}
    groups: dict[str, tuple[Thing, ...]] = {
        "caution": part.cautions, "space": part.spaces, "opening": part.openings, "closure": part.closures
    }  # fmt: skip
    return {thing.id for thing in groups[what]}


# --- which is right


def reasons(t: Teardown) -> Iterator[Reason]:
    """Each thing that stands on the sheet in two ways: nothing closes on either before one is chosen."""
    for two in t.two_ways.values():
        name = two.first.text if isinstance(two.first, Caution) else within(two.first.name)
        yield Reason(
            "written in two ways",
            f"The {KINDS[two.what]} {name} was written down in two ways, by {two.first_by.who} and {two.other_by.who}.",
            "Say which is right.",
            since=two.other_by.at,
            who=two.other_by.who,
            opening=two.id if two.what == "opening" else "",
            closure=two.id if two.what == "closure" else "",
        )


def chosen(part: Sheet) -> Thing | None:
    """The one thing that a settling names; None where it names none, or several."""
    things: list[Thing] = [*part.cautions, *part.spaces, *part.openings, *part.closures, *part.items]
    return things[0] if len(things) == 1 else None


def as_part(two: TwoWays, thing: Thing) -> Sheet:
    """A sheet of that thing alone, for the record."""
    part = Sheet("", "")
    if isinstance(thing, Caution):
        return replace(part, cautions=(thing,))
    if isinstance(thing, Space):
        return replace(part, spaces=(thing,))
    if isinstance(thing, Opening):
        return replace(part, openings=(thing,))
    if isinstance(thing, Closure):
        return replace(part, closures=(replace(thing, fasteners=(), parts=(), lies_over=()),))
    return replace(part, items=(thing,))


def judge_settled(t: Teardown, fact: SheetSettled, at: str, who: str) -> Reasons:
    """Only what stands in two ways, and only as one of them."""
    thing = chosen(fact.part)
    two = t.two_ways.get((fact.what, thing.id)) if thing else None
    if two is None or thing is None:
        return no("not in two ways", "That is not written down in two ways.", "Nothing needs settling there.")
    if not (_alike(thing, two.first) or _alike(thing, two.other)):
        return no("neither way", "That is neither of the two ways.", "Choose one of them; then change the sheet.")
    return PASSED


def settle(t: Teardown, fact: SheetSettled) -> Sheet:
    """The sheet with what was chosen; the state no longer has it in two ways."""
    thing = chosen(fact.part)
    if thing is None or t.two_ways.pop((fact.what, thing.id), None) is None:
        return t.sheet  # another phone has settled it already
    if isinstance(thing, Line):
        known = t.lines[thing.id]
        t.lines[thing.id] = replace(known, name=thing.name, kind=thing.kind, shape=thing.shape)
        return _with_line(t.sheet, t.lines[thing.id])
    if isinstance(thing, Closure):
        was = t.closures[thing.id]
        thing = replace(thing, fasteners=was.fasteners, parts=was.parts, lies_over=was.lies_over)
    return replace(
        t.sheet,
        cautions=_exchanged(t.sheet.cautions, thing),
        spaces=_exchanged(t.sheet.spaces, thing),
        openings=_exchanged(t.sheet.openings, thing),
        closures=_exchanged(t.sheet.closures, thing),
    )


def _exchanged(things: tuple[T, ...], thing: Thing) -> tuple[T, ...]:
    return tuple(
        thing if isinstance(thing, type(one)) and one.id == thing.id else one
        for one in things
    )


def _with_line(sheet: Sheet, line: Line) -> Sheet:
    def as_part_of(closure: Closure) -> Closure:
        own = f"{closure.id}."
        fasteners = tuple(
            replace(f, spec=line.name, shape=line.shape) if own + f.id == line.id else f for f in closure.fasteners
        )
        parts: tuple[Part, ...] = tuple(
            replace(p, name=line.name, shape=line.shape) if own + p.id == line.id else p for p in closure.parts
        )
        return replace(closure, fasteners=fasteners, parts=parts)

    items = tuple(line if item.id == line.id else item for item in sheet.items)
    return replace(sheet, closures=tuple(map(as_part_of, sheet.closures)), items=items)
