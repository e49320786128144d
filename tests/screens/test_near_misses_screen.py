"""Near misses across teardowns: what fell, where, and how long it took to find."""

from pathlib import Path
from typing import Any

import pytest
from screens.at_work import MANIFOLD, NUT
from screens.shop_hand import AtTheBench

from checklists import builders, places
from checklists.times import seconds_after


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    return AtTheBench(tmp_path)


def test_none_so_far(work):
    work.put_down()
    work.opens("near_misses")
    assert work.says("Nothing was dropped or missed so far.")


def test_a_nut_found_after_a_while_and_one_still_lost(work):
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.now = seconds_after(work.now, 13 * 60)
    work.does(builders.find_again(work.state, NUT, 1, "under the starter"))
    work.does(builders.drop(work.state, NUT, 1, "", places.TRAY))
    work.opens("near_misses")
    assert work.says("found: under the starter, after 13 min")
    assert work.says("not found")
    assert work.says("1 M8 flange nut: dropped, beside port 2")
    assert work.says("last in the tray; harbour workboat, main engine")
