"""A stage on which tests play stories, and the usual head of a story."""

import re
from pathlib import Path

from tiny_photos import tiny

from checklists.story import Story
from mobileapp.journal import open_journal
from mobileapp.rehearsal import Rehearsal, play
from mobileapp.story_shelf import STORIES, Script, script_of

README = (STORIES / "README.md").read_text(encoding="utf-8")
#: The complete example of the documentation.
EXAMPLE = re.search(r"```toml\n(.*?)```", README, re.DOTALL)[1]

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
        return play(script_of(head + steps, "trial.toml", self.folder), self.journal, draw=tiny)

    def play_script(self, script: Script, story: Story | None = None) -> Rehearsal:
        """Play a story, or a changed form of it, with its sheet."""
        return play(Script(story or script.story, script.sheet), self.journal, draw=tiny)
