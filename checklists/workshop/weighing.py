"""Counting by weight: how many alike pieces are in a bag, how sure that is, and when the scale cannot tell.

Masses in g. The unit mass comes from a weighed sample of counted pieces; `scatter` is how much single pieces differ,
as a relative standard deviation (0.01: 1 %).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, fsum, inf, sqrt
from statistics import NormalDist
from typing import Literal

from checklists.workshop.pieces import weighed
from checklists.workshop.uncertainty import USUAL_K, Estimate, Instrument


@dataclass(frozen=True, slots=True)
class Sample:
    """Counted pieces weighed together."""

    grams: float
    pieces: int


@dataclass(frozen=True, slots=True)
class WeighCount:
    """The answer about a bag. `number` is None where the scale cannot tell or nothing fits.

    `estimate` is the count before rounding, `u` its standard uncertainty, `confidence` the probability that rounding
    it gives the right number, `most` the largest count that this scale and sample can tell at that k, -1 where they
    cannot even tell one piece from none.
    """

    verdict: Literal["counted", "cannot tell", "no whole number"]
    number: int | None
    estimate: float
    u: float
    confidence: float
    most: int
    k: float
    words: tuple[str, ...]


def count_by_mass(
    gross: float, tare: float, sample: Sample, scale: Instrument, scatter: float, k: float = USUAL_K
) -> WeighCount:
    """Count a bag by its gross mass, its tare, and a weighed sample of the same pieces.

    Raises ValueError for a sample that weighs nothing or holds no piece.
    """
    if sample.pieces < 1 or sample.grams <= 0:
        raise ValueError("a sample is at least one piece, and weighs something")
    unit = unit_mass(sample, scale, scatter)
    net = weighed(scale, gross - tare)
    estimate = net.value / unit.value
    u = sqrt(_variance(estimate, unit, net.u, scatter))
    most = _most(unit, net.u, scatter, k)
    number = max(0, floor(estimate + 0.5))
    confidence = _chance(estimate, u, number)
    if k * u >= 0.5:
        return WeighCount(
            "cannot tell", None, estimate, u, confidence, most, k, _cannot(estimate, k * u, most, k)
        )
    if abs(estimate - number) > k * u:
        return WeighCount(
            "no whole number", None, estimate, u, confidence, most, k, _misfit(estimate, k * u, k)
        )
    return WeighCount("counted", number, estimate, u, confidence, most, k, _counted(number, confidence))


def unit_mass(sample: Sample, scale: Instrument, scatter: float) -> Estimate:
    """The mass of one piece: the scale's uncertainty and the scatter of the sampled pieces, shared among them."""
    together = weighed(scale, sample.grams)
    one = sample.grams / sample.pieces
    return Estimate(one, one * sqrt((together.u / together.value) ** 2 + scatter**2 / sample.pieces))


def largest_count(unit_u_relative: float, k: float = USUAL_K) -> float:
    """The count that must not be reached where the unit mass alone limits it: k N u < 1/2."""
    return inf if unit_u_relative <= 0 else 1 / (2 * k * unit_u_relative)


def scatter_of(grams: Sequence[float]) -> float:
    """Relative standard deviation of pieces weighed one by one; at least two."""
    if len(grams) < 2:
        raise ValueError("scatter shows only between two pieces or more")
    mean = fsum(grams) / len(grams)
    return sqrt(fsum((each - mean) ** 2 for each in grams) / (len(grams) - 1)) / mean


def _variance(count: float, unit: Estimate, net_u: float, scatter: float) -> float:
    """Of the count: reading the bag, the unit mass, and the bag's own pieces scattering."""
    return (net_u / unit.value) ** 2 + (count * unit.u / unit.value) ** 2 + max(count, 0.0) * scatter**2


def _most(unit: Estimate, net_u: float, scatter: float, k: float) -> int:
    """The largest whole count whose k u stays under a half; -1 where not even that of an empty bag does."""
    a, b = (unit.u / unit.value) ** 2, scatter**2
    room = (0.5 / k) ** 2 - (net_u / unit.value) ** 2
    if room <= 0:
        return -1
    end = 2 * room / (b + sqrt(b * b + 4 * a * room)) if a or b else 1e9
    return max(0, min(10**9, int(end) if end != int(end) else int(end) - 1))


def _chance(estimate: float, u: float, number: int) -> float:
    if u <= 0:
        return 1.0
    spread = NormalDist(estimate, u)
    return spread.cdf(number + 0.5) - spread.cdf(number - 0.5)


def _counted(number: int, confidence: float) -> tuple[str, ...]:
    sure = "over 99.9" if confidence > 0.999 else f"{100 * confidence:.1f}"
    pieces = "1 piece" if number == 1 else f"{number} pieces"
    return (f"{pieces} by weight, right with a probability of {sure} %.",)


def _cannot(estimate: float, expanded: float, most: int, k: float) -> tuple[str, ...]:
    said = f"Cannot tell: {estimate:.1f} ± {expanded:.1f} pieces (k = {k:g})."
    if most < 1:
        return said, "This scale is too coarse for these pieces: count them by hand."
    return said, f"This scale and sample tell up to {most} at a time: weigh smaller lots, or a larger sample."


def _misfit(estimate: float, expanded: float, k: float) -> tuple[str, ...]:
    return (
        f"{estimate:.2f} ± {expanded:.2f} pieces (k = {k:g}): no whole number fits.",
        "Something else is in the bag, or the sample is of another kind: count by hand.",
    )
