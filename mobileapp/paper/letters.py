"""Which letters can be printed, in which font, how wide they are, and where lines break.

B612 is the house's font. A text with a letter it lacks is set as a whole in the wide font, one with Chinese, Japanese
or Korean in the large one; parts in a script of India, and letters that only the last font has, each in their own
(`mobileapp.writing`). A letter that no font has (beyond the plane, or a sign that turns the reading direction) is
printed as its Unicode number: nothing is lost or hidden. Arabic letters are joined first, so that lines are measured as
they are printed; a line is turned about (`right_to_left.laid_out`), and a script of India shaped, only where it is
drawn.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping

from mobileapp.look import FONT as OURS
from mobileapp.look import WIDE_FONT as WIDE
from mobileapp.look import WORLD_FONT as WORLD
from mobileapp.look import is_eastern
from mobileapp.paper.measures import POINT
from mobileapp.right_to_left import joined, laid_out
from mobileapp.writing import Part, is_plain, joiners_that_act, parts, plain_letters, special_font, syllables

#: Widths in thousandths of the size, by code point, of one font; for a letter that it lacks too.
Widths = Mapping[int, float]
#: The widths of a font by its family and whether it is bold.
WidthsOf = Callable[[str, bool], Widths]


class Letters:
    """Measures and breaks text."""

    def __init__(self, widths_of: WidthsOf) -> None:
        self._widths_of = widths_of
        self._ours = frozenset(map(chr, widths_of(OURS, False)))
        self._families: dict[str, str] = {}
        self._words: dict[tuple[str, bool, str], float] = {}
        self._printable: dict[str, str] = {}

    def family(self, text: str) -> str:
        """The font in which a printable text is set, but for parts that ask for another."""
        known = self._families.get(text)
        if known is None:
            known = self._families[text] = self._family(text)
        return known

    def _family(self, text: str) -> str:
        if self._ours.issuperset(text):
            return OURS
        if is_plain(text):
            return WORLD if any(map(is_eastern, text)) else WIDE
        return self._family(plain_letters(text))

    def parts(self, text: str) -> tuple[Part, ...]:
        """A printable line as it is drawn from the left: its parts, each in its font."""
        family, text = self.family(text), laid_out(text)
        return (Part(family, text, text),) if is_plain(text) else parts(text, family)

    def has(self, letter: str) -> bool:
        """Whether a letter can be printed as it is."""
        if special_font(letter):
            return True
        if is_eastern(letter):
            return ord(letter) in self._widths_of(WORLD, False)
        return letter in self._ours or ord(letter) in self._widths_of(WIDE, False)

    def printable(self, text: str) -> str:
        """The text with what cannot be printed written as Unicode numbers: "[U+5F20 U+4F1F]"."""
        known = self._printable.get(text)
        if known is None:
            known = self._printable[text] = self._make_printable(text)
        return known

    def _make_printable(self, text: str) -> str:
        whole = unicodedata.normalize("NFC", text).replace("\t", " ").replace("\r", "")
        if self._ours.issuperset(whole.replace("\n", "")):
            return whole
        whole = joined(whole)
        out, strange = "", [""]
        acting = joiners_that_act(whole)
        for at, letter in enumerate(whole + "\n"):
            if letter == "\n" or at in acting or self.has(letter):
                out += f"[{' '.join(f'U+{ord(c):04X}' for c in strange[1:])}]" if strange[1:] else ""
                out, strange = out + letter, [""]
            else:
                strange.append(letter)
        return out[:-1]

    def strangers(self, texts: Iterable[str]) -> list[str]:
        """Every letter in these texts that cannot be printed as it is."""
        every: set[str] = set()
        for text in texts:
            whole = joined(unicodedata.normalize("NFC", text))
            acting = joiners_that_act(whole)
            every.update(letter for at, letter in enumerate(whole) if at not in acting)
        return sorted(letter for letter in every - set("\n\r\t") if not self.has(letter))

    def widths(self, family: str, bold: bool = False) -> Widths:
        """The widths of a font's letters, in thousandths of their size."""
        return self._widths_of(family, bold)

    def width(self, text: str, size: float, bold: bool = False) -> float:
        """How wide a printable text is, in mm."""
        return self._thousandths(text, bold, self.family(text)) * size * POINT / 1000

    def _thousandths(self, text: str, bold: bool, family: str) -> float:
        key = text, bold, family
        known = self._words.get(key)
        if known is None:
            if is_plain(text):
                known = sum(map(self._widths_of(family, bold).__getitem__, map(ord, text)))
            else:
                known = sum(self._parts_wide(text, bold, family))
            self._words[key] = known
        return known

    def _parts_wide(self, text: str, bold: bool, family: str) -> Iterator[float]:
        for part in parts(text, family):
            widths = self._widths_of(part.font, bold)
            yield sum(map(widths.__getitem__, map(ord, part.drawn)))

    def lines(self, text: str, size: float, width: float, bold: bool = False) -> list[str]:
        """The text broken into lines that are at most `width` mm wide; what cannot be printed is replaced first."""
        room = width * 1000 / (size * POINT)
        text = self.printable(text)
        family = self.family(text.replace("\n", " "))
        return [line for part in text.split("\n") for line in self._broken(part, bold, family, room)]

    def _broken(self, text: str, bold: bool, family: str, room: float) -> list[str]:
        space = self._thousandths(" ", bold, family)
        lines, line, used = [], "", 0.0
        for word in text.split(" "):
            needed = self._thousandths(word, bold, family)
            if line and used + space + needed <= room:
                line, used = f"{line} {word}", used + space + needed
                continue
            if line:
                lines.append(line)
            *whole, word = self._cut(word, bold, family, room) if needed > room else [word]
            lines += whole
            line, used = word, self._thousandths(word, bold, family)
        return [*lines, line]

    def _cut(self, word: str, bold: bool, family: str, room: float) -> list[str]:
        """A word too long for a line, in pieces that fit."""
        pieces, piece, used = [], "", 0.0
        for part in [Part(family, word, word)] if is_plain(word) else parts(word, family):
            widths = self._widths_of(part.font, bold)
            for said, drawn in syllables(part):
                wide = sum(map(widths.__getitem__, map(ord, drawn)))
                if piece and used + wide > room:
                    pieces.append(piece)
                    piece, used = "", 0.0
                piece, used = piece + said, used + wide
        return [*pieces, piece]
