"""The standard in a specification string, "ISO 4017" or "DIN EN 24014", and what it says of kind and sizes."""

from __future__ import annotations

import re

#: Standards whose rows the tables hold, with the kind that they say.
STANDARDS = {
    **dict.fromkeys(("ISO 4014", "ISO 4017", "DIN 931", "DIN 933", "EN 1665", "ASME B18.2.1"), "hex bolt"),
    **dict.fromkeys(("ISO 4032", "ISO 4035", "DIN 934", "DIN 439", "EN 1661", "ASME B18.2.2"), "hex nut"),
    **dict.fromkeys(("ISO 7089", "DIN 125", "ASME B18.21.1"), "washer"),
    **dict.fromkeys(("ISO 4762", "DIN 912", "ASME B18.3"), "socket head"),
    **dict.fromkeys(("DIN 975", "DIN 976"), "stud"),
}
#: Of these, those of flanged ones.
FLANGED = frozenset(("EN 1661", "EN 1665"))
#: Standards that repeat the sizes of another: of fine threads, and what ISO's were called in Europe for a while.
#: From memory, to be confirmed.
_SAME_SIZES = {
    "ISO 8765": "ISO 4014", "ISO 8676": "ISO 4017", "DIN 960": "DIN 931", "DIN 961": "DIN 933",
    "ISO 8673": "ISO 4032", "ISO 8675": "ISO 4035", "ISO 21269": "ISO 4762", "ISO 7090": "ISO 7089",
    "EN 24014": "ISO 4014", "EN 24017": "ISO 4017", "EN 24032": "ISO 4032", "EN 24035": "ISO 4035",
}  # fmt: skip
#: Standards of strength, thread or coating: they say nothing of how large a head or nut is. From memory.
_NO_SIZES = frozenset(
    ("ISO 68", "ISO 261", "ISO 262", "ISO 724", "ISO 898", "ISO 965", "ISO 3506", "ISO 4042", "ISO 10683",
     "DIN 13", "DIN 267", "EN 20898")
)  # fmt: skip
_STANDARD = re.compile(
    r"\b(?:(?:din|bs|nf|uni|en)[ -])*(iso|din|en|asme|ansi)[ -]?((?:b ?18(?:\.\d+){1,2})|\d{2,5})(?:-\d)?(?![\d.])"
)


def take_standard(text: str) -> tuple[str, str]:
    """The standard's name, that of the one whose sizes it repeats where it does, and the tidied text without it."""
    found = _STANDARD.search(text)
    if not found:
        return "", text
    number = found[2].replace(" ", "").upper()
    body = "ASME" if found[1] == "ansi" else found[1].upper()
    name = f"{body} {number}"
    return _SAME_SIZES.get(name, name), f"{text[: found.start()]} {text[found.end() :]}"


def not_held(standard: str) -> str:
    """The standard again where it says sizes that the tables do not hold; else nothing."""
    return "" if standard in STANDARDS or standard in _NO_SIZES else standard
