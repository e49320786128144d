"""The sheet grows during the work, by big forms; what is wrong is said beside the field it is about."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from screens.at_work import AtWork
from screens.rocker_cover import ROCKER, add_first_opening, fill_in_rocker_cover

from checklists import builders, places
from checklists.facts import Grown
from checklists.sheet import Caution, Closure, Fastener, Line, Opening, Passage, Shape, Sheet, Space
from checklists.sheet_reading import BLANK


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtWork:
    return AtWork(tmp_path, sheet=BLANK)


def test_a_closure_by_its_form(work):
    work.shows("grow")
    assert work.screen.act_text == "Add the first closure"
    work.act()
    fill_in_rocker_cover(work)
    work.act()
    assert isinstance(work.last, Grown)
    assert work.last.part == Sheet("", "", closures=(ROCKER,))
    assert work.state.quantity("rocker-cover.m6-bolt", places.fitted("rocker-cover")) == 8
    assert work.name == "grow"
    assert work.says("1 so far, the last: Rocker cover")
    assert work.screen.act_text == "Add an opening under the rocker cover", "the way goes on from here"
    work.act()
    assert work.screen.title == "Add an opening"


def test_what_holds_a_closure_is_counted_or_somebody_says_that_nothing_does(work):
    work.shows("grow", form="closure")
    work.types("Name of the closure", "Oil filler cap")
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before
    assert work.says("Say what holds it, or choose: held by nothing that is counted.")
    work.tap("Held by nothing that is counted")
    work.act()
    assert work.last.part.closures[0].fasteners == ()


def test_what_seals_an_opening_is_asked_for_in_words(work):
    two = (ROCKER, Closure("lid", "Lid", (Fastener("clip", "Clip", 2),), (), "", (), True))
    work.does(builders.grow(Sheet("", "", closures=two)))
    work.shows("grow", form="opening")
    work.act()
    assert work.says("Choose what seals it.")
    assert not work.says("no closure")


def test_nothing_is_added_to_a_closed_teardown(kivy_window, tmp_path):
    work = AtWork(tmp_path)
    work.works_until("ended")
    work.shows("grow")
    assert work.says("Nothing more is added to its sheet.")
    assert not work.says("Add a closure")
    work.act()
    assert work.name == "board"


def test_an_opening_with_a_new_space_behind_it(work):
    work.does(builders.grow(Sheet("", "", closures=(ROCKER,))))
    work.shows("grow", closure="rocker-cover")
    assert work.screen.act_text == "Add an opening under the rocker cover"
    work.act()
    add_first_opening(work)
    work.act()
    assert work.last.part == Sheet(
        "", "",
        spaces=(Space("valve-gear", "Valve gear", "jams a valve"),),
        openings=(Opening("top-of-the-head", "Top of the head", "valve-gear",
                          Shape("rectangle", (Decimal(400), Decimal("120.5"))), "rocker-cover", "clean cloth"),),
    )  # fmt: skip


def test_faults_stand_beside_the_fields_and_nothing_is_lost(work):
    work.does(builders.grow(Sheet("", "", closures=(ROCKER,))))
    work.shows("grow", form="opening")
    work.types("Name of the opening", "Top of the head")
    work.types("Diameter, mm", "wide")
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before
    assert work.says("to put right first")
    texts = [text for text in work.texts() if not text.startswith("such as ")]
    labels = ("Name of the space", "How it is covered", "Diameter, mm")
    below = {label: texts[texts.index(label) + 1] for label in labels}
    assert below == {
        "Name of the space": "Is empty; say it in words",
        "How it is covered": "Is empty; say it in words",
        "Diameter, mm": "Is not a size; give a number in mm",
    }
    work.types("Name of the space", "Valve gear")
    work.types("What a stray item does there", "jams a valve")
    work.types("Diameter, mm", "60")
    work.types("How it is covered", "clean cloth")
    work.act()
    assert work.last.part.openings[0].clear == Shape("circle", (Decimal(60),))


def test_spaces_passages_lines_and_cautions(work):
    work.does(builders.grow(Sheet("", "", closures=(ROCKER,))))
    for name, harm in (("Valve gear", "jams a valve"), ("Sump", "blocks the strainer")):
        work.shows("grow", form="space")
        work.types("Name of the space", name)
        work.types("What a stray item does there", harm)
        work.act()
    work.shows("grow", form="passage")
    work.chooses("Valve gear")
    work.chooses("Sump", nth=1)
    work.chooses("drains through")
    work.act()
    assert work.last.part.passages == (Passage("valve-gear", "sump", None, "drains"),)
    work.shows("grow", form="line")
    work.types("Name of one", "Rag")
    work.types("How many", "6")
    work.chooses("Rag")
    work.act()
    assert work.last.part.items == (Line("rag", "Rag", "rag", 6, places.STORES),)
    work.shows("grow", form="caution")
    work.types("The caution", "Springs under load")
    work.act()
    assert work.last.part.cautions == (Caution("springs-under-load", "Springs under load"),)
    assert not work.state.acknowledged


def test_a_closure_that_lies_over_another(work):
    work.does(builders.grow(Sheet("", "", closures=(ROCKER,))))
    work.shows("grow", form="closure")
    work.types("Name of the closure", "Rocker cover")
    work.types("Specification", "Wing nut")
    work.types("How many", "2")
    work.chooses("Rocker cover")
    work.tap("No second count")
    work.act()
    assert work.last.part.closures == (
        Closure("rocker-cover-2", "Rocker cover", (Fastener("wing-nut", "Wing nut", 2),), (), "", ("rocker-cover",),
                False),
    )


def test_a_killed_app_comes_back_to_half_a_closure(work):
    work.shows("grow", form="closure")
    fill_in_rocker_cover(work)
    work.kill_and_start()
    work.act()
    assert work.last.part == Sheet("", "", closures=(ROCKER,))
