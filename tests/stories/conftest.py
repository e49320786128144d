"""Stories for the tests, played in a temporary folder."""

import tempfile
from pathlib import Path

import pytest

from checklists.story import Story
from mobileapp.journal import open_journal
from mobileapp.rehearsal import Rehearsal, play
from mobileapp.story_shelf import Script, script_of

MEMORY = Path("/dev/shm")
HEAD = """
sheet = "rocker-cover"
machine = "trial engine"
reason = "to see inside"
starts = 2026-03-02T08:15:00+01:00
people = [{ name = "Ines Vardal", role = "fitter" }, { name = "Tomas Reke", role = "deckhand" }]
"""


class Stage:
    """Plays stories one after another into one journal."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.journal = open_journal(folder / "journal.sqlite")

    def play(self, steps: str, head: str = HEAD) -> Rehearsal:
        """Play these steps under the usual head."""
        return play(script_of(head + steps, "trial.toml", self.folder), self.journal)

    def play_script(self, script: Script, story: Story | None = None) -> Rehearsal:
        """Play a story, or a changed form of it, with its sheet."""
        return play(Script(story or script.story, script.sheet), self.journal)


@pytest.fixture
def stage(memory_folder):
    """Somewhere to play stories."""
    stage = Stage(memory_folder)
    yield stage
    stage.journal.close()


@pytest.fixture
def memory_folder(tmp_path):
    """A folder in memory where the system has one: hundreds of stories need not wait for a disk."""
    if not MEMORY.is_dir():
        yield tmp_path
        return
    with tempfile.TemporaryDirectory(prefix="countback-test-", dir=MEMORY) as folder:
        yield Path(folder)
