"""A torque as typed at sign-off, held against the sheet and the thread. It warns, and never stands in the way.

The maker's figure wins: what looks like a slip asks for a second look and nothing more.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from checklists.sheet import Closure
from checklists.state import Teardown
from checklists.workshop.fastener_spec import Spec, read_spec
from checklists.workshop.fasteners import Tables
from checklists.workshop.torque import TorqueCheck, check_torque, figures_apart, lubrication_for, torque_band
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, read_torque
from checklists.workshop.units import NotUnderstood


class TorqueWords(NamedTuple):
    """What to say about a torque as typed, and whether it asks for a second look before it is signed for."""

    words: tuple[str, ...]
    second_look: bool


def torque_words(
    teardown: Teardown, closure: str, typed: str, tables: Tables, lubrication: str = "not said"
) -> TorqueWords:
    """What to say about `typed` as the torque of a closure of this teardown."""
    return torque_words_of(teardown.closures[closure], typed, tables, lubrication)


def torque_words_of(closure: Closure, typed: str, tables: Tables, lubrication: str = "not said") -> TorqueWords:
    """The same for a closure of a sheet."""
    figure = read_torque(typed)
    if isinstance(figure, NotUnderstood):
        return TorqueWords((figure.words,), True)
    beside = _beside_the_sheet(closure, figure)
    checks = [check for spec in _threads(closure, tables) if (check := _check(figure, spec, tables, lubrication))]
    if not checks:
        apart = figures_apart(figure)
        unknown = (*_spec_faults(closure, tables), "No thread of this closure is known, so nothing is judged.")
        words = (*beside, *apart, *unknown)
        return TorqueWords(words, bool(beside or apart))
    best = min(checks, key=lambda check: _ORDER.index(check.verdict))
    unknown = _strength_notes(closure, tables) if best.verdict == "not judged" else ()
    words = (*beside, *unknown, *best.words)
    return TorqueWords(words, bool(beside) or best.verdict in ("slip", "does not fit"))


def is_figure(text: str) -> bool:
    """Whether it is a torque with its unit, or a tightening by angle."""
    return not isinstance(read_torque(text), NotUnderstood)


#: A closure may hold several threads: a figure that is plausible for one of them is plausible.
_ORDER = ("plausible", "slip", "does not fit", "not judged")


def _check(figure: TorqueFigure | AngleFigure, spec: Spec, tables: Tables, lubrication: str) -> TorqueCheck | None:
    if spec.thread is None:
        return None
    band = torque_band(spec.thread, spec.bolt_strength, lubrication_for(figure, lubrication), tables)
    return check_torque(figure, band)


def _threads(closure: Closure, tables: Tables) -> list[Spec]:
    """The threads of a closure, of what was understood without fault: a fault may be in the very strength."""
    read = [read_spec(fastener.spec, tables) for fastener in closure.fasteners]
    specs = [reading.spec for reading in read if reading.spec and reading.understood]
    return [spec for spec in specs if spec.thread and spec.kind != "washer"]


def _spec_faults(closure: Closure, tables: Tables) -> tuple[str, ...]:
    """What was not understood of a specification that names a thread, for it is not judged by."""
    read = [(fastener.spec, read_spec(fastener.spec, tables)) for fastener in closure.fasteners]
    return tuple(f"{spec}: {' '.join(reading.faults)}" for spec, reading in read if reading.spec and reading.faults)


def _strength_notes(closure: Closure, tables: Tables) -> tuple[str, ...]:
    """What is said of a strength that is not known: stainless without its class."""
    notes = [note for fastener in closure.fasteners for note in read_spec(fastener.spec, tables).notes]
    return tuple(dict.fromkeys(note for note in notes if "proof strength" in note))


def _beside_the_sheet(closure: Closure, figure: TorqueFigure | AngleFigure) -> tuple[str, ...]:
    """Where the figure is not the sheet's: both, side by side."""
    times = Fraction(1)
    wanted = read_torque(closure.torque) if closure.torque else None
    if wanted is None or isinstance(wanted, NotUnderstood) or wanted.text == figure.text:
        return ()
    if isinstance(wanted, TorqueFigure) and isinstance(figure, TorqueFigure):
        # Half a percent: 24 N.m said as 17.7 lbf.ft is the same figure.
        slack = wanted.high / 200
        if wanted.low - slack <= figure.low and figure.high <= wanted.high + slack:
            return ()
        times = (figure.low + figure.high) / (wanted.low + wanted.high)
    return (f"The sheet says {closure.torque}, and {figure.text} was typed.", *_how_far(times))


def _how_far(times: Fraction) -> tuple[str, ...]:
    """How far a figure is from the sheet's, where it is not near it."""
    if Fraction(19, 2) <= times <= Fraction(21, 2):
        return ("That is ten times the sheet's figure: the decimal point?",)
    if Fraction(19, 2) <= 1 / times <= Fraction(21, 2):
        return ("That is a tenth of the sheet's figure: the decimal point?",)
    if times >= Fraction(3, 2):
        return (f"That is {float(times):.2g} times the sheet's figure.",)
    return (f"That is {float(times):.0%} of the sheet's figure.",) if times <= Fraction(2, 3) else ()
