"""Is a torque figure plausible for its thread? T = K d F, with F at 75 % of proof load.

The maker's figure always wins: this only catches slips of the pen that magnitude can catch (lbf.in for lbf.ft, N.m for
lbf.in, kgf.cm, a decimal point). N.m for lbf.ft is a factor of 1.36, less than friction spreads, and that is said.
Inside: N.m, N, mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from checklists.workshop.fasteners import Strength, Tables, Thread, proof_load
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, agree
from checklists.workshop.units import KGF_CM, KGF_M, LBF_FT, LBF_IN, N_M, NotUnderstood, Unit

#: The share of proof load a bolt is usually tightened to, and the shares that makers' figures are found between.
USUAL_SHARE = 0.75
LEAST_SHARE, MOST_SHARE = 0.5, 0.9
WINS = "The maker's figure wins."
FROM_FRICTION = "cannot be told from friction."
CANNOT_TELL = f"N.m typed for lbf.ft, or the other way round (a factor of 1.36), {FROM_FRICTION}"
SAME = "the same torque within rounding."
_LOOK_AGAIN = "Look at the maker's page again."
#: The units that are taken for one another.
_UNITS = (LBF_FT, N_M, LBF_IN, KGF_M, KGF_CM)


@dataclass(frozen=True, slots=True)
class NutFactor:
    """K of T = K d F: the usual value and the range it is found in.

    The usual values dry and oiled are those of published tables [V2]; the rest is from memory, to be confirmed.
    """

    low: float
    usual: float
    high: float


NOT_SAID = "not said"
LUBRICATION = {
    "dry": NutFactor(0.16, 0.20, 0.27),
    "oiled": NutFactor(0.12, 0.15, 0.20),
    "anti-seize": NutFactor(0.10, 0.13, 0.18),
    NOT_SAID: NutFactor(0.10, 0.18, 0.27),
}
#: Where no class is said, the usual ones of an engine are allowed for.
_USUAL_STRENGTHS = {"metric": ("8.8", "10.9"), "inch": ("gr 5", "gr 8")}


@dataclass(frozen=True, slots=True)
class Band:
    """The torques in N.m that are plausible, the usual one, and what was assumed."""

    low: float
    usual: float
    high: float
    notes: tuple[str, ...] = ()

    def holds(self, low: float, high: float) -> bool:
        """The whole of a figure lies in the band."""
        return self.low <= low and high <= self.high


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip that would explain a figure: what it should have been, in words and in N.m."""

    words: str
    low: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True)
class TorqueCheck:
    """The answer about a figure: in one word, and in words for the person. The last words are always the caution."""

    verdict: Literal["plausible", "slip", "does not fit", "not judged"]
    words: tuple[str, ...]
    slips: tuple[Slip, ...] = ()


def tightening_torque(k: float, diameter_mm: float, clamp_n: float) -> float:
    """T = K d F in N.m."""
    return k * diameter_mm * clamp_n / 1000


def clamp_load(thread: Thread, strength: Strength, share: float = USUAL_SHARE) -> float:
    """Clamp load in N at a share of proof load."""
    return share * proof_load(thread, strength)


def torque_band(thread: Thread, strength: str, lubrication: str, tables: Tables) -> Band | None:
    """The plausible torques for a thread. None where the standard gives no proof strength for it.

    `strength` is a class or grade, or empty; `lubrication` one of LUBRICATION.
    """
    names = (strength,) if strength else _USUAL_STRENGTHS[thread.system]
    grades = [each for each in (tables.strength(name, thread.diameter) for name in names) if each]
    if not grades:
        return None
    k, loads = LUBRICATION[lubrication], [proof_load(thread, each) for each in grades]
    diameter = float(thread.diameter)
    return Band(
        tightening_torque(k.low, diameter, LEAST_SHARE * min(loads)),
        tightening_torque(k.usual, diameter, USUAL_SHARE * sum(loads) / len(loads)),
        tightening_torque(k.high, diameter, MOST_SHARE * max(loads)),
        () if strength else (f"The class is not said; {' to '.join(names)} are allowed for.",),
    )


def lubrication_for(figure: TorqueFigure | AngleFigure, chosen: str) -> str:
    """How the thread is prepared: as chosen, else as the figure itself says ("24 N.m (oiled)")."""
    own = figure.lubrication if isinstance(figure, TorqueFigure) else ""
    return own if own and chosen == NOT_SAID else chosen


def check_torque(figure: TorqueFigure | AngleFigure, band: Band | None) -> TorqueCheck:
    """Judge a maker's figure by magnitude. An angle-tightening figure passes through untouched."""
    if isinstance(figure, AngleFigure):
        return TorqueCheck(
            "not judged", (f"{figure.text}: tightened by angle, exactly as the maker writes it.", WINS)
        )
    apart, said = _pairs(figure)
    if band is None:
        words = (*said, "No proof strength is known for this thread, so nothing is judged.", WINS)
        return TorqueCheck("slip" if apart else "not judged", words)
    if band.holds(float(figure.low), float(figure.high)):
        words = (*said, _plausible(figure, band), *band.notes, *_swap(figure, band), WINS)
        return TorqueCheck("slip" if apart else "plausible", words)
    slips = tuple(slip for slip in _slips(figure) if band.holds(float(slip.low), float(slip.high)))
    said = (*said, _out_of_band(figure, band))
    if slips:
        ask = " or ".join(slip.words for slip in slips)
        return TorqueCheck("slip", (*said, f"Was it {ask}? {_LOOK_AGAIN}", *band.notes, WINS), slips)
    help_ = "No usual slip explains it: check thread, class and page."
    return TorqueCheck("slip" if apart else "does not fit", (*said, help_, *_softly(figure, band), *band.notes, WINS))


def compare_with_formula(figure: TorqueFigure, thread: Thread, strength: Strength, k: float) -> float:
    """By how much a figure for a stated K departs from T = K d F at 75 % of proof: -0.10 is 10 % too small."""
    expected = tightening_torque(k, float(thread.diameter), clamp_load(thread, strength))
    return float(figure.low + figure.high) / 2 / expected - 1


def figures_apart(figure: TorqueFigure | AngleFigure | NotUnderstood | None) -> tuple[str, ...]:
    """Where a figure is written in two units that are not the same torque: both, and the slip that would explain it."""
    if not isinstance(figure, TorqueFigure):
        return ()
    return tuple(_apart(one, other) for one, other in figure.pairs if not agree(one, other))


def _pairs(figure: TorqueFigure) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The words on figures that are not the same torque, and these with those on the ones that are."""
    same = [f"{one.alone} and {other.alone}" for one, other in figure.pairs if agree(one, other)]
    agreed = (f"{', '.join(same)}: {SAME}",) if same else ()
    apart = figures_apart(figure)
    return apart, (*apart, *agreed)


def _apart(one: TorqueFigure, other: TorqueFigure) -> str:
    ends = [f"{float(f'{float(end / other.unit.factor):.3g}'):g}" for end in dict.fromkeys((one.low, one.high))]
    same = f"{' to '.join(ends)} {other.unit.name}"
    said = f"{one.alone} and {other.alone} are not the same torque: {one.alone} is {same}."
    meant = [slip.words for slip in _slips(other) if agree(one, _as(other, slip))]
    meant += [slip.words for slip in _slips(one) if agree(_as(one, slip), other)]
    return f"{said} Was it {' or '.join(meant)}? {_LOOK_AGAIN}" if meant else f"{said} {_LOOK_AGAIN}"


def _as(figure: TorqueFigure, slip: Slip) -> TorqueFigure:
    """The figure that a slip says was meant."""
    return replace(figure, low=slip.low, high=slip.high, step=figure.step * slip.low / figure.low)


def _slips(figure: TorqueFigure) -> Iterable[Slip]:
    """What else could have been meant: the same number in another unit, or its decimal point moved."""
    for unit in _UNITS:
        if unit != figure.unit:
            scale = unit.factor / figure.unit.factor
            yield Slip(f"{figure.number_text} {unit.name}", figure.low * scale, figure.high * scale)
    for scale in (Fraction(10), Fraction(1, 10)):
        yield Slip(_moved(figure, scale), figure.low * scale, figure.high * scale)


def _moved(figure: TorqueFigure, scale: Fraction) -> str:
    ends = [
        f"{float(end * scale / figure.unit.factor):.6g}" for end in dict.fromkeys((figure.low, figure.high))
    ]
    return f"{' to '.join(ends)} {figure.unit.name}"


def _swap(figure: TorqueFigure, band: Band) -> tuple[str, ...]:
    """The words on what cannot be told: each other unit in which the same number would be as plausible."""
    return tuple(
        _cannot_tell(figure.unit, unit)
        for unit in _UNITS
        if unit != figure.unit and band.holds(*(float(end * unit.factor / figure.unit.factor) for end in _ends(figure)))
    )


def _ends(figure: TorqueFigure) -> tuple[Fraction, Fraction]:
    return figure.low, figure.high


def _cannot_tell(one: Unit, other: Unit) -> str:
    if {one, other} == {N_M, LBF_FT}:
        return CANNOT_TELL
    small, large = sorted((one, other), key=lambda unit: unit.factor)
    times = float(large.factor / small.factor)
    return f"{large.name} typed for {small.name}, or the other way round (a factor of {times:.3g}), {FROM_FRICTION}"


def _plausible(figure: TorqueFigure, band: Band) -> str:
    return f"{_counts(figure)} is plausible: {_said(band, figure.unit)}."


def _out_of_band(figure: TorqueFigure, band: Band) -> str:
    way = "low" if float(figure.low) < band.low else "high"
    return f"{_counts(figure)} looks too {way}: {_said(band, figure.unit)}."


def _counts(figure: TorqueFigure) -> str:
    """What is judged, as typed; of several stages the last one, of several units the first."""
    if figure.stages:
        return f"The last stage, {figure.alone},"
    return figure.alone if figure.beside else figure.text


def _said(band: Band, unit: Unit) -> str:
    low, usual, high = (_three(value / float(unit.factor)) for value in (band.low, band.usual, band.high))
    return f"{low} to {high} {unit.name} is what the thread would take, {usual} usual"


def _softly(figure: TorqueFigure, band: Band) -> tuple[str, ...]:
    if float(figure.high) >= band.low:
        return ()
    return ("Plugs, soft gaskets and light alloy are often set lower than the bolt could bear.",)


def _three(value: float) -> str:
    """Two figures, never with an exponent."""
    return f"{float(f'{value:.2g}'):g}"
