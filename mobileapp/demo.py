"""The demo: the workboat story played into a folder of its own, each refusal told, then shown on screen or drawn."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from checklists.story import Story
from checklists.times import seconds_after
from mobileapp.cli_words import ending_words, result_lines
from mobileapp.data_folder import JOURNAL_NAME
from mobileapp.exit_codes import Trouble
from mobileapp.journal import examine, open_journal
from mobileapp.journal.store import Journal
from mobileapp.opening_app import open_app_on
from mobileapp.paper.closing_sheet import write_closing_sheet
from mobileapp.photos.store import FOLDER, PhotoStore, beside
from mobileapp.rehearsal import COUNT_SECONDS, STEP_SECONDS, Rehearsal, StepResult, play
from mobileapp.story_shelf import Script, load_story

STORY = "workboat"
#: Moments of the story at which the demo leaves a teardown standing, so that each kind of screen has something to show.
MOMENTS = ("counting", "openings", "refusal", "sign-off")
#: The folder's own files. Anything else in it belongs to somebody else.
MARKER = "countback-demo.txt"
PICTURES = "pictures"
CLOSING_SHEET = "closing-sheet.pdf"
#: Where the app offers photos from; a person who tries the demo may have put some there.
OFFERED = "photos"
_MARKER_TEXT = "This folder was made by `countback demo`. The next demo replaces its journal and pictures.\n"
_JOURNAL_FILES = (JOURNAL_NAME, JOURNAL_NAME + "-wal", JOURNAL_NAME + "-shm")
_TOLD = frozenset({"lift", "drop", "found", "undo", "log find", "tear", "second count", "clear", "set down", "sign",
                   "put in the engine", "turn by hand", "close"})  # fmt: skip
_DRAW = (
    "import sys; from pathlib import Path; from mobileapp.snapshots import render_demo_screens;"
    "[print(path) for path in render_demo_screens(Path(sys.argv[1]), Path(sys.argv[2]))]"
)
_DRAWING_SECONDS = 120

#: The story's clock is not the wall's.
_CLOCK = "Its hours pass in a moment: the times are the story's own, and its last is now. Nothing to do but read on."

Tell = Callable[[str], None]


def run_demo(folder: Path, *, window: bool, tell: Tell) -> int:
    """Play the story into `folder` and show it: 0 where the story went as written and could be shown."""
    from mobileapp import kivy_env

    make_room(folder)
    if not play_demo(folder, tell, datetime.now().astimezone().isoformat(timespec="milliseconds")):
        return 1
    if window and kivy_env.has_display():
        tell(f"Opening the app on {folder}. Close its window to end the demo.")
        return open_app_on(folder)
    why = "There is no screen here" if window else "No window was asked for"
    tell(f"{why}, so the screens are drawn to pictures.")
    return draw(folder, tell)


# ---- the folder


def make_room(folder: Path) -> None:
    """An empty demo folder; only what an earlier demo left is replaced. Raises Trouble where anything else is in it."""
    try:
        if folder.exists():
            _refuse_strangers(folder)
        _clear(folder)
    except OSError as fault:
        raise Trouble(f"The demo cannot use the folder {folder} ({fault.strerror or fault}). Name one that you may "
                      "write to: countback demo --folder FOLDER") from fault  # fmt: skip


def _clear(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / MARKER).write_text(_MARKER_TEXT, encoding="utf-8")
    for name in _JOURNAL_FILES:
        (folder / name).unlink(missing_ok=True)
    for picture in (folder / PICTURES).glob("*.png"):
        picture.unlink()


def _refuse_strangers(folder: Path) -> None:
    if not folder.is_dir():
        raise Trouble(f"{folder} is a file. Name another folder with --folder.")
    strangers = strangers_in(folder)
    if strangers:
        some = ", ".join(strangers[:3]) + (" and more" if len(strangers) > 3 else "")
        raise Trouble(f"{folder} holds something that no demo made ({some}). It was left as it is; "
                      "name another folder with --folder.")  # fmt: skip


def strangers_in(folder: Path) -> list[str]:
    """What lies in a folder that an earlier demo did not make; everything, where no demo has marked it as its own."""
    marker = folder / MARKER
    ours = marker.is_file() and marker.read_text(encoding="utf-8", errors="replace") == _MARKER_TEXT
    own = {MARKER, PICTURES, OFFERED, CLOSING_SHEET, FOLDER, *_JOURNAL_FILES} if ours else set()
    strangers = [path.name for path in folder.iterdir() if path.name not in own]
    if ours and (folder / PICTURES).is_dir():
        strangers += [f"{PICTURES}/{path.name}" for path in (folder / PICTURES).iterdir() if path.suffix != ".png"]
    return sorted(strangers)


# ---- the story


def play_demo(folder: Path, tell: Tell, now: str) -> bool:
    """Play the whole story, and once more up to each of its moments; whether all went as written.

    The story's clock is set so that each ends at `now`: on the screens its clocks then run as on a real job.
    """
    script = load_story(STORY)
    with open_journal(folder / JOURNAL_NAME) as journal:
        tell(f"The story: {script.story.machine}. {_CLOCK}")
        whole = _play(script, "", journal, now)
        for line in _telling(whole):
            tell(line)
        write_closing_sheet(journal, STORY, PhotoStore(beside(journal.path)), folder / CLOSING_SHEET)
        parts = [_play(script, moment, journal, now) for moment in MOMENTS]
    proof = examine(folder / JOURNAL_NAME)
    for finding in proof.faults:
        tell(f"WRONG in {finding.where}: {finding.what}")
    if not proof.faults:
        tell(f"{folder / JOURNAL_NAME}: {proof.entries} entries proven, nothing is wrong.")
        tell(f"{folder / CLOSING_SHEET}: the record to print. Its photos were drawn for the demo, and each says so.")
    return all(part.held for part in (whole, *parts)) and not proof.faults


def _play(script: Script, moment: str, journal: Journal, now: str) -> Rehearsal:
    story = script.story.until(moment) if moment else script.story
    if moment:
        story = replace(story, machine=f"{story.machine} ({moment})")
    story = replace(story, starts=seconds_after(now, -story_seconds(story, len(script.sheet.cautions))))
    return play(Script(story, script.sheet), journal, lambda: f"{STORY}-{moment}" if moment else STORY)


def story_seconds(story: Story, cautions: int) -> float:
    """How long a story takes by its own clock, and a little more."""
    steps = sum(STEP_SECONDS if step.after is None else step.after for step in story.steps)
    return steps + COUNT_SECONDS * (cautions + sum(step.quantity for step in story.steps))


def _telling(rehearsal: Rehearsal) -> list[str]:
    told = [result for result in rehearsal.results if _is_told(result)]
    lines = [line for result in told for line in ("", *result_lines(result, rehearsal.state))]
    return [*lines, "", ending_words(rehearsal), f"(`countback rehearse {STORY}` tells every step.)"]


def _is_told(result: StepResult) -> bool:
    return result.step is None or result.refused or bool(result.failures) or result.step.do in _TOLD


# ---- the pictures


def draw(folder: Path, tell: Tell) -> int:
    """Draw the demo's screens to PNG files, in a process of their own: drawing may fail, the story must not."""
    pictures = folder / PICTURES
    pictures.mkdir(exist_ok=True)
    try:
        done = subprocess.run([sys.executable, "-c", _DRAW, str(folder), str(pictures)], capture_output=True,
                              text=True, encoding="utf-8", timeout=_DRAWING_SECONDS, check=False)  # fmt: skip
    except subprocess.TimeoutExpired:
        tell(f"The screens could not be drawn within {_DRAWING_SECONDS} s.")
        return 1
    drawn = sorted(pictures.glob("*.png"))
    if done.returncode or not drawn:
        last = (done.stderr.strip().splitlines() or ["nothing was said"])[-1]
        tell(f"The screens could not be drawn here: {last}")
        tell("Without a screen this needs Mesa's EGL (on Debian: apt install libegl1 libgl1-mesa-dri).")
        return 1
    for picture in drawn:
        tell(f"drawn: {picture}")
    return 0
