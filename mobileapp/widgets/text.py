"""Text that wraps and grows: headings, body, small print, figures. Never clipped, whatever the font scale."""

from __future__ import annotations

from functools import lru_cache

from kivy.core.text import Label as Writing
from kivy.properties import BooleanProperty, ColorProperty, NumericProperty, StringProperty
from kivy.uix.label import Label

from mobileapp import look
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.running_time import running_time

#: Letters drawn small are rounded to whole pixels and come out a little wider than their share.
_HINTING = 0.96


@lru_cache(maxsize=2000)
def _share_of_size(word: str, font: str, bold: bool) -> float:
    """How wide a word is, as a share of its font size."""
    return float(Writing(font_name=font, font_size=100, bold=bold).get_extents(word)[0]) / 100


def size_for(text: str, font: str, bold: bool, wanted: float, width: float) -> float:
    """`wanted`, or the size at which the longest word still fits in `width`: words are never broken."""
    longest = max((_share_of_size(word, font, bold) for word in text.split()), default=0)
    room = width * _HINTING
    if width <= 1 or longest * wanted <= room:
        return wanted
    return max(1.0, room / longest)


class Words(Label):
    """Text as wide as its place, as high as it needs, in a font that has its letters, its words whole."""

    ink = ColorProperty(look.PALE)
    #: The size of letters, unless a long word in a narrow place asks for smaller ones.
    letters = NumericProperty(look.BODY)
    most = NumericProperty("1000dp")

    size_for = staticmethod(size_for)


class Body(Words):
    """Plain sentences."""


class Small(Words):
    """Second-rank words: since when, by whom."""


class Heading(Words):
    """What this part of the screen is about."""


class Figure(Words):
    """A big number. B612's digits are all of one width."""


class FitFigure(Label):
    """A number as large as its place allows, up to `largest` pixels."""

    ink = ColorProperty(look.PALE)
    largest = NumericProperty(look.PAD_FIGURE)


class RunningTime(Words):
    """How long something has been going on, from `seconds`: 4:07, 1:02:30."""

    seconds = NumericProperty(0)
    before = StringProperty("")
    strong = BooleanProperty(False)

    def wording(self, before: str, seconds: float) -> str:
        """The text shown."""
        return f"{before} {running_time(seconds)}".strip()


load_rules(__file__)
