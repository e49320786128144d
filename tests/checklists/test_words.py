"""Names and counts as they stand in a sentence."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from careful_worker import CarefulWorker

from checklists.facts import Person
from checklists.sheet import Shape
from checklists.words import out_of, the
from mobileapp.shelf import load_sheet, shipped_sheets


@pytest.mark.parametrize(("name", "said"), [
    ("Top of the head", "the top of the head"), ("Inlet port 2", "inlet port 2"),
    ("O-ring groove", "the O-ring groove"),
])  # fmt: skip
def test_a_name_has_its_article_unless_it_is_numbered(name: str, said: str) -> None:
    assert the(name) == said


def test_one_of_one_is_singular() -> None:
    assert out_of(1, 1, "opening") == "1 of 1 opening"
    assert out_of(0, 4, "Opening") == "0 of 4 openings"


def test_a_round_hole_is_round_and_other_shapes_keep_their_names() -> None:
    assert str(Shape("circle", (Decimal("19"),))) == "round, 19 mm"
    assert str(Shape("oval", (Decimal("42"), Decimal("34.5")))) == "oval 42 x 34.5 mm"


PEOPLE = (Person("Ada Berg", "fitter"), Person("Jonas Wieland", "second counter"))


@pytest.mark.parametrize("name", sorted(shipped_sheets()))
def test_no_act_and_no_statement_of_a_shipped_sheet_counts_one_as_many(name: str) -> None:
    worker = CarefulWorker(load_sheet(name), PEOPLE)
    worker.work()
    statements = [str(getattr(entry.fact, "statement", "")) for entry in worker.teardown.history]
    said = [act.words for act in worker.acts] + statements
    assert not [words for words in said if re.search(r"\b1 of 1 \w+s\b|\b1 (?!of|s)\w+s\b", words)]


def test_a_tray_over_the_head_is_taken_out_in_good_english() -> None:
    worker = CarefulWorker(load_sheet("rocker-cover"), PEOPLE)
    worker.work()
    assert "Take the head tray out of the top of the head and count it back" in [act.words for act in worker.acts]
    cleared = [entry.fact.statement for entry in worker.teardown.history if entry.fact.kind == "cleared to refit"]
    assert any("1 of 1 opening looked into and clear" in words for words in cleared)
