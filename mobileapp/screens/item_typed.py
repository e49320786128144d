"""An item as a person types it for a search: a specification, or a simple body with its sizes. Pure, no widgets."""

from __future__ import annotations

from checklists.sheet_fault import shown
from checklists.whereabouts.items import ITEM_KINDS, ItemShape, body_of
from checklists.whereabouts.sizes_typed import sizes_typed
from checklists.words import how_many
from checklists.workshop.fastener_spec import read_spec
from checklists.workshop.fasteners import Tables
from checklists.workshop.item_shape import shape_of_spec

#: What a specification may begin with as well: "nut M8", "washer 1/4 in".
_FASTENERS = ("nut", "bolt", "washer")
_LIKE = {1: "{0} 6 mm", 2: "{0} 8 x 30 mm or {0} 1/4 x 1 in", 3: "{0} 80 x 30 x 5 mm", 4: "{0} 13 x 5 x 8 x 25 mm"}


def read_item(text: str, tables: Tables) -> ItemShape | tuple[str, ...]:
    """The body of "M8x25 8.8", "ball 6 mm" or "rod 1/4 x 1 in"; else why it is not understood."""
    kind, _, sizes = " ".join(text.casefold().split()).partition(" ")
    named = kind in ITEM_KINDS and (kind not in _FASTENERS or sizes[:1].isdigit())
    if named and kind not in _FASTENERS:
        return _body(kind, sizes)
    size = shape_of_spec(text, tables)
    if size is not None:
        return body_of(size)
    return _body(kind, sizes) if named else (_unknown(text, tables),)


def _unknown(text: str, tables: Tables) -> str:
    reading = read_spec(text, tables)
    why = " ".join(reading.faults or reading.notes) or f"{shown(text)} has no shape that is known here."
    return f"{why} Or give its sizes, like ball 6 mm or rod 1/4 x 1 in."


def _body(kind: str, typed: str) -> ItemShape | tuple[str, ...]:
    names = ITEM_KINDS[kind]
    read = sizes_typed([typed]) if typed else ()
    if isinstance(read, str):
        return (read,)
    if len(read) != len(names):
        like = _LIKE[len(names)].format(kind)
        return (f"A {kind} has {how_many(len(names), 'size')}, in mm or in: {', '.join(names)}; write it like {like}.",)
    return ItemShape(kind, tuple(map(float, read)))
