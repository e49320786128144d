"""The press: fonts and pages through fpdf2. Nothing here looks at a clock; the same inks give the same bytes."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from itertools import groupby
from typing import NamedTuple

from fpdf import FPDF
from fpdf.fonts import Glyph, TTFFont

from mobileapp.look import SCRIPTS, TWO_WEIGHTS, font_file
from mobileapp.paper.flow import Page
from mobileapp.paper.ink import Bar, Bookmark, Frame, Photo, Rule, Slanted, Text
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import POINT, PaperSize
from mobileapp.paper.pictures import Prepared
from mobileapp.paper.widths import font_widths
from mobileapp.writing import is_plain, shapes_of

_CIRCLE, _NOTHING = "\u25cc", "\u200b"


class Colophon(NamedTuple):
    """What the file says about itself."""

    title: str
    subject: str
    keywords: str
    creator: str
    made: datetime
    identity: str


class _Document(FPDF):
    """A document that has its identity from what it tells, where the library would hash the whole file once more."""

    def __init__(self, paper: PaperSize, identity: str) -> None:
        super().__init__(unit="mm", format=(paper.width, paper.height))
        self._identity = identity

    def file_id(self) -> str:
        return f"<{self._identity}><{self._identity}>"

    def in_parts(self, x: float, y: float, size: float, parts: Iterable[tuple[tuple[str, str], str]]) -> None:
        """One line in several fonts, as one text object: what reads the file has it as one text."""
        shown = []
        for (family, style), said in parts:
            self.set_font(family, style, size)
            shown.append(self._set_font_for_page(self.current_font, size, wrap_in_text_object=False))
            shown.append(self.current_font.encode_text(said))
        where = f"{x * self.k:.2f} {(self.h - y) * self.k:.2f} Td"
        self._out(f"q {self.text_color.serialize().lower()} BT {where} {' '.join(shown)} ET Q")
        self.current_font_is_set_on_page = False


class _Shaped(TTFFont):
    """A font whose letters are shaped: given what a text says, it writes the shapes, and what they stand for.

    The letters of a syllable are dealt out to its shapes in the order of typing, whatever the order they are drawn in:
    read one after another they are the text again.
    """

    __slots__ = ()

    def encode_text(self, text: str) -> str:
        """The operator that shows a text."""
        script = self.fontkey.capitalize()  # the name that the font was added under
        circle = shapes_of(_CIRCLE, script)[0][1]
        codes = (self._code(*one) for piece in shapes_of(text, script) for one in _dealt(*piece, circle))
        return f"({self.escape_text(''.join(map(chr, codes)))}) Tj"

    def _code(self, shape: str, letters: str) -> int:
        plain = self.subset.get_glyph(unicode=ord(shape))
        meant = Glyph(plain.glyph_id, tuple(map(ord, letters)), plain.glyph_name, plain.glyph_width)
        return int(self.subset.pick_glyph(meant))


def _dealt(said: str, drawn: str, circle: str) -> Iterator[tuple[str, str]]:
    """Each shape of a syllable with its share of the letters.

    One too many is the circle under a lonely mark, and said to be one; or a part of a letter, which says nothing.
    """
    for at, shape in enumerate(drawn, 1):
        share = said[at - 1 : at] if at < len(drawn) else said[at - 1 :]
        yield shape, share or (_CIRCLE if shape == circle or circle in drawn[: at - 1] else _NOTHING)


class Press:
    """Prints one document."""

    def __init__(self, paper: PaperSize, about: Colophon) -> None:
        self._pdf = _Document(paper, about.identity)
        self._pdf.set_auto_page_break(False)
        self._pdf.set_margin(0)
        self._font: tuple[str, bool, float] | None = None
        self._shade = 0.0
        self.letters = Letters(font_widths)
        self._say(about)

    def _say(self, about: Colophon) -> None:
        pdf = self._pdf
        pdf.set_creation_date(about.made)
        pdf.set_title(about.title)
        pdf.set_subject(about.subject)
        pdf.set_keywords(about.keywords)
        pdf.set_creator(about.creator)
        pdf.set_lang("en")

    def _load(self, family: str, bold: bool) -> None:
        """Take in a font, the first time a text is set in it."""
        style = "B" if bold else ""
        key = family.lower() + style
        if key not in self._pdf.fonts:
            self._pdf.add_font(family, style, str(font_file(family, bold)))
            if family in SCRIPTS:
                self._pdf.fonts[key].__class__ = _Shaped
            # The part that is embedded keeps its letters as they are: their boxes need not be worked out again.
            self._pdf.fonts[key].ttfont.recalcBBoxes = False

    def print(self, pages: Iterable[Page], pictures: Mapping[str, Prepared]) -> bytes:
        """The document."""
        for page in pages:
            self._pdf.add_page()
            self._font = None
            for kind, inks in groupby(page, type):
                for ink in inks:
                    _PRINTERS[kind](self, ink, pictures)
        return bytes(self._pdf.output())

    def _set(self, family: str, size: float, bold: bool, shade: float) -> None:
        bold = bold and family in TWO_WEIGHTS
        if self._font != (family, bold, size):
            self._load(family, bold)
            self._pdf.set_font(family, "B" if bold else "", size)
            self._font = family, bold, size
        if self._shade != shade:
            self._pdf.set_text_color(round(shade * 255))
            self._shade = shade

    def _text(self, ink: Text, pictures: Mapping[str, Prepared]) -> None:
        text = self.letters.printable(ink.text)
        parts = self.letters.parts(text)
        if is_plain(text):
            self._set(parts[0].font, ink.size, ink.bold, ink.shade)
            self._pdf.text(ink.x, ink.y, parts[0].drawn)
            return
        for part in parts:
            self._set(part.font, ink.size, ink.bold, ink.shade)
        styles = [(part.font, "B" if ink.bold and part.font in TWO_WEIGHTS else "") for part in parts]
        self._pdf.in_parts(ink.x, ink.y, ink.size, zip(styles, (part.said for part in parts), strict=True))
        self._font = None

    def _slanted(self, ink: Slanted, pictures: Mapping[str, Prepared]) -> None:
        self._set(self.letters.family(ink.text), ink.size, True, ink.shade)
        wide = self.letters.width(ink.text, ink.size, True)
        with self._pdf.rotation(ink.angle, ink.x, ink.y):
            self._pdf.text(ink.x - wide / 2, ink.y + 0.36 * ink.size * POINT, ink.text)
        self._font = None

    def _bar(self, ink: Bar, pictures: Mapping[str, Prepared]) -> None:
        self._pdf.set_fill_color(round(ink.shade * 255))
        self._pdf.rect(ink.x, ink.y, ink.width, ink.height, style="F")

    def _frame(self, ink: Frame, pictures: Mapping[str, Prepared]) -> None:
        self._pdf.set_draw_color(0)
        self._pdf.set_line_width(ink.thick)
        if ink.dash:
            self._pdf.set_dash_pattern(ink.dash, ink.dash / 2)
        self._pdf.rect(ink.x, ink.y, ink.width, ink.height)
        if ink.dash:
            self._pdf.set_dash_pattern()

    def _rule(self, ink: Rule, pictures: Mapping[str, Prepared]) -> None:
        self._pdf.set_draw_color(round(ink.shade * 255))
        self._pdf.set_line_width(ink.thick)
        self._pdf.line(ink.x, ink.y, ink.to_x, ink.to_y)

    def _photo(self, ink: Photo, pictures: Mapping[str, Prepared]) -> None:
        self._pdf.image(io.BytesIO(pictures[ink.sha].jpeg), ink.x, ink.y, ink.width, ink.height)

    def _bookmark(self, ink: Bookmark, pictures: Mapping[str, Prepared]) -> None:
        self._pdf.set_xy(ink.x, ink.y)
        self._pdf.start_section(ink.title)


_PRINTERS = {
    Text: Press._text,
    Slanted: Press._slanted,
    Bar: Press._bar,
    Frame: Press._frame,
    Rule: Press._rule,
    Photo: Press._photo,
    Bookmark: Press._bookmark,
}
