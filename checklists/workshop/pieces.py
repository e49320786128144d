"""Do the pieces of a broken part add up? Expected mass against the sum of the pieces, with the scale's uncertainty.

Masses in g, lengths in mm, densities in g/mm3. Every answer states its coverage factor k. A part designed to break at
a neck is an ordinary case: its expected mass is that of the whole part.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, pi, sqrt
from typing import Literal

from checklists.workshop.fastener_mass import STEEL
from checklists.workshop.uncertainty import USUAL_K, Estimate, Instrument, propagate, said

Verdict = Literal["adds up", "short", "too much", "cannot tell"]


@dataclass(frozen=True, slots=True)
class Account:
    """The answer about a broken part. `short` is expected less found, in g, `expanded` its U = k u.

    `ball` is the diameter in mm of a ball of that mass, with the smallest and largest it may be; `hidden` that of the
    largest ball that these weighings could still hide.
    """

    verdict: Verdict
    short: float
    expanded: float
    k: float
    ball: float
    ball_range: tuple[float, float]
    hidden: float
    words: tuple[str, ...]


def weighed(scale: Instrument, grams: float) -> Estimate:
    """One thing weighed on a scale set to zero: the zero and the thing are both read to its resolution."""
    return Estimate(grams, sqrt(2 * scale.reading_u**2 + scale.error_u**2))


def sum_of_pieces(scale: Instrument, grams: Sequence[float]) -> Estimate:
    """Pieces weighed one by one on one scale. Readings scatter; the scale's own error repeats, so it adds up."""
    count = len(grams)
    return Estimate(fsum(grams), sqrt(2 * count * scale.reading_u**2 + (count * scale.error_u) ** 2))


def expected_from_twin(twin: Estimate, likeness: float) -> Estimate:
    """The whole part's mass from an identical part weighed; `likeness` is how alike two such parts are (0.01: 1 %)."""
    return Estimate(twin.value, sqrt(twin.u**2 + (likeness * twin.value) ** 2), twin.freedom)


def expected_from_size(volume: Estimate, density: Estimate) -> Estimate:
    """The whole part's mass from its volume in mm3 and its density in g/mm3."""
    return propagate(lambda v, rho: v * rho, (volume, density))


def cylinder(diameter: Estimate, length: Estimate) -> Estimate:
    """Volume of a round bar in mm3."""
    return propagate(lambda d, length: pi / 4 * d * d * length, (diameter, length))


def tube(outside: Estimate, inside: Estimate, length: Estimate) -> Estimate:
    """Volume of a tube in mm3."""
    return propagate(lambda a, b, length: pi / 4 * (a * a - b * b) * length, (outside, inside, length))


def box(length: Estimate, width: Estimate, height: Estimate) -> Estimate:
    """Volume of a box in mm3."""
    return propagate(lambda a, b, c: a * b * c, (length, width, height))


def hexagon_bar(flats: Estimate, length: Estimate) -> Estimate:
    """Volume of a hexagonal bar in mm3."""
    return propagate(lambda s, length: sqrt(3) / 2 * s * s * length, (flats, length))


def together(volumes: Sequence[Estimate], minus: Sequence[Estimate] = ()) -> Estimate:
    """Several volumes added, holes taken off."""
    whole = fsum(each.value for each in volumes) - fsum(each.value for each in minus)
    return Estimate(whole, sqrt(fsum(each.u**2 for each in (*volumes, *minus))))


def ball_diameter(grams: float, density: float = STEEL) -> float:
    """Diameter in mm of a ball of that mass."""
    return float((6 * max(grams, 0.0) / (pi * density)) ** (1 / 3))


def account_for(
    expected: Estimate, found: Estimate, smallest_mm: float, k: float = USUAL_K, density: float = STEEL
) -> Account:
    """Hold the pieces against the whole. `smallest_mm` is the smallest piece that does harm, as a ball's diameter.

    They add up only where no piece as big as that could be hidden. The uncertainties of expected and found are taken
    as independent, which errs on the careful side where one scale weighed both.
    """
    short = expected.value - found.value
    expanded = k * sqrt(expected.u**2 + found.u**2)
    ball, low, high = (ball_diameter(each, density) for each in (short, short - expanded, short + expanded))
    verdict = _verdict(short, expanded, high < smallest_mm)
    account = Account(verdict, short, expanded, k, ball, (low, high), high, ())
    return Account(
        verdict, short, expanded, k, ball, (low, high), high, _words(account, smallest_mm, density)
    )


def _verdict(short: float, expanded: float, nothing_hidden: bool) -> Verdict:
    if short > expanded:
        return "short"
    if short < -expanded:
        return "too much"
    return "adds up" if nothing_hidden else "cannot tell"


def _words(account: Account, smallest_mm: float, density: float) -> tuple[str, ...]:
    what = "steel ball" if density == STEEL else "ball of its material"
    if account.verdict == "short":
        low, high = account.ball_range
        return (
            f"Short by {said(account.short, account.expanded, 'g')} (k = {account.k:g}), "
            f"as big as a {what} of {account.ball:.1f} mm ({low:.1f} to {high:.1f} mm).",
            "A piece is missing: look for it.",
        )
    if account.verdict == "too much":
        return (
            f"The pieces weigh {said(-account.short, account.expanded, 'g')} (k = {account.k:g}) more than the part.",
            "Something else is among them, or the expected mass is wrong: clean, sort and weigh again.",
        )
    agree = f"Whole and pieces agree within {account.expanded:.2g} g (k = {account.k:g})"
    if account.verdict == "adds up":
        return (
            f"Adds up. {agree}; nothing bigger than a {what} of {account.hidden:.1f} mm could be hidden, "
            f"and {smallest_mm:g} mm is the smallest that matters.",
        )
    return (
        f"Cannot tell. {agree}, but this weighing could hide a piece as big as a {what} of {account.hidden:.1f} mm.",
        "Weigh on a finer scale, fit the pieces together, or look by a closeout inspection.",
    )


@dataclass(frozen=True, slots=True)
class LengthAccount:
    """Pieces laid end to end: `short` is expected less found, in mm, `expanded` its U = k u."""

    verdict: Literal["adds up", "short", "too much"]
    short: float
    expanded: float
    k: float
    words: str


def account_for_length(expected: Estimate, pieces: Sequence[Estimate], k: float = USUAL_K) -> LengthAccount:
    """Hold the lengths of the pieces against the length of the whole. It never clears a part by itself."""
    short = expected.value - fsum(each.value for each in pieces)
    expanded = k * sqrt(expected.u**2 + fsum(each.u**2 for each in pieces))
    if short > expanded:
        words = f"Laid end to end the pieces are short by {said(short, expanded, 'mm')} (k = {k:g})."
        return LengthAccount("short", short, expanded, k, words)
    if short < -expanded:
        more = said(-short, expanded, "mm")
        words = (
            f"Laid end to end the pieces are longer than the whole by {more} (k = {k:g}): "
            "bent open, or not all of it ours."
        )
        return LengthAccount("too much", short, expanded, k, words)
    words = f"The lengths add up within {expanded:.2g} mm (k = {k:g}); splinters do not show in a length."
    return LengthAccount("adds up", short, expanded, k, words)
