"""Ids for what is added during the work, made from the names people type: small letters, digits and hyphens."""

from __future__ import annotations

import unicodedata
from collections.abc import Container

_LONGEST = 40
# Letters that do not come apart into a plain letter and a mark.
_SPELT = str.maketrans({"ß": "ss", "æ": "ae", "ø": "o", "ł": "l", "đ": "d", "œ": "oe", "þ": "th", "ð": "d"})


def folded(name: str) -> str:
    """A person's name as it is compared: "Ada  berg" is Ada Berg, however it is typed."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def slug(name: str, otherwise: str = "item") -> str:
    """The id a name makes: "Inlet port 2" -> "inlet-port-2". `otherwise` where a name has no letter to use."""
    plain = unicodedata.normalize("NFKD", name).lower().translate(_SPELT)
    letters = "".join(c if c.isascii() and c.isalnum() else " " for c in plain if not unicodedata.combining(c))
    return "-".join(letters.split())[:_LONGEST].strip("-") or otherwise


def unique_id(name: str, taken: Container[str], otherwise: str = "item") -> str:
    """The id a name makes, with a figure behind it where that id is taken: "rag-piece", then "rag-piece-2"."""
    base = slug(name, otherwise)
    number, chosen = 1, base
    while chosen in taken:
        number += 1
        chosen = f"{base}-{number}"
    return chosen


def unique_ids(names: list[str], otherwise: str = "item") -> list[str]:
    """Ids for several names that stand side by side: each its own."""
    made: list[str] = []
    for name in names:
        made.append(unique_id(name, made, otherwise))
    return made
