"""What each letter of the nine scripts is for its syllable, and where it stands; and how the scripts differ.

The kinds follow Unicode's IndicSyllabicCategory and the sides IndicPositionalCategory, from memory. The nine blocks are
laid out alike, after one older standard, so most is said once. `tests/shaping` holds the outcome against HarfBuzz.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

#: Kinds, one letter each, so that a syllable is found by a regular expression.
CONSONANT, RA, VOWEL, NUKTA, HALANT, MATRA, MODIFIER = "C", "R", "V", "N", "H", "M", "S"
ACCENT, SYMBOL, STAND_IN, CIRCLE, REPHA, MEDIAL, STACKER = "A", "Y", "P", "D", "F", "I", "K"
JOINER, NON_JOINER, OTHER = "J", "Z", "X"

#: Places in a syllable, in the order in which they are sorted.
FIRST_REPH, LEFT, BEFORE, BASE, AFTER_MAIN, BEFORE_SUB, BELOW, AFTER_SUB, POST, AFTER_POST, MARKS, NOWHERE = (
    1, 2, 3, 4, 5, 7, 8, 9, 11, 12, 13, 14
)  # fmt: skip

IMPLICIT, EXPLICIT, WRITTEN = "Ra and halant", "Ra, halant and joiner", "a letter of its own"


class Script(NamedTuple):
    """How a script differs from the others."""

    block: int
    #: Where Ra goes that became a mark: after one of these places, or to the end.
    reph_after: int
    reph: str = IMPLICIT
    #: Whether letters before the base, too, may take their form below.
    below_before: bool = True
    #: Whether the font's rules are of the older kind, in which a halant follows the letter it belongs to.
    old: bool = False
    #: By side (left, top, bottom, right), the places of vowel signs.
    top: int = AFTER_SUB
    bottom: int = AFTER_SUB
    right: int = AFTER_POST
    #: Vowel signs by side, as distances into the block; those not named stand right.
    lefts: tuple[int, ...] = (0x3F,)
    tops: tuple[int, ...] = ()
    bottoms: tuple[int, ...] = (0x41, 0x42, 0x43, 0x44, 0x62, 0x63)


_TALL = (0x45, 0x46, 0x47, 0x48)
SCRIPTS = {
    "Deva": Script(0x900, POST, right=AFTER_SUB, lefts=(0x3F, 0x4E), tops=(0x3A, *_TALL, 0x55),
                   bottoms=(0x41, 0x42, 0x43, 0x44, 0x56, 0x57, 0x62, 0x63)),
    "Beng": Script(0x980, AFTER_SUB, lefts=(0x3F, 0x47, 0x48)),
    "Guru": Script(0xA00, POST, top=AFTER_POST, bottom=AFTER_POST, tops=(0x47, 0x48, 0x4B, 0x4C),
                   bottoms=(0x41, 0x42, 0x51)),
    "Gujr": Script(0xA80, POST, bottom=AFTER_POST, tops=(0x45, 0x47, 0x48)),
    "Orya": Script(0xB00, AFTER_MAIN, top=AFTER_MAIN, lefts=(0x47,), tops=(0x3F, 0x56)),
    "Taml": Script(0xB80, AFTER_POST, bottom=AFTER_POST, lefts=(0x46, 0x47, 0x48), tops=(0x40,), bottoms=()),
    "Telu": Script(0xC00, AFTER_POST, EXPLICIT, False, True, top=BEFORE_SUB, bottom=BEFORE_SUB, right=BEFORE_SUB,
                   lefts=(), tops=(0x3E, 0x3F, 0x40, 0x46, 0x47, 0x4A, 0x4B, 0x4C, 0x55), bottoms=(0x56, 0x62, 0x63)),
    "Knda": Script(0xC80, AFTER_POST, IMPLICIT, False, True, top=BEFORE_SUB, bottom=BEFORE_SUB, right=BEFORE_SUB,
                   lefts=(), tops=(0x3F, 0x46, 0x4C), bottoms=(0x62, 0x63)),
    "Mlym": Script(0xD00, AFTER_MAIN, WRITTEN, bottom=AFTER_POST, lefts=(0x46, 0x47, 0x48),
                   bottoms=(0x43, 0x44, 0x62, 0x63)),
}  # fmt: skip
_RIGHT_AFTER_SUB = {0xC43, 0xC44, 0xCC3, 0xCC4, 0xCD5, 0xCD6}

#: What is not as its distance into the block says.
_ODD = {
    0x0904: VOWEL, 0x0950: OTHER, 0x0971: OTHER, **dict.fromkeys(range(0x972, 0x978), VOWEL),
    **dict.fromkeys(range(0x978, 0x980), CONSONANT), 0x093A: MATRA, 0x093B: MATRA, 0x094E: MATRA, 0x094F: MATRA,
    0x0955: MATRA, 0x0956: MATRA, 0x0957: MATRA,
    0x0980: STAND_IN, 0x09CE: CONSONANT, 0x09D7: MATRA, 0x09F0: RA, 0x09F1: CONSONANT, 0x09FC: STAND_IN,
    0x09FE: MODIFIER,
    0x0A51: MATRA, 0x0A70: MODIFIER, 0x0A71: MODIFIER, 0x0A72: CONSONANT, 0x0A73: CONSONANT, 0x0A75: MEDIAL,
    0x0AF9: CONSONANT, **dict.fromkeys(range(0xAFA, 0xB00), NUKTA),
    0x0B55: NUKTA, 0x0B56: MATRA, 0x0B57: MATRA, 0x0B71: CONSONANT, 0x0B83: OTHER,
    0x0BD7: MATRA, 0x0C04: MODIFIER, 0x0C55: MATRA, 0x0C56: MATRA, 0x0C5D: CONSONANT,
    0x0C80: STAND_IN, 0x0CD5: MATRA, 0x0CD6: MATRA, 0x0CF1: STACKER, 0x0CF2: STACKER,
    0x0D3A: CONSONANT, 0x0D3B: MATRA, 0x0D3C: MATRA, 0x0D4E: REPHA, 0x0D57: MATRA,
    **dict.fromkeys(range(0xD54, 0xD57), CONSONANT),
    **dict.fromkeys(range(0xD7A, 0xD80), CONSONANT),
    0x200C: NON_JOINER, 0x200D: JOINER, 0x25CC: CIRCLE,
}  # fmt: skip
_KINDS = (
    (0x00, 0x03, MODIFIER), (0x05, 0x14, VOWEL), (0x15, 0x39, CONSONANT), (0x3C, 0x3C, NUKTA), (0x3D, 0x3D, SYMBOL),
    (0x3E, 0x4C, MATRA), (0x4D, 0x4D, HALANT), (0x51, 0x54, ACCENT), (0x58, 0x5F, CONSONANT), (0x60, 0x61, VOWEL),
    (0x62, 0x63, MATRA), (0x66, 0x6F, STAND_IN),
)  # fmt: skip


def script_of(letter: str) -> str:
    """The script whose block a letter is in, or none."""
    code = ord(letter)
    return _NAMES[(code - 0x900) >> 7] if 0x900 <= code < 0xD80 else ""


_NAMES = tuple(SCRIPTS)


@cache
def kind_of(letter: str) -> str:
    """What a letter is for its syllable."""
    code = ord(letter)
    if code in _ODD:
        return _ODD[code]
    if not 0x900 <= code < 0xD80:
        return OTHER
    distance = code & 0x7F
    if distance == 0x30:
        return RA
    return next((kind for first, last, kind in _KINDS if first <= distance <= last), OTHER)


@cache
def place_of(letter: str) -> int:
    """Where a letter stands in its syllable before the font's rules are asked."""
    kind, code = kind_of(letter), ord(letter)
    if kind in CONSONANTS:
        return BASE
    if kind == MATRA:
        return _side(code)
    if code == 0xB01:
        return BEFORE_SUB
    return MARKS if kind in (MODIFIER, ACCENT, SYMBOL) else NOWHERE


def _side(code: int) -> int:
    script, distance = SCRIPTS[script_of(chr(code))], code & 0x7F
    if distance in script.lefts:
        return LEFT
    if distance in script.tops:
        return script.top
    if distance in script.bottoms:
        return script.bottom
    return AFTER_SUB if code in _RIGHT_AFTER_SUB else script.right


#: The kinds that may be a syllable's base.
CONSONANTS = frozenset((CONSONANT, RA, VOWEL, MEDIAL, STACKER, STAND_IN, CIRCLE))
