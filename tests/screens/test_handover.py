"""Handover: offered with covers on, counted blind by the one who takes it, signed, and laid side by side."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.blind_hand import walks
from screens.photo_work import PhotoWork

from checklists import second_count
from checklists.facts import HandedOver, Secured, TookOver
from checklists.state import tally
from mobileapp.widgets.running_tally import RunningTally


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    """The manifold is off and every port stands uncovered."""
    work = PhotoWork(tmp_path)
    work.opens_the_ports()
    yield work
    work.let_go()


def tally_of(work: PhotoWork) -> dict[tuple[str, str], int]:
    return {pair: work.state.quantity(*pair) for pair in second_count.relief_list(work.state)}


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
    assert work.says("face.png")
    assert touch.find(work.screen, cls=RunningTally).veiled, "whoever takes it is not told how many to expect"
    work.kill_and_start()
    assert work.says("Half the gasket face is cleaned")

    work.act()
    assert work.desk.who == JONAS.name
    figures = tally_of(work)
    for number in range(4):
        assert work.says(f"Place {number + 1} of 4")
        assert touch.find(work.screen, cls=RunningTally).veiled
        lying = {pair: n for pair, n in figures.items() if pair[1] in work.screen.stops()[number].spots}
        walks(work, lying, until=number + 1)
    assert work.says("Jonas Wieland takes the job over from Ada Berg")
    assert work.screen.veiled, "nothing is compared before it is signed"
    work.act()
    assert isinstance(work.last, HandedOver), "it is not signed"
    work.signs()
    work.act()
    assert isinstance(work.last, TookOver)
    assert {(seen.line, seen.place): seen.quantity for seen in work.last.entries} == figures
    assert work.last.signature
    assert work.entries[-1].who == JONAS.name
    assert work.state.holder == JONAS.name
    assert work.says("Every count agrees")
    assert work.says("What stands against closing"), "whoever took it reads how it stands"


def test_a_count_that_differs_stands_beside_the_tally_and_leads_to_its_settling(work: PhotoWork) -> None:
    offers(work)
    figures = tally_of(work)
    walks(work, {})
    work.signs()
    work.act()
    first = next(iter(figures))
    assert first in work.state.discrepancies
    assert work.says(f"{len(figures)} of {len(figures)} counts differ")
    assert work.says(f"Counted 0, the tally has {figures[first]}. Settle it")
    work.act()
    assert work.name == "recount"


def test_a_killed_app_comes_back_to_the_counts_made_so_far(work: PhotoWork) -> None:
    offers(work)
    walks(work, {})
    work.signs()
    work.kill_and_start()
    assert work.says("Signed")
    work.act()
    assert isinstance(work.last, TookOver)


def test_a_relief_count_left_in_the_middle_is_dropped_and_the_phone_goes_back(work: PhotoWork) -> None:
    offers(work)
    lying = {pair: n for pair, n in tally_of(work).items() if pair[1] in work.screen.stops()[0].spots}
    walks(work, lying, until=1)
    work.back()
    assert work.says("Count dropped")
    assert work.says("Ada Berg holds the phone now.")
    work.kill_and_start()
    work.act()
    assert (work.name, work.desk.who) == ("board", ADA.name)
    work.shows("handover")
    assert work.says("Hand the phone to Jonas Wieland"), "the offer stands"
    assert touch.find(work.screen, cls=RunningTally).veiled


def test_a_drop_before_the_signature_tells_no_figure_and_is_counted_again(work: PhotoWork) -> None:
    offers(work)
    walks(work, {})
    work.tap("Log a drop")
    assert touch.find(work.screen, cls=RunningTally).veiled
    assert not work.says("in the tray")
    work.tap("M8 flange nut")
    work.tap("Nobody saw where it went")
    work.tap("Back to the count")
    assert work.says("Something was recorded meanwhile: the count starts from the beginning.")
    assert touch.find(work.screen, cls=RunningTally).veiled


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
