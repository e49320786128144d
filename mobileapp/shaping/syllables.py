"""Text into syllables: what is shaped together. The pattern is that of the published Indic script specifications."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container, Iterator

from mobileapp.shaping.letters import kind_of

_C = "[CR]"
_N = "(?:N{1,2})?"
_CN = f"{_C}J?{_N}"
_REPH = "(?:RH|F)"
_TAIL = "(?:[JZ]?SS?Z?)?A*"
_HALANTS = "(?:[JZ]?H(?:JN?)?)"
_MATRAS = "(?:[JZ]*M(?:N?)H?)*"
_REST = f"(?:{_HALANTS}{_CN})*I?(?:{_MATRAS}|HZ|{_HALANTS}){_TAIL}"
#: In this order, for of several that fit the longest counts, and of those the first.
_WHOLE = (
    f"[FK]?{_CN}{_REST}",
    f"{_REPH}?V{_N}{_REST}",
    f"{_REPH}?V{_N}J",
    f"(?:[FK]?P|{_REPH}?D){_N}{_REST}",
    f"YN?{_TAIL}",
)
_BROKEN = f"{_REPH}?{_N}{_REST}"
_PATTERNS = tuple(
    # The choice of vowel signs, halants or neither is by length, too.
    re.compile(pattern.replace(f"(?:{_MATRAS}|HZ|{_HALANTS})", middle))
    for pattern in (*_WHOLE, _BROKEN)
    for middle in (_MATRAS, "HZ", _HALANTS)
)
_BROKEN_ONES = frozenset(_PATTERNS[-3:])


def syllables(text: str) -> Iterator[tuple[str, bool]]:
    """Each syllable, and whether it lacks a letter to stand on; what is none is handed out letter by letter."""
    kinds, at = "".join(map(kind_of, text)), 0
    while at < len(text):
        length, broken = 0, False
        for pattern in _PATTERNS:
            match = pattern.match(kinds, at)
            if match and match.end() - at > length:
                length, broken = match.end() - at, pattern in _BROKEN_ONES
        yield text[at : at + max(length, 1)], broken
        at += max(length, 1)


#: Not taken apart, though Unicode says how.
_WHOLE_LETTERS = re.compile("([\u0931\u09dc\u09dd\u0b94])")


def in_parts(text: str, has: Container[str]) -> str:
    """The text with vowel signs of two parts in both, and letters with their dot in one where the font has it so."""
    whole_or_not = _WHOLE_LETTERS.split(text)
    whole_or_not[::2] = (unicodedata.normalize("NFD", part) for part in whole_or_not[::2])
    out = ""
    for letter in "".join(whole_or_not):
        whole = _with_dot(out[-1:], letter) if kind_of(letter) == "N" else ""
        out = out[:-1] + whole if whole in has else out + letter
    return out


def _with_dot(letter: str, dot: str) -> str:
    if (letter, dot) == ("\u09af", "\u09bc"):
        return "\u09df"
    whole = unicodedata.normalize("NFC", letter + dot)
    return whole if len(whole) == 1 else ""
