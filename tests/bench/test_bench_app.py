"""What the app costs a waiting person: from start to the first drawn board, and from a tap to the changed figure.

The start is compared with a Kivy app of one label in a window of the same kind, taking turns in one run. Frames are
drawn by Mesa's software renderer at 1080 x 2160; glFinish is inside every figure, so nothing is left undrawn. Run it on
a machine that does nothing else: drawing in software takes every core there is.
"""

import os
import subprocess
import sys
import time
from pathlib import Path
from statistics import median
from typing import NamedTuple

import pytest

from checklists import builders
from checklists.facts import Acknowledged, Person
from mobileapp.journal.store import open_journal
from mobileapp.service import start_teardown
from mobileapp.shelf import load_sheet

pytestmark = pytest.mark.bench

ROUNDS = 11
TAPS = 60
RUNS = 3
MOST_TIMES_A_LABEL = 1.8
MOST_MS_A_FRAME = 50
WHO = "Ilse Brandt"
CHILD = Path(__file__).with_name("first_frame.py")


class SteppedClock:
    """Moves on by a second at every reading."""

    def __init__(self):
        self.seconds = 0

    def __call__(self):
        self.seconds += 1
        minutes, seconds = divmod(self.seconds, 60)
        return f"2026-03-02T08:{minutes:02d}:{seconds:02d}.250+01:00"


def begin(journal, clock, sheet="inlet-manifold-inline-four"):
    """A teardown of a shipped sheet with its cautions read."""
    fact = builders.start(load_sheet(sheet), "Bench engine", [Person(WHO, "fitter")], "It overheats.", "Dry.")
    service = start_teardown(journal, clock, lambda: "bench", fact, WHO)
    for caution in service.state.sheet.cautions:
        assert service.record(Acknowledged(caution.id)).done
    return service


class Taken(NamedTuple):
    """What a fresh process took to its first drawn frame: on the wall clock, and of the processor; in seconds."""

    wall: float
    processor: float


def as_installed(folder):
    """The environment of a start as a person has it: an installed app has its byte code, on a phone and on a desktop.

    Where the shell says PYTHONDONTWRITEBYTECODE, our modules would be compiled at every start and Kivy's would not.
    Here both keep theirs in `folder`, written by the first round, which does not count.
    """
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**env, "PYTHONPYCACHEPREFIX": str(folder), "SDL_VIDEODRIVER": "offscreen"}


def first_frame(env, *args):
    """Start a process and wait for its first frame."""
    begun = time.monotonic()
    done = subprocess.run(
        [sys.executable, str(CHILD), *args],
        capture_output=True,
        text=True,
        timeout=60,
        env=env,
    )
    assert done.returncode == 0, done.stderr
    drawn, processor = map(float, done.stdout.split()[-2:])
    return Taken(drawn - begun, processor)


def test_app_start_to_first_drawn_board(tmp_path):
    with open_journal(tmp_path / "journal.sqlite") as journal:
        service = begin(journal, SteppedClock())
        line = service.state.lines_of("coolant-crossover")[0]
        assert service.record(builders.count_out(service.state, line)).done
        journal.set_bookmark({"trail": [["teardowns", {}], ["board", {}]], "teardown": "bench", "who": WHO})
    env = as_installed(tmp_path / "byte code")
    turns = [(first_frame(env, "label"), first_frame(env, "board", str(tmp_path))) for _ in range(ROUNDS + 1)]
    labels, boards = zip(*turns[1:], strict=True)  # the first round warms the disk's cache for both
    print(f"\n{'':30}{'wall':>9}{'best':>9}{'processor':>11}")
    print(_row("start to first drawn board", boards))
    print(_row("start of a one-label app", labels))
    ratio = median(ours.wall / theirs.wall for ours, theirs in zip(boards, labels, strict=True))
    print(f"median of {ROUNDS} ratios: {ratio:.2f}x (at most {MOST_TIMES_A_LABEL}x)")
    assert ratio <= MOST_TIMES_A_LABEL


def _row(name, taken):
    figures = median(t.wall for t in taken), min(t.wall for t in taken), median(t.processor for t in taken)
    return f"{name:30}" + "".join(f"{seconds * 1000:>6.0f} ms" for seconds in figures)


def test_no_frame_after_a_tap_on_the_count_pad_is_long(tmp_path):
    from screens.touch import open_window

    from mobileapp import offscreen

    open_window()
    offscreen.resize(offscreen.PHONE, offscreen.PHONE_DENSITY)
    runs = [_tap_away(tmp_path / str(number)) for number in range(RUNS)]
    print()
    for frames in runs:
        print(
            f"{TAPS} taps, {len(frames)} drawn frames: median {median(frames):.1f} ms, "
            f"p99 {frames[int(len(frames) * 0.99)]:.1f} ms, worst {frames[-1]:.1f} ms"
        )
    # What is ours to answer for is long in every run; what another program does to this machine is not.
    best = min(frames[-1] for frames in runs)
    print(f"worst frame of the best of {RUNS} runs: {best:.1f} ms (at most {MOST_MS_A_FRAME} ms)")
    assert best <= MOST_MS_A_FRAME


def _tap_away(folder):
    """Tap the pad; the milliseconds of every frame that had something to draw, the longest last."""
    from kivy.base import EventLoop
    from kivy.core.window import Window
    from kivy.graphics.opengl import glFinish
    from screens.touch import Finger, find, settle, spot_of

    from mobileapp.widgets.count_pad import TapArea

    shell = _pad_of_many_rags(folder)
    Window.add_widget(shell)
    settle()
    glFinish()
    area = find(shell, cls=TapArea)
    spot, frames = spot_of(area), []

    def frame(act):
        begun = time.perf_counter()
        act()
        EventLoop.idle()
        glFinish()
        frames.append((time.perf_counter() - begun) * 1000)

    for number in range(1, TAPS + 1):
        finger = Finger(*spot)
        frame(finger.down)
        assert area.figure == str(number)
        frame(finger.up)
        settle(4)
        glFinish()
    Window.remove_widget(shell)
    shell.desk.journal.close()
    return sorted(frames)


def _pad_of_many_rags(folder):
    from mobileapp.desk import Desk
    from mobileapp.device.signals import SilentSignals
    from mobileapp.shell import Shell

    clock = SteppedClock()
    journal = open_journal(folder / "journal.sqlite", clock=clock)
    desk = Desk(journal, clock, lambda: "bench", SilentSignals(), [])
    desk.take(begin(journal, clock))
    shell = Shell(desk)
    desk.trail = [("teardowns", {}), ("board", {})]
    desk.go("count_pad", line=_many_rags(desk), source="stores", target="bench")
    return shell


def _many_rags(desk):
    """A line with enough of it for every tap."""
    line = next(line.id for line in desk.state.sheet.items if line.kind == "rag")
    assert desk.record(builders.add(line, TAPS, "stores", "a fresh pack"))
    return line
