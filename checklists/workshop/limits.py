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
    `never` says why with this instrument no reading could be called inside, and is empty where one could; `remedy` is
    what to do then, or where nothing can be said.
    """

    verdict: Verdict
    conforms: float
    guard: float
    k: float
    words: tuple[str, ...]
    never: str = ""
    remedy: str = ""


def judge_measurement(reading: Figure, instrument: Instrument, limits: Limits, k: float = USUAL_K) -> Judged:
    """Judge a reading (its instrument's figures in the inside unit) against limits that have no faults.

    Inside: inside even if it is off by k u. Outside: outside even then. Else nothing can be said.
    """
    u = combined_u(reading, instrument)
    verdict = verdict_for(reading.si, k * u, limits)
    conforms = probability_of_conformity(float(reading.si), u, *_ends(limits))
    never, remedy = ("", "") if verdict == "inside" else never_inside(reading, instrument, limits, k)
    if verdict == "too close to call":
        remedy = remedy or _FINER
    more = filter(None, (never, remedy))
    return Judged(
        verdict, conforms, k * u, k, (*_words(reading, limits, verdict, conforms, k, u), *more), never, remedy
    )


def never_inside(reading: Figure, instrument: Instrument, limits: Limits, k: float = USUAL_K) -> tuple[str, str]:
    """Why no reading like this one can be called inside, and what to do about it; both empty where one can.

    Between two limits that is so where they are closer together than two guard bands. Under a most alone, only what
    is less than nothing is inside where the guard band is wider than it. Over a least alone, a large one always is.
    """
    guard, room = Fraction(k * combined_u(reading, instrument)), _room(limits)
    if room is None or guard <= room:
        return "", ""
    unit = (limits.least or limits.most or reading).unit
    if limits.least:
        gap = decimal_text(2 * room / unit.factor, 6).rstrip("0").rstrip(".")
        never = (
            f"The limits are {gap} {unit.name} apart, and two guard bands are {band_text(float(2 * guard), unit)}: "
            "with this no reading can ever be called inside."
        )
    else:
        wide = band_text(float(guard), unit)
        never = f"The guard band is {wide}, wider than all that is allowed: "
        never += "only less than nothing could be called inside."
    return never, _way_out(instrument, room, k, unit)


def _way_out(instrument: Instrument, room: Fraction, k: float, unit: Unit) -> str:
    if k * instrument.reads(0.0).u <= room:
        return f"Write the reading to the last place that the {instrument.name} shows."
    if not room:
        return "No instrument can do it: ask the maker by how much it may differ."
    return f"Take a finer instrument: one that reads to {_fine_enough(room, k, unit)}, and is right within that."


def _room(limits: Limits) -> Fraction | None:
    """The widest guard band that leaves a reading to be called inside; None where any does.

    It is half of what lies between two limits, or all that lies between zero and the most.
    """
    if limits.least is None:
        return limits.most.si if limits.most and limits.most.si > 0 else None
    return (limits.most.si - limits.least.si) / 2 if limits.most else None


def _fine_enough(room: Fraction, k: float, unit: Unit) -> str:
    """The step, to one figure, of an instrument with no larger error, whose guard band takes at most half the room."""
    step, places = float(room / unit.factor) / 2 / (k * Instrument("", 1.0, 1.0).reads(0.0).u), 0
    while step * 10**places < 1 and places < 9:
        places += 1
    return f"{decimal_text(Fraction(int(step * 10**places), 10**places), places)} {unit.name}"


#: What to do about a reading too close to a limit.
_FINER = "Measure again with a finer instrument, or have it measured by another person."


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
    return said, how


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
