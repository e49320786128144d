"""The signature of a person in a story: strokes drawn by the project from the invented name. It imitates nobody's hand.

A row of loops from left to right, one or more for each letter, tall where the letter is tall and low where it goes
below the line; a dot over each i and j, and a stroke under the whole. The same name gives the same strokes.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import cos, pi, sin

from checklists.facts import Strokes

#: The field a signature is drawn in, in millimetres, and how much of it a name takes at most.
_WIDE, _HIGH, _MOST = 62.0, 24.0, 52.0
_LINE = 14.5
_TALL, _LOW, _WIDE_LETTERS = "bdfhklt", "gjpqyz", "mw"
_POINTS = 12

Point = tuple[float, float]


@cache
def drawn_name(name: str) -> Strokes:
    """Strokes for `name`, as a finger would leave them in the field; none for no name."""
    hand = sum(map(ord, name))
    slant, wide = 0.15 + hand % 7 / 20, 2.7 + hand % 5 / 10
    strokes: list[list[Point]] = []
    x = 0.0
    for word in name.split():
        body, dots, x = _word(word, x, wide, hand)
        strokes += [body, *dots]
        x += wide
    if strokes:
        strokes.append([(x, _LINE + 2.0), (x * 0.6, _LINE + 3.2), (x * 0.15, _LINE + 2.6)])
    small = min(1.0, _MOST / x) if x else 1.0
    return tuple(_in_thousandths(stroke, slant, small) for stroke in strokes)


def _word(word: str, x: float, wide: float, hand: int) -> tuple[list[Point], list[list[Point]], float]:
    """The one line of a word, the dots over it, and where it ends."""
    line: list[Point] = []
    dots: list[list[Point]] = []
    for number, letter in enumerate(word):
        low = letter.lower()
        high = 8.0 if number == 0 else 6.5 if low in _TALL else -4.5 if low in _LOW else 3.0
        high *= 0.85 + (ord(low) * 37 + hand) % 10 / 33
        step = wide * (1.6 if number == 0 else 0.8 + ord(low) % 5 / 10)
        for _ in range(3 if low in _WIDE_LETTERS else 2 if low in "nuh" else 1):
            line += _loop(x, step, high)
            x, high = x + step, 3.0
        if low in "ij" and number:
            dots.append([(x - step / 2, _LINE - 6.2), (x - step / 2 + 0.5, _LINE - 6.4)])
    return line, dots, x


def _loop(x: float, step: float, high: float) -> Iterator[Point]:
    for part in range(_POINTS):
        turn = 2 * pi * part / _POINTS
        yield x + step * part / _POINTS - 0.45 * step * sin(turn), _LINE - high * (1 - cos(turn)) / 2


def _in_thousandths(stroke: list[Point], slant: float, small: float) -> tuple[int, ...]:
    found: list[int] = []
    for x, y in stroke:
        across = (4.0 + small * (x + slant * (_LINE - y))) / _WIDE
        found += [round(1000 * min(1.0, max(0.0, share))) for share in (across, y / _HIGH)]
    return tuple(found)
