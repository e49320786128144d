"""Stories for the tests, played in a temporary folder."""

import tempfile
from pathlib import Path

import pytest
from story_stage import Stage

MEMORY = Path("/dev/shm")


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
