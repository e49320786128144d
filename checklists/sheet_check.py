"""What is wrong with a sheet, said all at once: values, references, loops and dead ends.

Works on records, so that a sheet read from a file and a sheet that grows during the work meet the same rules.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from decimal import Decimal
from itertools import chain
from typing import Protocol

from checklists.sheet import (
    LINE_KINDS,
    SHAPES,
    WAYS,
    Closure,
    Fastener,
    ItemSize,
    Opening,
    Part,
    Passage,
    Shape,
    Sheet,
)
from checklists.sheet_check_refit import refit_values, size_values
from checklists.sheet_fault import Fault, choices, near_miss, shown, spoken_path
from checklists.sheet_loops import loops

MOST = 100_000
#: In mm: finer than any fit, and larger than any opening a person works through.
SMALLEST_SIZE, LARGEST_SIZE = Decimal("0.001"), Decimal(100_000)
MOST_FIGURES = 12
_UNREADABLE = 10**30
_ID = re.compile(r"[a-z0-9][a-z0-9-]*")
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")

#: The path of a key, and what is wrong there.
Finding = tuple[str, str]


class _Named(Protocol):
    @property
    def id(self) -> str: ...


def check_sheet(sheet: Sheet, *, growing: bool = False, source: str = "") -> tuple[Fault, ...]:
    """Every fault of `sheet`; empty when it can be worked from.

    `growing` is for a sheet that is still being written down during the work: its machine may be unsaid, a
    closure may come before its openings, and a space before the way that leads into it.
    """
    findings = chain(
        _text("name", sheet.name),
        () if growing and not sheet.machine else _text("machine", sheet.machine),
        _values(sheet),
        _references(sheet),
        _loops(sheet.closures),
        () if growing else _closures_that_seal_nothing(sheet),
        () if growing else _spaces_without_a_way_in(sheet),
    )
    return tuple(Fault(source, path, message) for path, message in findings)


# ---- values


def _values(sheet: Sheet) -> Iterator[Finding]:
    yield from _ids("caution", sheet.cautions)
    for index, caution in enumerate(sheet.cautions):
        yield from _text(f"caution[{index}].text", caution.text)
    yield from _ids("space", sheet.spaces)
    for index, space in enumerate(sheet.spaces):
        yield from _texts(f"space[{index}]", name=space.name, harm=space.harm)
    for index, passage in enumerate(sheet.passages):
        yield from _passage_values(f"passage[{index}]", passage)
    yield from _ids("opening", sheet.openings)
    for index, opening in enumerate(sheet.openings):
        yield from _opening_values(f"opening[{index}]", opening)
    yield from _ids("closure", sheet.closures)
    for index, closure in enumerate(sheet.closures):
        yield from _closure_values(f"closure[{index}]", closure)
    yield from _ids("line", sheet.items)
    for index, item in enumerate(sheet.items):
        yield from _text(f"line[{index}].name", item.name)
        yield from _choice(f"line[{index}].kind", item.kind, LINE_KINDS)
        yield from _quantity(f"line[{index}].quantity", item.quantity, least=0)
        yield from _item_size(f"line[{index}]", item.shape)


def _passage_values(path: str, passage: Passage) -> Iterator[Finding]:
    yield from _choice(f"{path}.way", passage.way, WAYS)
    if passage.clear is not None:
        yield from _shape(f"{path}.clear", passage.clear)
    if passage.source and passage.source == passage.target:
        yield path, f"a passage from the space {shown(passage.source)} to itself leads nowhere; name another end"


def _opening_values(path: str, opening: Opening) -> Iterator[Finding]:
    yield from _texts(path, name=opening.name, cover=opening.cover)
    yield from _shape(f"{path}.clear", opening.clear)


def _closure_values(path: str, closure: Closure) -> Iterator[Finding]:
    yield from _text(f"{path}.name", closure.name)
    yield from _printable(f"{path}.torque", closure.torque)
    yield from _fitted_ids(path, closure.fasteners, closure.parts)
    for index, fastener in enumerate(closure.fasteners):
        yield from _text(f"{path}.fastener[{index}].spec", fastener.spec)
        yield from _quantity(f"{path}.fastener[{index}].quantity", fastener.quantity, least=1)
        yield from _item_size(f"{path}.fastener[{index}]", fastener.shape)
    for index, part in enumerate(closure.parts):
        yield from _text(f"{path}.part[{index}].name", part.name)
        yield from _quantity(f"{path}.part[{index}].quantity", part.quantity, least=1)
        yield from _item_size(f"{path}.part[{index}]", part.shape)
    yield from _ids(f"{path}.limit", closure.limits)
    for index, limit in enumerate(closure.limits):
        yield from _text(f"{path}.limit[{index}].name", limit.name)
    yield from refit_values(path, closure)


def _fitted_ids(path: str, fasteners: Sequence[Fastener], parts: Sequence[Part]) -> Iterator[Finding]:
    """Fasteners and parts of one closure share their ids, for both become lines of that closure."""
    owners = [f"{path}.fastener[{index}]" for index in range(len(fasteners))]
    owners += [f"{path}.part[{index}]" for index in range(len(parts))]
    yield from _unique_ids(owners, [f.id for f in fasteners] + [p.id for p in parts])


def _ids(key: str, rows: Sequence[_Named]) -> Iterator[Finding]:
    yield from _unique_ids([f"{key}[{index}]" for index in range(len(rows))], [row.id for row in rows])


def _unique_ids(owners: Sequence[str], ids: Sequence[str]) -> Iterator[Finding]:
    first: dict[str, str] = {}
    for owner, name in zip(owners, ids, strict=True):
        path = f"{owner}.id"
        if not _ID.fullmatch(name):
            yield path, f"{shown(name)} is not an id; use small letters, digits and hyphens, such as 'port-1'"
        elif name in first:
            yield path, f"the id {shown(name)} is already taken by {spoken_path(first[name])}; give each its own"
        first.setdefault(name, owner)


def _texts(path: str, **texts: str) -> Iterator[Finding]:
    for key, text in texts.items():
        yield from _text(f"{path}.{key}", text)


def _text(path: str, text: str) -> Iterator[Finding]:
    if not text.strip():
        yield path, "is empty; say it in words"
    yield from _printable(path, text)


def _printable(path: str, text: str) -> Iterator[Finding]:
    if found := _UNPRINTABLE.search(text):
        yield path, f"holds {shown(found.group())}, which cannot be shown or printed; take it out"


def _choice(path: str, word: str, known: Collection[str]) -> Iterator[Finding]:
    if word not in known:
        yield path, f"{shown(word)} is not known here; use {choices(known)}{near_miss(word, known)}"


def _quantity(path: str, quantity: int, least: int) -> Iterator[Finding]:
    if quantity < least:
        yield path, f"{_number(quantity)} is too few; the least is {least}"
    elif quantity > MOST:
        yield path, f"{_number(quantity)} is more than anybody counts; the most is {MOST}"


def _shape(path: str, shape: Shape) -> Iterator[Finding]:
    yield from _choice(f"{path}.shape", shape.kind, SHAPES)
    wanted = SHAPES.get(shape.kind, len(shape.mm) or 1)
    if len(shape.mm) != wanted:
        sizes = {0: "no size", 1: "1 size"}.get(wanted, f"{wanted} sizes")
        yield f"{path}.mm", f"the shape {shown(shape.kind)} has {sizes} in mm; number given here: {len(shape.mm)}"
    for index, size in enumerate(shape.mm):
        yield from _size(f"{path}.mm[{index}]", size)


def _item_size(path: str, size: ItemSize | None) -> Iterator[Finding]:
    yield from size_values(path, size)
    for index, each in enumerate(size.mm if size else ()):
        yield from _size(f"{path}.shape.mm[{index}]", each)


def _size(path: str, size: Decimal) -> Iterator[Finding]:
    if not size.is_finite():
        yield path, "is not a size; give a number in mm"
    elif size <= 0:
        yield path, f"{_number(size)} mm is no size; it must be more than 0"
    elif not SMALLEST_SIZE <= size <= LARGEST_SIZE:
        yield path, f"{_number(size)} mm cannot be right; sizes go from {SMALLEST_SIZE} to {LARGEST_SIZE} mm"
    elif len(size.as_tuple().digits) > MOST_FIGURES:
        yield path, f"{_number(size)} mm has more figures than anybody measures; round it"


def _number(value: int | Decimal) -> str:
    """A number for a message. A very long one is not spelt out: Python refuses to, and nobody could read it."""
    if value >= _UNREADABLE:
        return "such a large number"
    if value <= -_UNREADABLE:
        return "such a number below zero"
    text = str(value)
    return text if len(text) <= 30 else f"{text[:27]}..."


# ---- references


def _references(sheet: Sheet) -> Iterator[Finding]:
    spaces = dict.fromkeys(space.id for space in sheet.spaces)
    closures = dict.fromkeys(closure.id for closure in sheet.closures)
    for index, passage in enumerate(sheet.passages):
        yield from _known(f"passage[{index}].from", passage.source, spaces, "space")
        yield from _known(f"passage[{index}].to", passage.target, spaces, "space")
    for index, opening in enumerate(sheet.openings):
        yield from _known(f"opening[{index}].space", opening.space, spaces, "space")
        yield from _known(f"opening[{index}].closure", opening.closure, closures, "closure")
    for index, closure in enumerate(sheet.closures):
        yield from _lies_over(f"closure[{index}].lies_over", closure.lies_over, closures)


def _lies_over(path: str, lies_over: Sequence[str], closures: Collection[str]) -> Iterator[Finding]:
    named: set[str] = set()
    for index, below in enumerate(lies_over):
        yield from _known(f"{path}[{index}]", below, closures, "closure")
        if below in named:
            yield f"{path}[{index}]", f"the closure {shown(below)} is named twice; once is enough"
        named.add(below)


def _known(path: str, name: str, known: Collection[str], what: str) -> Iterator[Finding]:
    if name not in known:
        yield path, f"there is no {what} {shown(name)} on this sheet{near_miss(name, known)}"


def _loops(closures: Sequence[Closure]) -> Iterator[Finding]:
    where = {closure.id: index for index, closure in reversed(list(enumerate(closures)))}
    for loop in loops({closure.id: closure.lies_over for closure in closures}):
        names = " over ".join(shown(name) for name in (*loop, loop[0]))
        path = f"closure[{where[loop[0]]}].lies_over"
        yield path, f"lies over itself in a loop: {names}; none of them could come off first"


# ---- dead ends


def _closures_that_seal_nothing(sheet: Sheet) -> Iterator[Finding]:
    sealing = {opening.closure for opening in sheet.openings}
    for index, closure in enumerate(sheet.closures):
        if closure.id not in sealing:
            yield (
                f"closure[{index}]",
                f"the closure {shown(closure.id)} seals nothing; name it in the opening it seals",
            )


def _spaces_without_a_way_in(sheet: Sheet) -> Iterator[Finding]:
    reached = _reached((opening.space for opening in sheet.openings), sheet.passages)
    for index, space in enumerate(sheet.spaces):
        if space.id not in reached:
            yield (
                f"space[{index}]",
                f"nothing leads into the space {shown(space.id)}: no opening, no passage from an opened space",
            )


def _reached(opened: Iterable[str], passages: Iterable[Passage]) -> set[str]:
    onward: dict[str, list[str]] = {}
    for passage in passages:
        onward.setdefault(passage.source, []).append(passage.target)
    reached: set[str] = set()
    front = list(opened)
    while front:
        space = front.pop()
        if space not in reached:
            reached.add(space)
            front.extend(onward.get(space, ()))
    return reached
