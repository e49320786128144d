"""How items, counts and places are said to a person."""

from __future__ import annotations

import re
from collections.abc import Mapping

from checklists import places
from checklists.sheet import Closure, Opening, Space

_PLAIN_PLACES = {
    places.STORES: "put away",
    places.TRAY: "in the tray",
    places.BENCH: "on the bench",
    places.FLOOR: "on the floor",
    places.ENGINE: "in or over the open engine, spot not said",
    places.MISSING: "missing",
    places.SCRAP: "in scrap",
    places.NEW_STOCK: "in new stock",
    places.ORIGIN: "not yet on the tally",
    places.CONVERTED: "turned into something else",
}


_ENDS_IN_SIZE = re.compile(r"([^a-zA-Z]|[0-9] ?(mm|cm|m|in|inch))$")


def within(name: str) -> str:
    """A name as it stands inside a sentence: "Rocker cover" -> "rocker cover"; "M8 bolt" and "O-ring" stay."""
    return name[:1].lower() + name[1:] if name[1:2].islower() or name[1:2] == " " else name


def the(name: str) -> str:
    """A name inside a sentence: "the top of the head"; one with a number needs no article: "inlet port 2"."""
    inside = within(name)
    return inside if any(letter.isdigit() for letter in inside) or inside.startswith("the ") else f"the {inside}"


def sentence(text: str) -> str:
    """Text as it begins a sentence."""
    return text[:1].upper() + text[1:]


def plural(name: str) -> str:
    """The name for more than one: bolts, boxes; a name that already ends in s stays."""
    if name.endswith(("ch", "sh", "x", "z")):
        return name + "es"
    return name if name.endswith("s") else name + "s"


def how_many(quantity: int, name: str) -> str:
    """A count with its noun: "1 nut", "3 nuts", and "3 × M8x25 8.8" where a name ends in a figure or a size."""
    name = within(name)
    if _ENDS_IN_SIZE.search(name):
        return f"{quantity} × {name}"
    return f"{quantity} {name if quantity == 1 else plural(name)}"


def out_of(part: int, whole: int, name: str) -> str:
    """So many of so many: "3 of 10 bolts", "2 of 4 M8x25 8.8"; of a single one "1 of 1 gasket"."""
    name = within(name)
    return f"{part} of {whole} {name if whole == 1 or _ENDS_IN_SIZE.search(name) else plural(name)}"


def it_or_them(quantity: int) -> str:
    """What stands for so many items in the rest of a sentence."""
    return "it" if quantity == 1 else "them"


def listing(parts: list[str]) -> str:
    """Several things in a sentence: "a", "a and b", "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return ", ".join(parts[:-1]) + " and " + parts[-1]


def place_words(
    place: str,
    spaces: Mapping[str, Space],
    openings: Mapping[str, Opening],
    closures: Mapping[str, Closure],
) -> str:
    """Where something is, in words, by the names on the sheet: "in inlet port 2", "fitted to the manifold"."""
    if place in _PLAIN_PLACES:
        return _PLAIN_PLACES[place]
    family, name = places.family(place), places.named(place)
    if family == "tray":
        return f"in tray {name}"
    if family == "engine" and name in spaces:
        return f"in {within(spaces[name].name)}"
    if family == "cover" and name in openings:
        return f"covering {within(openings[name].name)}"
    if name in closures:
        return f"{'fitted to' if family == 'fitted' else 'lying on'} the {within(closures[name].name)}"
    return place
