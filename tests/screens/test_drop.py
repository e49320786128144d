"""A drop is on record in two taps, from anywhere, and what to do now is said at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_work import BOLT, MANIFOLD, NUT, AtWork

from checklists import builders, places
from checklists.facts import Dropped, Move


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtWork:
    """The manifold is just off: its ports stand open, its bolts lie in the tray."""
    work = AtWork(tmp_path)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.shows("openings")
    return work


def test_two_taps_and_the_nut_is_missing(work):
    work.tap("Log a drop")
    rows = [words for words in work.texts() if words in ("M8 flange nut", "Ratchet", "M8 x 45 flange bolt")]
    assert rows[-2:] == ["M8 flange nut", "M8 x 45 flange bolt"], "what was moved last comes first"
    work.tap("M8 flange nut")
    work.tap("Nobody saw where it went")
    assert work.last == Dropped("", (Move(NUT, 1, places.TRAY, places.MISSING),))
    assert work.screen.missing == 1
    for words in ("Stop", "Do not turn anything. Do not close anything.", "Cover every opening that stands uncovered."):
        assert work.says(words)
    work.act()
    assert work.name == "missing"
    work.screen.on_back()
    assert work.name == "openings", "the way back leads to the work"


def test_seen_to_fall_into_an_open_space(work):
    work.tap("Log a drop")
    work.tap("M8 x 45 flange bolt")
    assert work.says("Into inlet port 1")
    assert work.says("Into inlet port 4")
    assert not work.says("Into coolant passage in the head"), "its openings are covered"
    work.tap("Into inlet port 2")
    assert work.last == Dropped("", (Move(BOLT, 1, places.TRAY, places.inside("port-2")),))
    assert work.says("Take out 1 M8 x 45 flange bolt and count it")
    work.act()
    assert work.name == "count_pad"


def test_two_fell_and_near_what(work):
    work.tap("Log a drop")
    work.tap("M8 flange nut")
    work.types("Near what (may be left empty)", "beside the starter")
    work.more(1)
    work.tap("Nobody saw where it went")
    assert work.last == Dropped("beside the starter", (Move(NUT, 2, places.TRAY, places.MISSING),))
    assert work.says("2 M8 flange nuts: missing")


def test_what_was_covered_before_the_drop_was_logged_is_asked_for(work):
    """The nut rang once, the ports were covered as the trade does it, then the phone came out."""
    work.shows("board")
    for port in (1, 2, 3):
        work.does(builders.cover(work.state, f"inlet-{port}", "port-cap"))
    work.tap("Log a drop")
    work.tap("M8 flange nut")
    assert work.says("just now: it could be in what stands uncovered")
    assert work.key(has="or into what is covered or closed by now: inlet port 3 at the head, inlet port 2")
    assert work.says("Into inlet port 4")
    assert work.says("seen to fall in; covered since")
    work.tap("It fell earlier, nobody saw where")
    assert work.last == Dropped("", (Move(NUT, 1, places.TRAY, places.MISSING),), earlier=True)
    (item,) = work.state.missing
    assert "port-1" in work.state.could_hold(item)


def test_a_killed_app_comes_back_to_half_a_drop(work):
    work.tap("Log a drop")
    work.tap("M8 flange nut")
    work.types("Near what (may be left empty)", "beside the starter")
    work.more(1)
    work.kill_and_start()
    assert work.fields("Near what (may be left empty)")[0].text == "beside the starter"
    work.tap("Nobody saw where it went")
    assert work.last.moves[0].quantity == 2


def test_what_is_at_home_can_fall_too_further_down(work):
    work.tap("Log a drop")
    while not touch.find_all(work.screen, text="Pair of reading glasses"):
        work.tap(has=" more")
    work.tap("Pair of reading glasses")
    work.tap("Nobody saw where it went")
    assert work.last.moves == (Move("reading-glasses", 1, places.STORES, places.MISSING),)


def test_what_was_being_counted_comes_first(work):
    work.shows("count_pad", line=BOLT, source=places.TRAY, target=places.BENCH)
    work.screen.on_drop()
    rows = [words for words in work.texts() if words in ("M6 x 25 flange bolt", "M8 x 45 flange bolt")]
    assert rows[0] == "M8 x 45 flange bolt"
