"""What the workshop's screens cost in a frame: whereabouts on a very large plan, and every tool as it is opened.

Frames are counted in processor time of the drawing thread at 1080 x 2160, so that what others do at the same time is
left out; the search itself runs on a thread of its own.
"""

import gc
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from bench.test_bench_whereabouts import BEGAN, OPENINGS, SPELLS, large_teardown
from screens import touch
from screens.shop_hand import AtTheBench

from checklists import places
from checklists.state import Mark, MissingItem
from checklists.times import seconds_after
from mobileapp import offscreen
from mobileapp.screens.aside import finish
from mobileapp.screens.workshop import TOOLS
from mobileapp.widgets.space_map import SpaceMap

pytestmark = pytest.mark.bench

MOST_MS_A_FRAME = 50
#: The best of so many, as on a machine that does nothing else; the first imports and keeps what a tool needs.
ROUNDS = 6


@pytest.fixture
def work(tmp_path: Path) -> Iterator[AtTheBench]:
    touch.open_window()
    offscreen.resize(offscreen.PHONE, offscreen.PHONE_DENSITY)
    gc.set_threshold(50_000, 20, 50)  # as the app sets it
    yield AtTheBench(tmp_path)
    touch.clear()


def frames_of(act: Any) -> list[float]:
    """Milliseconds of each frame after `act`, the first with the act itself in it."""
    took = []
    for frame in range(90):
        began = time.thread_time()
        if frame == 0:
            act()
        touch.drawn()
        took.append((time.thread_time() - began) * 1000)
        if frame == 30:
            finish()
    return took


def open_tool(work: AtTheBench, name: str, **args: Any) -> None:
    work.desk.trail = [("teardowns", {}), ("workshop", {}), (name, args)]
    work.desk.again()


def test_whereabouts_on_a_very_large_plan_holds_up_no_frame(work: AtTheBench) -> None:
    t = large_teardown()
    t.history, t.people = work.state.history, work.state.people
    t.missing.append(MissingItem("nut", 1, places.TRAY, 0, Mark(1, BEGAN, "Ines Vardal"), "dropped", ""))
    t.balances["nut", places.MISSING] = 1
    work.desk.work.state = t
    work.now = seconds_after(BEGAN, SPELLS * 20)
    frames = min((frames_of(lambda: open_tool(work, "whereabouts")) for _ in range(ROUNDS)), key=max)
    assert touch.find(work.shell, cls=SpaceMap).lines
    check(f"whereabouts, {OPENINGS} openings and {SPELLS} spells", frames)


@pytest.mark.parametrize("tool", [screen for _, _, _, screen in TOOLS])
def test_a_tool_opens_without_a_long_frame(work: AtTheBench, tool: str) -> None:
    rounds = []
    for _ in range(ROUNDS):
        open_tool(work, "workshop")
        touch.settle(5)
        rounds.append(frames_of(lambda: open_tool(work, tool)))
    check(tool, min(rounds, key=max))


def check(what: str, frames: list[float]) -> None:
    """Print the frame with the tap in it and the worst after it, and hold both to the limit."""
    print(f"{what}: first frame {frames[0]:.1f} ms, worst after it {max(frames[1:]):.1f} ms")
    assert max(frames) < MOST_MS_A_FRAME
