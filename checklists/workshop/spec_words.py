"""The words of specification strings, and how a typed string is made plain before it is read."""

from __future__ import annotations

import re

from checklists.workshop.units import plain_fractions

#: Word or phrase -> the kind it says, or a mark ("screw", "setscrew", "flange", "thin", "uss", "coarse", "fine"), or
#: both with a + between them.
KINDS = {
    "bolt": "hex bolt", "bolts": "hex bolt", "screw": "screw", "screws": "screw", "setscrew": "setscrew",
    "setscrews": "setscrew", "hex bolt": "hex bolt", "cap screw": "screw", "hex cap screw": "hex bolt",
    "capscrew": "screw", "capscrews": "screw",
    "nut": "hex nut", "nuts": "hex nut", "hex nut": "hex nut",
    "washer": "washer", "washers": "washer",
    "stud": "stud", "studs": "stud", "studding": "stud", "threaded rod": "stud", "stud bolt": "stud",
    "socket head cap screw": "socket head", "socket cap screw": "socket head", "socket head": "socket head",
    "socket screw": "socket head", "socket": "socket head", "shcs": "socket head", "cap head": "socket head",
    "flange": "flange", "flanged": "flange", "thin": "thin", "jam": "thin", "half nut": "thin+hex nut",
    "uss": "uss", "sae": "sae", "coarse": "coarse", "fine": "fine", "unc": "coarse", "unf": "fine",
}  # fmt: skip

#: Words that say nothing about strength, nor, but for "hex", about shape.
NEUTRAL = frozenset(
    [
        "hex",
        "hexagon",
        "hexagonal",
        "head",
        "cap",
        "cover",
        "steel",
        "stainless",
        "zinc",
        "plated",
        "zp",
        "bzp",
        "black",
        "plain",
        "flat",
        "full",
        "fully",
        "part",
        "partly",
        "partially",
        "threaded",
        "thread",
        "long",
        "short",
        "new",
        "old",
        "inch",
        "in",
        "mm",
        "and",
        "with",
        "of",
        "the",
        "x",
        "rh",
        "right",
        "hand",
        "form",
        "a",
        "b",
        "type",
        "style",
        "rocker",
        "manifold",
        "sump",
        "pump",
        "flywheel",
        "main",
        "rod",
        "cylinder",
    ]
)

#: Shapes that the tables do not hold.
OTHER_SHAPES = frozenset(
    [
        "countersunk",
        "csk",
        "button",
        "dome",
        "domed",
        "pan",
        "cheese",
        "grub",
        "set",
        "spring",
        "lock",
        "locking",
        "nyloc",
        "sealing",
        "copper",
        "crush",
        "bonded",
        "fender",
        "penny",
        "wing",
        "square",
        "coach",
        "eye",
        "banjo",
        "shoulder",
        "acorn",
        "castle",
        "slotted",
        "star",
        "shakeproof",
        "tab",
    ]
)

_LIKE = str.maketrans(
    {
        "х": "x", "Х": "x", "×": "x", "✕": "x", "✖": "x", "⨯": "x", "*": "x",
        "М": "m", "м": "m", "С": "c", "с": "c",
        "“": '"', "”": '"', "″": '"', "„": '"', "’": "'",
        "–": "-", "—": "-", "‐": "-", "‑": "-", "−": "-",
    }
)  # fmt: skip


def tidy(text: str) -> str:
    """The string in plain small letters: one kind of x, dash and quote, decimal points, fractions spelt out."""
    plain = plain_fractions(text.translate(_LIKE)).translate(_LIKE).casefold().replace("''", '"')
    plain = re.sub(r"(?<=[\dx]),(?=\d)|(?<=x ),(?=\d)", ".", plain)
    plain = re.sub(r"(?<=\d) ?\bby\b ?(?=\d)", " x ", plain)
    plain = re.sub(r"(?<=[a-z])-|-(?=[a-z])", " ", plain)  # M8-nut-8, as on a command line
    return " ".join(plain.split())
