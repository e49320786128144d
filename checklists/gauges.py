"""Instruments as people name them, read into what the workshop computes with."""

from __future__ import annotations

from checklists.facts_measured import Gauge
from checklists.workshop.uncertainty import Instrument
from checklists.workshop.units import NotUnderstood, read_figure


def instrument_of(gauge: Gauge, kind: str) -> Instrument | NotUnderstood:
    """The instrument with its figures in the inside unit of `kind` (mm for a length, g for a mass)."""
    step = read_figure(gauge.step, kind)
    error = read_figure(gauge.error, kind) if gauge.error.strip() else step
    if isinstance(step, NotUnderstood):
        return _unreadable(gauge, step)
    if isinstance(error, NotUnderstood):
        return _unreadable(gauge, error)
    if not step.number:
        return NotUnderstood(
            gauge.step,
            f"{gauge.name or 'The instrument'}: one that reads to {gauge.step.strip()} does not exist; "
            "type the step of its display.",
        )
    if step.number < 0 or error.number < 0:
        return NotUnderstood(gauge.step, f"{gauge.name}: a step and an error are not below zero.")
    return Instrument(gauge.name, float(step.si), float(error.si))


def _unreadable(gauge: Gauge, figure: NotUnderstood) -> NotUnderstood:
    return NotUnderstood(figure.text, f"{gauge.name or 'The instrument'}: {figure.words}")


def as_typed(scale: Instrument, *masses: str) -> Instrument:
    """The scale, its resolution no finer than the last place these masses were written to, in g."""
    read = [read_figure(mass, "mass") for mass in masses]
    steps = [float(each.step_si) for each in read if not isinstance(each, NotUnderstood) and "/" not in each.text]
    return Instrument(scale.name, max([scale.resolution, *steps]), scale.largest_error)


def grams_of(text: str) -> float | NotUnderstood:
    """A mass as typed, in g; it is more than nothing."""
    figure = read_figure(text, "mass")
    if isinstance(figure, NotUnderstood):
        return figure
    return float(figure.si) if figure.number >= 0 else NotUnderstood(text, f"{text!r} is no mass: it is below zero.")


def percent_of(text: str) -> float | NotUnderstood:
    """A share as typed ("1.5 %", "1.5"), as a fraction."""
    bare = text.strip().removesuffix("%").strip().replace(",", ".")
    if not bare.replace(".", "", 1).isdigit() or len(bare) > 12:
        return NotUnderstood(text, f"{text!r} is not a share in percent; write it like 1.5 %.")
    return float(bare) / 100
