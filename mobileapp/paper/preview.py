"""The pages of a closing sheet as pictures, before it is written: drawn by Pillow from the very pages that are printed.

    preview = Preview(account, prepared, "A4")
    preview.count, preview.draw(0)          # beside the main thread; one page at a time is held

Every letter stands where the PDF has it: its place comes from the printed font's widths, not from Pillow's.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from functools import lru_cache
from math import hypot
from typing import Any

from PIL import Image, ImageDraw, ImageFont

from checklists.account.parts import Account
from mobileapp.look import font_file
from mobileapp.paper.closing_sheet import printable, sheet_pages
from mobileapp.paper.ink import Bar, Bookmark, Frame, Ink, Photo, Rule, Slanted, Text
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import POINT, SIZES
from mobileapp.paper.pictures import Pictured, Prepared
from mobileapp.paper.widths import font_widths

#: A page's height in pixels: about 175 to the inch, and as large as a phone's graphics surely take.
HIGH = 2048


class Preview:
    """The pages that this account, these photos and this paper give."""

    def __init__(self, account: Account, pictures: Mapping[str, Pictured], paper: str = "A4") -> None:
        self.paper = SIZES[paper]
        self.letters = Letters(font_widths)
        self._pictures = printable(pictures)
        self.pages = sheet_pages(account, pictures, self.paper, self.letters)

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self.pages)

    def draw(self, number: int, high: int = HIGH) -> Image.Image:
        """One page, counted from 0, `high` pixels high."""
        scale = high / self.paper.height
        image = Image.new("RGB", (round(self.paper.width * scale), high), "white")
        brush = _Brush(image, scale, self.letters, self._pictures)
        for ink in self.pages[number]:
            brush.put(ink)
        return image


class _Brush:
    """Puts inks on one picture; `scale` is in pixels a millimetre."""

    def __init__(self, image: Image.Image, scale: float, letters: Letters, pictures: Mapping[str, Prepared]) -> None:
        self._image, self._scale, self._letters, self._pictures = image, scale, letters, pictures
        self._draw = ImageDraw.Draw(image)

    def put(self, ink: Ink) -> None:
        """One ink."""
        _STROKES[type(ink)](self, ink)

    def _text(self, ink: Text) -> None:
        text = self._letters.printable(ink.text)
        self._letters_at(self._draw, text, ink.x, ink.y, ink.size, ink.bold, _grey(ink.shade))

    def _letters_at(self, draw: Any, text: str, x: float, y: float, size: float, bold: bool, fill: Any) -> None:
        for part in self._letters.parts(text):
            widths = self._letters.widths(part.font, bold)
            font = _font(str(font_file(part.font, bold)), size * POINT * self._scale)
            for letter in part.drawn:
                draw.text((x * self._scale, y * self._scale), letter, fill, font, anchor="ls")
                x += widths[ord(letter)] * size * POINT / 1000

    def _slanted(self, ink: Slanted) -> None:
        """A text turned about its middle: written level on a picture of its own, which is turned and laid down."""
        wide, high = self._letters.width(ink.text, ink.size, True), ink.size * POINT
        side = round(1.2 * hypot(wide, high) * self._scale)
        mask = Image.new("L", (side, side))
        middle = side / 2 / self._scale
        self._letters_at(
            ImageDraw.Draw(mask), ink.text, middle - wide / 2, middle + 0.36 * high, ink.size, True, 255
        )
        mask = mask.rotate(ink.angle, Image.Resampling.BICUBIC)
        corner = round(ink.x * self._scale - side / 2), round(ink.y * self._scale - side / 2)
        self._image.paste(_grey(ink.shade), (*corner, corner[0] + side, corner[1] + side), mask)

    def _bar(self, ink: Bar) -> None:
        self._draw.rectangle(self._box(ink), fill=_grey(ink.shade))

    def _frame(self, ink: Frame) -> None:
        right, bottom, half = ink.x + ink.width, ink.y + ink.height, 0 if ink.dash else ink.thick / 2
        for x, y in ((ink.x, ink.y), (ink.x, bottom)):
            for start, end in _dashes(ink.width, ink.dash):
                self._rule(Rule(x + start - half, y, x + end + half, y, ink.thick))
        for x, y in ((ink.x, ink.y), (right, ink.y)):
            for start, end in _dashes(ink.height, ink.dash):
                self._rule(Rule(x, y + start, x, y + end, ink.thick))

    def _rule(self, ink: Rule) -> None:
        ends = [side * self._scale for side in (ink.x, ink.y, ink.to_x, ink.to_y)]
        self._draw.line(ends, fill=_grey(ink.shade), width=max(1, round(ink.thick * self._scale)))

    def _photo(self, ink: Photo) -> None:
        left, top, right, bottom = self._box(ink)
        size = max(1, right - left + 1), max(1, bottom - top + 1)
        with Image.open(io.BytesIO(self._pictures[ink.sha].jpeg)) as photo:
            photo.draft("RGB", size)
            self._image.paste(photo.convert("RGB").resize(size, Image.Resampling.BILINEAR), (left, top))

    def _bookmark(self, ink: Bookmark) -> None:
        """Nothing of it is seen."""

    def _box(self, ink: Bar | Photo) -> tuple[int, int, int, int]:
        """The pixels of a box, its last ones included: boxes that touch on paper touch here."""
        left, top = round(ink.x * self._scale), round(ink.y * self._scale)
        right, bottom = round((ink.x + ink.width) * self._scale), round((ink.y + ink.height) * self._scale)
        return left, top, max(left, right - 1), max(top, bottom - 1)


_STROKES: dict[type, Callable[[_Brush, Any], None]] = {
    Text: _Brush._text,
    Slanted: _Brush._slanted,
    Bar: _Brush._bar,
    Frame: _Brush._frame,
    Rule: _Brush._rule,
    Photo: _Brush._photo,
    Bookmark: _Brush._bookmark,
}


@lru_cache(maxsize=24)
def _font(path: str, pixels: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(path, pixels, layout_engine=ImageFont.Layout.BASIC)


def _grey(shade: float) -> tuple[int, int, int]:
    level = round(shade * 255)
    return level, level, level


def _dashes(length: float, dash: float) -> list[tuple[float, float]]:
    """Where the pieces of a line begin and end: one whole, or pieces of `dash` with half of that between."""
    if not dash:
        return [(0, length)]
    count = int(length / (1.5 * dash)) + 1
    return [(1.5 * dash * at, min(length, 1.5 * dash * at + dash)) for at in range(count)]
