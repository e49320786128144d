"""Text that wraps and grows: headings, body, small print, figures. Never clipped, whatever the font scale.

Arabic and Hebrew are joined, broken into lines and turned about here, and the scripts of India are shaped: the phone's
text drawing does none of it. A text that needs several fonts is drawn as marked-up text, which may have them.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from kivy.core.text import Label as Writing
from kivy.core.text.markup import MarkupLabel as MarkedWriting
from kivy.properties import BooleanProperty, ColorProperty, NumericProperty, StringProperty
from kivy.uix.label import Label
from kivy.utils import escape_markup

from mobileapp import look
from mobileapp.right_to_left import joined, laid_out, turns
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.running_time import running_time
from mobileapp.writing import is_plain, parts, plain_font_of

#: Letters drawn small are rounded to whole pixels and come out a little wider than their share.
_HINTING = 0.96


@lru_cache(maxsize=2000)
def _share_of_size(word: str, font: str, bold: bool) -> float:
    """How wide a word is, as a share of its font size."""
    return width_drawn(word, Writing(font_name=font, font_size=100, bold=bold)) / 100


def width_drawn(text: str, writing: Writing) -> float:
    """How wide a text is in the font and size of `writing`, its parts in theirs."""
    if is_plain(text):
        return float(writing.get_extents(text)[0])
    options = {name: writing.options[name] for name in ("font_size", "bold")}
    return sum(
        float(Writing(font_name=part.font, **options).get_extents(part.drawn)[0])
        for part in parts(text, writing.options["font_name"])
    )


def in_parts(text: str, like: Writing) -> Writing:
    """A text whose parts are in several fonts, drawn; for the rest written `like` another."""
    all_parts = parts(text, like.options["font_name"])
    shown = "".join(f"[font={part.font}]{escape_markup(part.drawn)}[/font]" for part in all_parts)
    writing = MarkedWriting(**{**like.options, "text": shown, "text_size": like.text_size})
    writing.refresh()
    return writing


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
        text = "".join(f" {letter} " if look.is_eastern(letter) or _is_southern(letter) else letter for letter in text)
    return text.split()


def _is_southern(letter: str) -> bool:
    """Whether this is Thai, Lao, Tibetan, Burmese or Khmer."""
    return "\u0e00" <= letter <= "\u109f" or "\u1780" <= letter <= "\u17ff"


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
    #: What drew the text.
    written: Writing = None
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
        self.font_name = plain_font_of(self.text)
        wanted = min(self.letters, self.most)
        self.font_size = size_for(self.text, self.font_name, self.bold, wanted, self.width)
        self.text_size = (self.width, None)

    def _grow(self, *_: object) -> None:
        self.height = 0 if self.folds and not self.text else self.texture_size[1]

    def _dye(self, *_: object) -> None:
        self.color = self.disabled_color = self.ink

    def texture_update(self, *args: Any) -> None:
        """Draw the text anew."""
        text = self.text
        if turns(text):
            text = right_to_left(text, self.font_name, self.bold, self.font_size, self.width)
            self._label.text = text
        self.written = self._label
        if is_plain(text):
            super().texture_update(*args)
            return
        self.written = in_parts(text, self._label)
        self.texture = self.written.texture
        self.texture_size = list(self.texture.size)


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
