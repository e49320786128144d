"""Letters become the shapes they are written with: joined, stacked, and put in their order.

    for said, drawn in pieces("सुनीता", "Deva"):     # said: letters as typed; drawn: what to draw for them
        ...

For the nine scripts of India (`letters`, `syllables`, `reordering`) and for Sinhala, Burmese and Lao (`southern`).
Nothing here is loaded before a text needs it. `drawn` is made of private code points that only the script's own font
has: whatever draws letters one by one from the left draws it right, on the screen and on paper alike.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import NamedTuple

from mobileapp.look import assets_dir
from mobileapp.shaping import southern
from mobileapp.shaping.letters import CIRCLE, SCRIPTS, kind_of, place_of
from mobileapp.shaping.letters import script_of as script_of_india
from mobileapp.shaping.opentype import Rules
from mobileapp.shaping.placing import placed
from mobileapp.shaping.reordering import Order
from mobileapp.shaping.signs import Sign, substitute
from mobileapp.shaping.syllables import in_parts, syllables

PRIVATE = 0xE000
_BASIC = ("nukt", "akhn", "rphf", "rkrf", "pref", "blwf", "abvf", "half", "pstf", "vatu", "cjct")
_FINE = ("init", "pres", "abvs", "blws", "psts", "haln", "rlig", "rclt", "calt", "clig")
_CIRCLE = "\u25cc"


class Piece(NamedTuple):
    """A syllable as it was typed, and as it is drawn."""

    said: str
    drawn: str


@cache
def rules_of(script: str) -> Rules:
    """The rules of a script's font, read when first asked for."""
    return Rules((assets_dir() / "fonts" / f"{script}-Rules.ttf").read_bytes())


def pieces(text: str, script: str) -> list[Piece]:
    """The syllables of a text of one script."""
    return list(_pieces(text, script))


@lru_cache(maxsize=2000)
def _pieces(text: str, script: str) -> tuple[Piece, ...]:
    rules = rules_of(script)
    done: list[Piece] = []
    for said, signs in signs_of(text, script):
        drawn = [""] * len(said)
        for sign, shape in placed(rules, signs):
            drawn[sign.syllable] += chr(PRIVATE + shape)
        for one, shapes in zip(said, drawn, strict=True):
            _add(done, one, shapes)
    return tuple(done)


def _add(done: list[Piece], said: str, drawn: str) -> None:
    """A space stays one: lines break there. What draws nothing by itself goes with what it stands behind."""
    if drawn or not done:
        done.append(Piece(said, " " if said == " " else drawn))
    else:
        done[-1] = Piece(done[-1].said + said, done[-1].drawn)


def signs_of(text: str, script: str) -> Iterator[tuple[list[str], list[Sign]]]:
    """What is shaped together: its syllables as they were typed, and its signs in the order they are drawn."""
    rules = rules_of(script)
    text = in_parts(text, frozenset(map(chr, rules.letters)))
    shaped_together = _of_india(text, script) if script in SCRIPTS else southern.signs_of(text, rules, script)
    for said, signs in shaped_together:
        yield said, [sign for sign in signs if sign.substituted or sign.kind not in "JZ"]


def _of_india(text: str, script: str) -> Iterator[tuple[list[str], list[Sign]]]:
    begins_word = True
    for said, broken in syllables(text):
        yield [said], shaped(said, script, broken, begins_word)
        begins_word = not unicodedata.category(said[-1]).startswith(("L", "Mn", "Mc", "Me", "Cf"))


def script_of(letter: str) -> str:
    """The script whose block a letter is in, or none."""
    return script_of_india(letter) or southern.southern_script_of(letter)


def shaped(syllable: str, script: str, broken: bool = False, begins_word: bool = True) -> list[Sign]:
    """The signs of one syllable, in the order in which they are drawn."""
    rules, how = rules_of(script), SCRIPTS[script]
    signs = [Sign(rules.letters.get(ord(letter), 0), kind_of(letter), place_of(letter)) for letter in syllable]
    if broken:
        _stand_on_circle(signs, rules)
    substitute(rules, signs, ("locl", "ccmp"))
    order = Order(rules, how, signs)
    joins = any(sign.kind not in "XY" for sign in signs)
    if joins:
        order.first()
    for feature in _BASIC:
        substitute(rules, signs, (feature,))
    if joins:
        order.last(begins_word)
    substitute(rules, signs, _FINE)
    return signs


def _stand_on_circle(signs: list[Sign], rules: Rules) -> None:
    """A mark that has no letter stands on a dotted circle, behind a reph."""
    at = 1 if signs and signs[0].kind == "F" else 0
    signs.insert(at, Sign(rules.letters.get(ord(_CIRCLE), 0), CIRCLE, place_of(_CIRCLE)))
