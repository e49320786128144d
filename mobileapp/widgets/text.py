"""Text that wraps and grows: headings, body, small print, figures. Never clipped, whatever the font scale.

Arabic and Hebrew are joined, broken into lines and turned about here: the phone's text drawing does none of it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from kivy.core.text import Label as Writing
from kivy.properties import BooleanProperty, ColorProperty, NumericProperty, StringProperty
from kivy.uix.label import Label

from mobileapp import look
from mobileapp.right_to_left import joined, laid_out, turns
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
    longest = max((_share_of_size(word, font, bold) for word in _words(text)), default=0)
    room = width * _HINTING
    if width <= 1 or longest * wanted <= room:
        return wanted
    return max(1.0, room / longest)


def _words(text: str) -> list[str]:
    """What must not be broken. What is written without spaces may be, after any letter: else it would become tiny."""
    if not text.isascii():
        text = "".join(f" {letter} " if look.is_eastern(letter) or _is_thai(letter) else letter for letter in text)
    return text.split()


def _is_thai(letter: str) -> bool:
    return "\u0e00" <= letter <= "\u0e7f"


def right_to_left(text: str, font: str, bold: bool, size: float, width: float) -> str:
    """A text with Arabic or Hebrew in it as it is drawn, in lines that fit in `width`."""
    space = _share_of_size(" ", font, bold) * size
    lines = []
    for part in joined(text).split("\n"):
        line, used = "", 0.0
        for word in part.split(" "):
            wide = _share_of_size(word, font, bold) * size
            if line and width > 1 and used + space + wide > width * _HINTING:
                lines.append(line)
                line, used = word, wide
            else:
                line, used = (f"{line} {word}", used + space + wide) if line else (word, wide)
        lines.append(line)
    return "\n".join(map(laid_out, lines))


class Words(Label):
    """Text as wide as its place, as high as it needs, in a font that has its letters, its words whole."""

    ink = ColorProperty(look.PALE)
    #: The size of letters, unless a long word in a narrow place asks for smaller ones.
    letters = NumericProperty(look.BODY)
    most = NumericProperty("1000dp")
    #: Whether it takes no room while it has nothing to say.
    folds = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        # Bound here and not by rules: there is hardly a widget that is made more often.
        for name in ("text", "bold", "letters", "most", "width"):
            self.fbind(name, self._fit)
        for name in ("texture_size", "folds", "text"):
            self.fbind(name, self._grow)
        self.fbind("ink", self._dye)
        self._fit()
        self._grow()
        self._dye()

    def _fit(self, *_: object) -> None:
        self.font_name = look.font_for(self.text)
        wanted = min(self.letters, self.most)
        self.font_size = size_for(self.text, self.font_name, self.bold, wanted, self.width)
        self.text_size = (self.width, None)

    def _grow(self, *_: object) -> None:
        self.height = 0 if self.folds and not self.text else self.texture_size[1]

    def _dye(self, *_: object) -> None:
        self.color = self.disabled_color = self.ink

    def texture_update(self, *args: Any) -> None:
        """Draw the text anew."""
        if turns(self.text):
            self._label.text = right_to_left(self.text, self.font_name, self.bold, self.font_size, self.width)
        super().texture_update(*args)


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
