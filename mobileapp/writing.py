"""Which font writes which part of a text, and what is drawn for it.

    for part in parts("Ines सुनीता"):      # Part("B612", "Ines ", "Ines "), Part("Deva", "सुनीता", private code points)
        ...

Nearly every text is plain: one of the house's fonts has all its letters (`look.font_for`). Parts of it go into another
font only where a letter asks for that: one of a script of India, which is shaped (`mobileapp.shaping`); an Arabic one
that the wider font lacks, and the whole name with it; an Ethiopic one; or one that none of the other fonts has, which
is in the last font. Which letters those have is read from their files when first asked.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import cache, lru_cache
from itertools import groupby
from struct import unpack, unpack_from
from typing import NamedTuple

from mobileapp import look

#: What only joins or parts letters, and the stops that the scripts of India share.
_SHARED = "\u0964\u0965\u200c\u200d"
_JOINERS = re.compile("(?<=[\u0900-\u0dff\u0e80-\u0eff\u1000-\u104f])[\u200c\u200d]+")
#: Of these no letter is in the last font: it is not asked for them. tests/test_writing.py compares this with the file.
_NEVER_LAST = (
    (0x00, 0x2E9), (0x384, 0x3FF), (0x400, 0x482), (0x48A, 0x523), (0x5D0, 0x5EA), (0x621, 0x63A), (0x640, 0x655),
    (0xE01, 0xE3A), (0xE3F, 0xE5B), (0x1EA0, 0x1EF9), (0x2010, 0x2023), (0x3041, 0x3094), (0x30A1, 0x30F6),
    (0x4E00, 0x9FA5), (0xAC00, 0xD7A3), (0xFE80, 0xFEFC),
)  # fmt: skip


_ARABIC = re.compile("[\u0600-\u06ff\u0750-\u077f\u0870-\u08ff\ufb50-\ufbff\ufe70-\ufefc]")
_WORDS = re.compile(f"{_ARABIC.pattern}+(?: {_ARABIC.pattern}+)*")


_ETHIOPIC = ((0x1200, 0x139F), (0x2D80, 0x2DDF), (0xAB00, 0xAB2F))


class Part(NamedTuple):
    """A stretch of text in one font: what it says, and the letters that are drawn for it."""

    font: str
    said: str
    drawn: str


@lru_cache(maxsize=4000)
def is_plain(text: str) -> bool:
    """Whether one font writes a text as it stands."""
    return text.isascii() or not any(map(special_font, text))


@cache
def special_font(letter: str) -> str:
    """The font that alone has a letter; of the letters of the house's own fonts, none."""
    code = ord(letter)
    if look.in_b612(letter) or any(first <= code <= last for first, last in _NEVER_LAST):
        return ""
    if 0x900 <= code < 0x1050:
        from mobileapp.shaping import rules_of, script_of

        script = script_of(letter)
        if script and code in rules_of(script).letters:
            return script
    if 0x600 <= code <= 0xFEFC and _ARABIC.match(letter) and not _has(look.WIDE_FONT, code):
        return look.ARABIC_FONT if _has(look.ARABIC_FONT, code) else _last(code)
    if any(first <= code <= last for first, last in _ETHIOPIC) and _has(look.ETHIOPIC_FONT, code):
        return look.ETHIOPIC_FONT
    return _last(code)


@lru_cache(maxsize=2000)
def parts(text: str, plain_font: str = "") -> tuple[Part, ...]:
    """The parts of a text, in its order. `plain_font` is for what no letter asks another for."""
    plain_font = plain_font or plain_font_of(text)
    fonts = _fonts(text)
    found, at = [], 0
    for font, group in groupby(fonts):
        said = text[at : (at := at + sum(1 for _ in group))]
        found.append(Part(font or plain_font, said, _drawn(said, font)))
    return tuple(found)


def plain_font_of(text: str) -> str:
    """The font for what no letter of a text asks another for."""
    return look.font_for(plain_letters(text))


def plain_letters(text: str) -> str:
    """A text without the parts that ask for another font."""
    if is_plain(text):
        return text
    return "".join(letter for letter, font in zip(text, _fonts(text), strict=True) if not font)


def joiners_that_act(text: str) -> set[int]:
    """Where in a text a letter that only joins or parts stands behind a letter of India: it is written, not shown."""
    return {at for found in _JOINERS.finditer(text) for at in range(*found.span())}


def shapes_of(said: str, script: str) -> list[tuple[str, str]]:
    """The syllables of a text in a script of India: what each says, and what is drawn for it."""
    from mobileapp.shaping import pieces

    return [(piece.said, piece.drawn) for piece in pieces(said, script)]


def syllables(part: Part) -> list[tuple[str, str]]:
    """What a part says and what is drawn for it, in the smallest pieces that may stand apart."""
    if part.font in look.SCRIPTS:
        return shapes_of(part.said, part.font)
    return list(zip(part.said, part.drawn, strict=True))


def _fonts(text: str) -> list[str]:
    """For each letter the font it asks for; what is shared goes with the letter before, a space with both sides."""
    fonts: list[str] = []
    for letter in text:
        before = fonts[-1] if fonts else ""
        fonts.append(before if letter in _SHARED and before in look.SCRIPTS else special_font(letter))
    for at in range(1, len(text) - 1):
        if text[at] == " " and fonts[at - 1] == fonts[at + 1] and fonts[at - 1] in look.SCRIPTS:
            fonts[at] = fonts[at - 1]
    if look.ARABIC_FONT in fonts:
        for words in _WORDS.finditer(text):
            if look.ARABIC_FONT in fonts[words.start() : words.end()]:
                whole = (special_font(letter) or look.ARABIC_FONT for letter in words[0])
                fonts[words.start() : words.end()] = whole
    return fonts


def _drawn(said: str, font: str) -> str:
    return "".join(drawn for _, drawn in shapes_of(said, font)) if font in look.SCRIPTS else said


def _last(code: int) -> str:
    return look.LAST_FONT if _has(look.LAST_FONT, code) else ""


def _has(font: str, code: int) -> bool:
    firsts, lasts = _ranges(font)
    at = bisect_right(firsts, code) - 1
    return at >= 0 and code <= lasts[at]


@cache
def _ranges(font: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Where the letters of a font begin and end (its table cmap, in format 12 or 4); no more of it is read."""
    with look.font_file(font).open("rb") as file:
        count = unpack(">4xH6x", file.read(12))[0]
        entries = [unpack(">4s4xLL", file.read(16)) for _ in range(count)]
        start, length = next((start, length) for tag, start, length in entries if tag == b"cmap")
        file.seek(start)
        table = file.read(length)
    offsets = (unpack_from(">L", table, 8 + 8 * at)[0] for at in range(unpack_from(">H", table, 2)[0]))
    forms = {unpack_from(">H", table, offset)[0]: offset for offset in offsets}
    if at := forms.get(12):
        numbers = unpack_from(f">{3 * unpack_from('>L', table, at + 12)[0]}L", table, at + 16)
        return numbers[::3], numbers[1::3]
    at = forms[4]
    count = unpack_from(">H", table, at + 6)[0] // 2
    return unpack_from(f">{count}H", table, at + 16 + 2 * count), unpack_from(f">{count}H", table, at + 14)
