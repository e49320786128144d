"""What the command line's tests share: a job in a journal."""

from pathlib import Path

import pytest

from mobileapp.journal import open_journal
from mobileapp.rehearsal import play
from mobileapp.story_shelf import load_story


@pytest.fixture
def played(tmp_path) -> Path:
    """A journal with a whole job in it, in a folder of its own."""
    path = tmp_path / "played" / "journal.sqlite"
    path.parent.mkdir()
    with open_journal(path, make_id=lambda: "phone-a") as journal:
        play(load_story("blank-sheet"), journal, lambda: "crane")
    return path
