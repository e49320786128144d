"""What a fastener should weigh by its specification, for what a bag or the pieces of a broken one are held against."""

from __future__ import annotations

from dataclasses import replace

from checklists.sheet_fault import shown
from checklists.workshop.expected_mass import WorkedOut, as_typed
from checklists.workshop.fastener import find_fastener
from checklists.workshop.fastener_mass import STEEL, Mass
from checklists.workshop.fastener_spec import TAKEN_FOR_HEX, read_spec
from checklists.workshop.fasteners import Tables
from checklists.workshop.uncertainty import USUAL_K, Estimate
from checklists.workshop.units import NotUnderstood


def mass_of_spec(text: str, tables: Tables) -> Mass | NotUnderstood:
    """The mass that the tables give for a specification, with the error it can have; else why they give none.

    Where it is not said which head a bolt has, all it can have are allowed for.
    """
    reading = read_spec(text, tables)
    if reading.spec is None or not reading.understood:
        return NotUnderstood(text, " ".join(reading.faults))
    found = find_fastener(reading.spec, tables)
    if found.mass is None:
        why = " ".join(dict.fromkeys((*reading.notes, *found.notes)))
        return NotUnderstood(text, why or f"The tables do not settle what {shown(text)} weighs: weigh one like it.")
    if TAKEN_FOR_HEX not in reading.notes:
        return found.mass
    mass = found.mass
    for kind in reading.spec.could_be:
        other = find_fastener(replace(reading.spec, kind=kind), tables).mass
        mass = _either(mass, other) if other else mass
    return mass


def work_out_spec(text: str, tables: Tables) -> WorkedOut | NotUnderstood:
    """The mass of a whole steel fastener, as a mass worked out from dimensions."""
    mass = mass_of_spec(text, tables)
    if isinstance(mass, NotUnderstood):
        return mass
    estimate = Estimate(mass.grams, mass.grams * mass.error / 3**0.5)
    grams, off = as_typed(estimate)
    note = f"By the sizes its standard allows, within {mass.error:.0%}; an identical part weighed tells far more."
    return WorkedOut(estimate, grams, off, f"{STEEL * 1000:g} g/cm3", f"{text.strip()} by its standard's sizes", note)


def beside_the_tables(text: str, one: Estimate, tables: Tables) -> str:
    """One piece of a weighed sample beside what the tables give for what it is said to be; empty where they do not.

    `one` is the mass of one piece in g.
    """
    mass = mass_of_spec(text, tables)
    if isinstance(mass, NotUnderstood):
        return ""
    reach = mass.error * mass.grams
    band = f"{mass.grams - reach:.3g} to {mass.grams + reach:.3g} g"
    said = f"One of them weighs {one.value:.3g} g, and {text.strip()} {band}"
    if abs(one.value - mass.grams) <= reach + one.expanded(USUAL_K):
        return f"{said} by its standard's sizes: it can be that."
    return f"{said} by its standard's sizes: is it what it is said to be?"


def _either(one: Mass, other: Mass) -> Mass:
    """The mass that covers both."""
    low = min(each.grams * (1 - each.error) for each in (one, other))
    high = max(each.grams * (1 + each.error) for each in (one, other))
    return Mass((low + high) / 2, (high - low) / (high + low))
