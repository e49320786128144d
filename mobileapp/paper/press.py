"""The press: fonts and pages through fpdf2. Nothing here looks at a clock; the same inks give the same bytes."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from datetime import datetime
from itertools import groupby
from typing import NamedTuple

from fpdf import FPDF

from mobileapp.look import font_file
from mobileapp.paper.flow import Page
from mobileapp.paper.ink import Bar, Bookmark, Frame, Photo, Rule, Slanted, Text
from mobileapp.paper.letters import WORLD, Letters
from mobileapp.paper.measures import POINT, PaperSize
from mobileapp.paper.pictures import Prepared
from mobileapp.paper.widths import font_widths
from mobileapp.right_to_left import laid_out


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

    def _set(self, text: str, size: float, bold: bool, shade: float) -> None:
        family = self.letters.family(text)
        bold = bold and family != WORLD
        if self._font != (family, bold, size):
            self._load(family, bold)
            self._pdf.set_font(family, "B" if bold else "", size)
            self._font = family, bold, size
        if self._shade != shade:
            self._pdf.set_text_color(round(shade * 255))
            self._shade = shade

    def _text(self, ink: Text, pictures: Mapping[str, Prepared]) -> None:
        text = self.letters.printable(ink.text)
        self._set(text, ink.size, ink.bold, ink.shade)
        self._pdf.text(ink.x, ink.y, laid_out(text))

    def _slanted(self, ink: Slanted, pictures: Mapping[str, Prepared]) -> None:
        self._set(ink.text, ink.size, True, ink.shade)
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
