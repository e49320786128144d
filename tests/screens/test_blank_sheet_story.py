"""A whole teardown from a blank sheet: closures, openings and covers are added as the work goes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from screens.at_the_desk import ADA
from screens.at_work import AtWork
from screens.rocker_cover import add_first_opening, fill_in_rocker_cover

from checklists import places
from checklists.facts import Closed
from checklists.next_act import next_act
from checklists.sheet_reading import BLANK
from mobileapp.screens.lead import way_to_act


def test_a_whole_teardown_from_a_blank_sheet(kivy_window: Any, tmp_path: Path) -> None:
    """Nothing was planned. The board names what to add, the forms add it, and the teardown ends closed."""
    work = AtWork(tmp_path, sheet=BLANK)

    def next_screen() -> None:
        name, args = way_to_act(next_act(work.state, work.now), work.state)
        work.shows(name, **args)

    next_screen()
    work.act()
    fill_in_rocker_cover(work)
    work.act()
    work.works_until("grow")  # it is photographed as it was found
    next_screen()
    work.act()
    add_first_opening(work)
    work.act()
    assert work.works_until("add").opening == "top-of-the-head", "nothing to cover the head with"
    work.shows("items")
    work.tap("Add a new line")
    work.types("Name of one", "Clean cloth")
    work.types("How many", "1")
    work.tap("Cover")
    work.act()
    for do, taps in (("work done", ()), ("clear", (ADA.name,)), ("set down", ()), ("sign", ("I used 10 N.m", ADA.name)),
                     ("turn by hand", ("Two turns, free all the way", ADA.name)), ("close", (ADA.name,))):
        work.works_until(do)
        next_screen()
        for words in taps:
            work.tap(words)
        if do in ("clear", "sign", "turn by hand", "close"):
            work.signs()
        work.act()
    assert isinstance(work.last, Closed)
    assert work.state.ended == "closed"
    assert all(place in (places.STORES, places.fitted("rocker-cover"), places.ORIGIN) for (_, place), q in
               work.state.balances.items() if q > 0)
