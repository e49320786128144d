"""Handover: offered with covers on, counted blind by the one who takes it, signed, and laid side by side."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.photo_work import PhotoWork

from checklists import second_count
from checklists.facts import HandedOver, Secured, TookOver
from checklists.state import tally
from mobileapp.widgets.count_pad import TapArea
from mobileapp.widgets.running_tally import RunningTally


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    """The manifold is off and every port stands uncovered."""
    work = PhotoWork(tmp_path)
    work.opens_the_ports()
    yield work
    work.let_go()


def tally_of(work: PhotoWork) -> list[int]:
    return [work.state.quantity(*pair) for pair in second_count.relief_list(work.state)]


def counts(work: PhotoWork, figures: list[int]) -> None:
    for figure in figures:
        for _ in range(figure):
            touch.tap(touch.find(work.screen, cls=TapArea), frames=2)
        work.act()


def offers(work: PhotoWork) -> None:
    work.covers_all()
    work.shows("handover")
    work.tap(JONAS.name)
    work.act()
    work.act()


def test_uncovered_openings_come_first_and_each_leads_to_its_cover(work: PhotoWork) -> None:
    work.shows("people")
    work.tap("Hand the job over")
    assert work.says("4 to cover first")
    work.tap(JONAS.name)
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before
    assert work.says("First: cover 4 openings")
    work.tap(has="Inlet port 1 at the head")
    assert work.name == "openings"


def test_the_job_is_offered_counted_blind_signed_and_taken(work: PhotoWork) -> None:
    work.covers_all()
    work.shows("handover")
    assert work.says("Every opening is covered or sealed.")
    assert work.says("What stands against closing")
    work.tap(JONAS.name)
    work.types("Notes", "Half the gasket face is cleaned")
    work.takes_photo("Photo (may be left out)", "face.png")
    work.takes_photo("Another photo", "tray.png")
    work.act()
    offer = work.last
    assert offer == HandedOver(JONAS.name, "Half the gasket face is cleaned", tuple(work.state.photos)[-2:])
    assert len(offer.photos) == 2
    assert work.says("Hand the phone to Jonas Wieland")
    work.kill_and_start()
    assert work.says("Half the gasket face is cleaned")

    work.act()
    assert work.desk.who == JONAS.name
    pads = len(tally_of(work))
    figures = tally_of(work)
    for number, figure in enumerate(figures):
        assert work.says(f"Count {number + 1} of {pads}")
        assert touch.find(work.screen, cls=RunningTally).veiled
        counts(work, [figure])
    assert work.says("Jonas Wieland takes the job over")
    assert work.screen.veiled, "nothing is compared before it is signed"
    work.act()
    assert isinstance(work.last, HandedOver), "it is not signed"
    work.signs()
    work.act()
    assert isinstance(work.last, TookOver)
    assert [seen.quantity for seen in work.last.entries] == figures
    assert work.last.signature
    assert work.entries[-1].who == JONAS.name
    assert work.state.holder == JONAS.name
    assert work.says("Every count agrees")


def test_a_count_that_differs_stands_beside_the_tally_and_leads_to_its_settling(work: PhotoWork) -> None:
    offers(work)
    figures = tally_of(work)
    counts(work, [figures[0] + 1, *figures[1:]])
    work.signs()
    work.act()
    line, place = second_count.relief_list(work.state)[0]
    assert (line, place) in work.state.discrepancies
    assert work.says(f"1 of {len(figures)} counts differ")
    assert work.says(f"Counted {figures[0] + 1}, the tally has {figures[0]}. Settle it")
    work.act()
    assert work.name == "recount"


def test_a_killed_app_comes_back_to_the_counts_made_so_far(work: PhotoWork) -> None:
    offers(work)
    figures = tally_of(work)
    counts(work, figures)
    work.signs()
    work.kill_and_start()
    assert work.says("Signed")
    work.act()
    assert isinstance(work.last, TookOver)


def test_nobody_else_on_the_job_leads_to_adding_one(kivy_window: Any, tmp_path: Path) -> None:
    work = PhotoWork(tmp_path, people=(ADA,))
    work.shows("handover")
    assert not work.screen.act_ready
    work.tap("Add a person to the job")
    assert work.name == "people"
    work.let_go()


def test_leaving_the_machine_demands_covers_on(work: PhotoWork) -> None:
    work.shows("people")
    work.tap("Leave the machine")
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before
    assert work.says("First: cover 4 openings")
    work.covers_all()
    work.shows("leaving")
    assert work.says("in or over the engine, 0 missing.")
    work.types("Note (may be left empty)", "back at seven")
    work.act()
    assert work.last == Secured("back at seven", tuple(tally(work.state)))
    assert work.name == "board"
