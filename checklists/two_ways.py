"""What two phones that had not met wrote onto the sheet by one name, but not alike: both ways, until one is chosen.

An opening of 40 mm on one phone and 45 mm on the other is one opening, and one of them is wrong. Which, no rule can
know, so neither is dropped: the first stands for the time being, and nothing closes until somebody says which is right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from checklists.reasons import Reason
from checklists.refusing import PASSED, Reasons, no
from checklists.sheet import Caution, Closure, Line, Opening, Sheet, Space
from checklists.state import Mark, Teardown
from checklists.words import listing, within

if TYPE_CHECKING:
    from checklists.facts import SheetSettled

Thing = Caution | Space | Opening | Closure | Line
#: What can be written in two ways, with how each is called.
KINDS = {"caution": "caution", "space": "space", "opening": "opening", "closure": "closure", "line": "item"}


@dataclass(frozen=True, slots=True)
class Way:
    """One thing of the sheet as somebody wrote it, by that phone's entry."""

    thing: Thing
    mark: Mark
    device: str
    seq: int


@dataclass(frozen=True, slots=True)
class TwoWays:
    """One thing of the sheet in all the ways it was written down; the first is the one that stands for now."""

    what: str
    ways: tuple[Way, ...]

    @property
    def id(self) -> str:
        """By which all phones know it."""
        return self.ways[0].thing.id


def differences(t: Teardown, two: TwoWays) -> list[tuple[tuple[str, str], ...]]:
    """Each way in words: what differs between them, how it is called and what it says."""
    said = [_said(way.thing, t) for way in two.ways]
    fields = zip(*(differing_fields(way.thing) for way in two.ways), strict=True)
    apart = [n for n, values in enumerate(fields) if any(value != values[0] for value in values)]
    return [tuple(words[n] for n in apart) for words in said]


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


def alike(one: Thing, other: Thing) -> bool:
    """Whether both say the same of one thing."""
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


def reasons(t: Teardown) -> Iterator[Reason]:
    """Each thing that stands on the sheet in two ways: nothing closes on any of them before one is chosen."""
    for two in t.two_ways.values():
        first, last = two.ways[0], two.ways[-1]
        name = first.thing.text if isinstance(first.thing, Caution) else within(first.thing.name)
        people = listing(list(dict.fromkeys(way.mark.who for way in two.ways)))
        yield Reason(
            "written in two ways",
            f"The {KINDS[two.what]} {name} was written down in {_number(two)} ways, by {people}.",
            "Say which is right.",
            since=last.mark.at,
            who=last.mark.who,
            opening=two.id if two.what == "opening" else "",
            closure=two.id if two.what == "closure" else "",
        )


def _number(two: TwoWays) -> str:
    return {2: "two", 3: "three"}.get(len(two.ways), "several")


def chosen(part: Sheet) -> Thing | None:
    """The one thing that a settling names; None where it names none, or several."""
    things: list[Thing] = [*part.cautions, *part.spaces, *part.openings, *part.closures, *part.items]
    return things[0] if len(things) == 1 else None


def as_part(thing: Thing) -> Sheet:
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
    if not any(alike(thing, way.thing) for way in two.ways):
        return no("neither way", "That is none of the ways it was written down.", "Choose one of those.")
    return PASSED
