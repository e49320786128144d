"""The look: colours with their measured contrast, sizes, fonts, and where the assets are.

Nothing here imports Kivy until `register_fonts` is called, so colours can be checked without a window.
Orange is out, sky is back or home, yellow is look here, bone says nothing; none of them ever says it alone.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

Colour = tuple[float, float, float, float]


def colour(digits: str) -> Colour:
    """A colour from six hexadecimal digits."""
    red, green, blue = (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    return (red, green, blue, 1.0)


def luminance(shade: tuple[float, ...]) -> float:
    """Relative luminance as WCAG 2.2 defines it, of red, green and blue from 0 to 1."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in shade[:3]
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """WCAG contrast ratio of two colours, from 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


#                            on GROUND   INK on it
GROUND = colour("0E1012")  #     1.0        1.1
STEEL = colour("22282D")  #      1.3        1.4     quiet keys and rows
EDGE = colour("7E8990")  #       5.4        5.8     outlines; 4.2 against STEEL
DIM = colour("D4D9D7")  #       13.4       14.7     second-rank words; 10.4 against STEEL, fine strokes and all
PALE = colour("F4F1E8")  #      17.0       18.3     words; 13.3 against STEEL
BONE = colour("DDD8C8")  #      13.5       14.5     the neutral plate
ORANGE = colour("E69F00")  #     8.4        9.1     out
SKY = colour("56B4E9")  #        8.3        8.9     back, home
YELLOW = colour("F0E442")  #    14.5       15.6     look here
INK = colour("000000")  #        1.1        1.0     words and figures on plates


class Tone(NamedTuple):
    """How one kind of plate is coloured: its face, the words on it and the lip that says it can be pressed."""

    face: Colour
    words: Colour
    lip: Colour


TONES = {
    "orange": Tone(ORANGE, INK, colour("8F6200")),
    "sky": Tone(SKY, INK, colour("2B6E97")),
    "yellow": Tone(YELLOW, INK, colour("958C16")),
    "bone": Tone(BONE, INK, colour("857F70")),
    "steel": Tone(STEEL, PALE, EDGE),
}

# Millimetres, because a glove is measured in millimetres.
KEY_MM = 20  # primary touch parts, at least
ACT_MM = 24  # the next act is the largest
GAP_MM = 6  # between primary parts, at least
APART_MM = 13  # between what takes back a count and any other part, at least
EDGE_MM = 4  # clear of the screen's edge
ROOMY_MM = 112  # a screen as high as this can afford shapes on every key

# Text, in the phone's own scalable unit. Capital letters of BODY stand 2.4 mm high.
SMALL = "17sp"
BODY = "19sp"
KEY = "22sp"
HEADING = "25sp"
FIGURE = "36sp"
PAD_FIGURE = "150sp"

# What is large already grows no further than this with the phone's font scale, or there is no room for the rest.
KEY_MOST = "27dp"
HEADING_MOST = "30dp"
TIGHT_MOST = "22dp"  # on keys of 20 mm and where height is short
HEADING_TIGHT = "25dp"  # a title where height is short
FIGURE_MOST = "44dp"

FONT = "B612"
WIDE_FONT = "Wide"
WORLD_FONT = "World"
#: For parts of a text that ask for them (mobileapp/writing.py): scripts that are shaped, names with Arabic letters that
#: the wider font lacks, Ethiopic, and what no other font has.
SCRIPTS = ("Deva", "Beng", "Guru", "Gujr", "Orya", "Taml", "Telu", "Knda", "Mlym", "Sinh", "Laoo", "Mymr")
ARABIC_FONT = "Arab"
ETHIOPIC_FONT = "Ethi"
LAST_FONT = "Last"
#: The others have one weight.
TWO_WEIGHTS = (FONT, WIDE_FONT, ARABIC_FONT, ETHIOPIC_FONT)

# What B612 has, as inclusive ranges. tests/widgets/test_fonts.py compares this with the files.
_B612_HAS = (
    (0x20, 0x7E), (0xA0, 0xFF), (0x152, 0x153), (0x160, 0x161), (0x178, 0x178), (0x192, 0x192),
    (0x391, 0x39F), (0x3A1, 0x3A1), (0x3A3, 0x3A9), (0x3B1, 0x3C0), (0x3C2, 0x3C9), (0x2013, 0x2015),
    (0x2018, 0x201A), (0x201C, 0x201E), (0x2022, 0x2022), (0x2026, 0x2026), (0x2032, 0x2033),
    (0x20AC, 0x20AC), (0x2190, 0x2193), (0x2205, 0x2205), (0x2212, 0x2212), (0x2248, 0x2248),
    (0x2264, 0x2265),
)  # fmt: skip


def in_b612(letter: str) -> bool:
    """Whether our own font has this letter (line ends count as had)."""
    code = ord(letter)
    return letter == "\n" or any(first <= code <= last for first, last in _B612_HAS)


# The scripts for which only the large font has letters: it is not opened before a name asks for it.
_EASTERN = ((0x2E80, 0x9FFF), (0xAC00, 0xD7A3), (0xF900, 0xFAFF), (0xFE30, 0xFE4F), (0xFF01, 0xFFEF))


def is_eastern(letter: str) -> bool:
    """Whether this is a letter or a sign of Chinese, Japanese or Korean."""
    code = ord(letter)
    return code >= _EASTERN[0][0] and any(first <= code <= last for first, last in _EASTERN)


def font_for(text: str) -> str:
    """The font that can write `text`: ours, the wider one for letters ours lacks, or the large one of the far east.

    Letters that none of them has are drawn in fonts of their own: `mobileapp/writing.py` says which.
    """
    if all(map(in_b612, text)):
        return FONT
    return WORLD_FONT if any(map(is_eastern, text)) else WIDE_FONT


def assets_dir() -> Path:
    """Where fonts and pictures are: inside the package when installed, beside it in the source tree."""
    here = Path(__file__).resolve().parent
    inside = here / "assets"
    return inside if inside.is_dir() else here.parent / "assets"


def font_file(name: str, bold: bool = False, ending: str = "ttf") -> Path:
    """Where a font is; bold only where it has a bold weight."""
    style = "Bold" if bold and name in TWO_WEIGHTS else "Regular"
    return assets_dir() / "fonts" / f"{name}-{style}.{ending}"


def register_fonts() -> None:
    """Make B612 the font of every text, and name those for letters it lacks; none is opened before it is used."""
    from kivy.core.text import DEFAULT_FONT, LabelBase

    others = [(name, name, "ttf") for name in (WIDE_FONT, WORLD_FONT, *SCRIPTS, ARABIC_FONT, ETHIOPIC_FONT, LAST_FONT)]
    for name, family, ending in ((FONT, FONT, "otf"), (DEFAULT_FONT, FONT, "otf"), *others):
        regular, bold = (str(font_file(family, weight, ending)) for weight in (False, True))
        LabelBase.register(name, fn_regular=regular, fn_bold=bold)


def dress_window() -> None:
    """Near-black ground for the window, and our fonts: once, before the first screen is built."""
    from kivy.core.window import Window

    register_fonts()
    Window.clearcolor = GROUND
