"""The shapes of fasteners, worked out from their specifications as a sheet goes into the journal.

The rules read no files, so an item's shape must be on record with its line. No table is read before a sheet is started
or grown.
"""

from __future__ import annotations

from dataclasses import replace

from checklists.facts import Fact, Grown, Started
from checklists.sheet import Sheet, with_shapes


def with_item_shapes(fact: Fact) -> Fact:
    """A fact that brings a sheet, its fasteners with the shapes their specifications settle; any other as it is."""
    if isinstance(fact, Started):
        return replace(fact, sheet=shaped(fact.sheet))
    if isinstance(fact, Grown):
        return replace(fact, part=shaped(fact.part))
    return fact


def shaped(sheet: Sheet) -> Sheet:
    """The sheet with the shape of each fastener where it says none and the tables settle it."""
    specs = [f.spec for closure in sheet.closures for f in closure.fasteners if f.shape is None]
    if not specs:
        return sheet
    from checklists.workshop.item_shape import shapes_of
    from mobileapp.tables import fastener_tables

    return with_shapes(sheet, shapes_of(specs, fastener_tables()))
