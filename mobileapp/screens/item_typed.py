"""An item as a person types it for a search: a specification, or a simple body with its sizes. Pure, no widgets."""

from __future__ import annotations

import re

from checklists.sheet_fault import shown
from checklists.whereabouts.items import ITEM_KINDS, ItemShape, body_of
from checklists.workshop.fastener_spec import read_spec
from checklists.workshop.fasteners import Tables
from checklists.workshop.item_shape import shape_of_spec

_BODY = re.compile(r"([a-z]+)\s+([\d.,]+(?:\s*[x×]\s*[\d.,]+)*)\s*(?:mm)?")


def read_item(text: str, tables: Tables) -> ItemShape | tuple[str, ...]:
    """The body of "M8x25 8.8", "ball 6 mm" or "washer 16 x 1.5 mm"; else why it is not understood."""
    typed = " ".join(text.casefold().split())
    found = _BODY.fullmatch(typed)
    if found and found[1] in ITEM_KINDS:
        return _body(found[1], found[2])
    size = shape_of_spec(text, tables)
    if size is not None:
        return body_of(size)
    reading = read_spec(text, tables)
    unknown = f"{shown(text)} has no shape that is known here; give its sizes, like ball 6 mm or rod 8 x 30 mm."
    return (reading.faults if reading.spec else ()) or (unknown,)


def _body(kind: str, typed: str) -> ItemShape | tuple[str, ...]:
    sizes = ITEM_KINDS[kind]
    numbers = [each.strip().replace(",", ".") for each in re.split("[x×]", typed)]
    read = [float(each) for each in numbers if re.fullmatch(r"\d+(\.\d+)?", each)]
    if len(read) != len(sizes) or min(read, default=0) <= 0:
        return (f"A {kind} has {len(sizes)} {'size' if len(sizes) == 1 else 'sizes'} in mm: {', '.join(sizes)}.",)
    return ItemShape(kind, tuple(read))
