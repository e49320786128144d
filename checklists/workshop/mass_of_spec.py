"""What a fastener should weigh by its specification, for what a bag or the pieces of a broken one are held against."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from checklists.sheet_fault import shown
from checklists.workshop.expected_mass import WorkedOut, as_typed
from checklists.workshop.fastener import find_fastener
from checklists.workshop.fastener_mass import STEEL, Mass, either
from checklists.workshop.fastener_spec import TAKEN_FOR_HEX, read_spec
from checklists.workshop.fasteners import Tables
from checklists.workshop.uncertainty import USUAL_K, Estimate
from checklists.workshop.units import NotUnderstood


class TableMass(NamedTuple):
    """The mass by the tables, whose sizes it goes by, and what to measure where several standards are allowed for."""

    mass: Mass
    by: str
    notes: tuple[str, ...]


def mass_of_spec(text: str, tables: Tables) -> Mass | NotUnderstood:
    """The mass that the tables give for a specification, with the error it can have; else why they give none.

    Where it is not said which head a bolt has, or to which standard it is made, all it can be are allowed for.
    """
    found = _by_the_tables(text, tables)
    return found if isinstance(found, NotUnderstood) else found.mass


def _by_the_tables(text: str, tables: Tables) -> TableMass | NotUnderstood:
    reading = read_spec(text, tables)
    if reading.spec is None or not reading.understood:
        return NotUnderstood(text, " ".join(reading.faults))
    found = find_fastener(reading.spec, tables)
    if found.mass is None:
        why = " ".join(dict.fromkeys((*reading.notes, *found.notes)))
        return NotUnderstood(text, why or f"The tables do not settle what {shown(text)} weighs: weigh one like it.")
    masses = [found.mass]
    if TAKEN_FOR_HEX in reading.notes:
        others = [find_fastener(replace(reading.spec, kind=kind), tables).mass for kind in reading.spec.could_be]
        masses += [mass for mass in others if mass is not None]
    if len(found.washers) > 1:
        return TableMass(either(*masses), "the sizes of both its series", found.notes)
    if len(found.hexagons) > 1:
        return TableMass(either(*masses), "the sizes of ISO and of the older DIN standard", found.notes)
    return TableMass(either(*masses), "its standard's sizes", ())


def work_out_spec(text: str, tables: Tables) -> WorkedOut | NotUnderstood:
    """The mass of a whole steel fastener, as a mass worked out from dimensions."""
    found = _by_the_tables(text, tables)
    if isinstance(found, NotUnderstood):
        return found
    mass = found.mass
    estimate = Estimate(mass.grams, mass.grams * mass.error / 3**0.5)
    grams, off = as_typed(estimate)
    note = f"By {found.by}, within {mass.error:.0%}; an identical part weighed tells far more."
    note = " ".join((note, *found.notes))
    return WorkedOut(estimate, grams, off, f"{STEEL * 1000:g} g/cm3", f"{text.strip()} by {found.by}", note)


def beside_the_tables(text: str, one: Estimate, tables: Tables) -> str:
    """One piece of a weighed sample beside what the tables give for what it is said to be; empty where they do not.

    `one` is the mass of one piece in g.
    """
    found = _by_the_tables(text, tables)
    if isinstance(found, NotUnderstood):
        return ""
    mass = found.mass
    reach = mass.error * mass.grams
    band = f"{mass.grams - reach:.3g} to {mass.grams + reach:.3g} g"
    said = f"One of them weighs {one.value:.3g} g, and {text.strip()} {band} by {found.by}"
    if abs(one.value - mass.grams) <= reach + one.expanded(USUAL_K):
        return " ".join((f"{said}: it can be that.", *found.notes))
    return f"{said}: is it what it is said to be?"
