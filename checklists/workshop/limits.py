"""A measurement against its limits: inside, outside, or too close to call, with a guard band by JCGM 106.

The limits and the reading are kept exactly as written, in the unit they were written in; 0.525 in stays 0.525 in.
Only the instrument's uncertainty is a float, in the inside unit (mm for a length).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist
from typing import Literal

from checklists.workshop.uncertainty import USUAL_K, Instrument
from checklists.workshop.units import Figure, Unit, decimal_text

Verdict = Literal["inside", "outside", "too close to call"]


@dataclass(frozen=True, slots=True)
class Limits:
    """The least and the most that is allowed; None where that side has no limit."""

    least: Figure | None
    most: Figure | None

    def faults(self) -> tuple[str, ...]:
        """Why these are no limits; empty when they can be used."""
        if self.least is None and self.most is None:
            return ("There is no limit; give the least, the most, or both.",)
        if self.least is None or self.most is None:
            return ()
        if self.least.unit.kind != self.most.unit.kind:
            return (f"{self.least.text} and {self.most.text} do not measure the same.",)
        if self.least.si > self.most.si:
            return (f"{self.least.text} is more than {self.most.text}; put the smaller first.",)
        return ()

    def __str__(self) -> str:
        if self.least and self.most:
            return f"{self.least.text} to {self.most.text}"
        return (
            f"at least {self.least.text}" if self.least else f"at most {self.most.text if self.most else ''}"
        )


@dataclass(frozen=True, slots=True)
class Judged:
    """The answer about a measurement. `guard` is the guard band in the inside unit, k times the uncertainty.

    `conforms` is the probability that the true value lies inside the limits, for a normal error and no other knowledge.
    """

    verdict: Verdict
    conforms: float
    guard: float
    k: float
    words: tuple[str, ...]


def judge_measurement(reading: Figure, instrument: Instrument, limits: Limits, k: float = USUAL_K) -> Judged:
    """Judge a reading (its instrument's figures in the inside unit) against limits that have no faults.

    Inside: inside even if it is off by k u. Outside: outside even then. Else nothing can be said.
    """
    u = combined_u(reading, instrument)
    verdict = verdict_for(reading.si, k * u, limits)
    conforms = probability_of_conformity(float(reading.si), u, *_ends(limits))
    return Judged(verdict, conforms, k * u, k, _words(reading, limits, verdict, conforms, k, u))


def combined_u(reading: Figure, instrument: Instrument) -> float:
    """Standard uncertainty of one reading: the instrument's, its resolution no finer than the reading was written."""
    coarser = max(instrument.resolution, float(reading.step_si) if "/" not in reading.text else 0.0)
    return Instrument(instrument.name, coarser, instrument.largest_error).reads(0.0).u


def verdict_for(value: Fraction, guard: float, limits: Limits) -> Verdict:
    """The verdict with a guard band on both sides of each limit (JCGM 106, guarded acceptance and rejection)."""
    margin = Fraction(guard)
    least, most = (end.si if end else None for end in (limits.least, limits.most))
    if (least is not None and value < least - margin) or (most is not None and value > most + margin):
        return "outside"
    if (least is None or value >= least + margin) and (most is None or value <= most - margin):
        return "inside"
    return "too close to call"


def probability_of_conformity(value: float, u: float, least: float | None, most: float | None) -> float:
    """That a true value lies inside the limits, given a reading with a normal error (JCGM 106, 7.3 and 7.4)."""
    if u <= 0:
        return float((least is None or value >= least) and (most is None or value <= most))
    true = NormalDist(value, u)
    return (1.0 if most is None else true.cdf(most)) - (0.0 if least is None else true.cdf(least))


def _ends(limits: Limits) -> tuple[float | None, float | None]:
    return (float(limits.least.si) if limits.least else None, float(limits.most.si) if limits.most else None)


def _words(
    reading: Figure, limits: Limits, verdict: Verdict, conforms: float, k: float, u: float
) -> tuple[str, ...]:
    end = limits.least or limits.most
    unit = end.unit if end else reading.unit
    shown = reading.text if unit == reading.unit else f"{reading.text} ({reading.shown_in(unit)})"
    said = {
        "inside": f"{shown} is inside: {limits}.",
        "outside": f"{shown} is outside: {limits}.",
        "too close to call": f"{shown} is too close to call: {limits}.",
    }[verdict]
    how = (
        f"Guard band {band_text(k * u, unit)} (k = {k:g}); inside with a probability of {percent(conforms)}."
    )
    if verdict != "too close to call":
        return said, how
    return said, how, "Measure again with a finer instrument, or have it measured by another person."


def band_text(width: float, unit: Unit) -> str:
    """A width in the inside unit, in the person's unit, to two figures and never rounded down."""
    exact = Fraction(width) / unit.factor
    places = 0
    while exact and exact * 10**places < 10 and places < 9:
        places += 1
    up = -((-exact * 10**places) // 1)
    return f"{decimal_text(Fraction(up, 10**places), places)} {unit.name}"


def percent(probability: float) -> str:
    """A probability for a person: never a bare 100 % or 0 %."""
    if probability > 0.999:
        return "over 99.9 %"
    return "under 0.1 %" if probability < 0.001 else f"{100 * probability:.1f} %"
