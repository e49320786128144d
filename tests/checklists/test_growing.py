"""Faults of an addition are told by the addition's own keys, so that they can stand beside the fields."""

from __future__ import annotations

from decimal import Decimal

from checklists.growing import faults_of_addition
from checklists.sheet import Closure, Fastener, Line, Opening, Shape, Sheet, Space

SHEET = Sheet(
    "Rocker cover off", "",
    spaces=(Space("valve-gear", "Valve gear", "It jams a valve."),),
    closures=(Closure("rocker-cover", "Rocker cover", (Fastener("bolt", "M6 bolt", 8),), (), "", (), True),),
)  # fmt: skip


def test_a_sound_addition_has_no_fault():
    opening = Opening("top", "Top of the head", "valve-gear", Shape("circle", (Decimal(60),)), "rocker-cover", "cloth")
    assert faults_of_addition(SHEET, Sheet("", "", openings=(opening,))) == {}


def test_faults_carry_the_key_within_the_addition():
    opening = Opening("top", " ", "sump", Shape("slot", (Decimal(0),)), "rocker-cover", "cloth")
    assert sorted(faults_of_addition(SHEET, Sheet("", "", openings=(opening,)))) == [
        "opening[0].clear.mm",
        "opening[0].clear.mm[0]",
        "opening[0].name",
        "opening[0].space",
    ]


def test_what_was_wrong_before_is_no_fault_of_the_addition():
    broken = Sheet("", "", items=(Line("rag", "", "rag", 3, "stores"),))
    assert faults_of_addition(broken, Sheet("", "", items=(Line("mirror", "Mirror", "tool", 1, "stores"),))) == {}
