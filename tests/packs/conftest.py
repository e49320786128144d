"""Two handsets: one with a job on it, one with nothing."""

import pytest
from pack_workshop import JOB, JONAS, Handset, members

from mobileapp.packs import write_pack


@pytest.fixture
def ilse(tmp_path):
    """The phone on which the job was begun."""
    handset = Handset(tmp_path / "ilse", "phone-a")
    handset.begin()
    yield handset
    handset.close()


@pytest.fixture
def jonas(tmp_path):
    """Another phone, with nothing on it."""
    handset = Handset(tmp_path / "jonas", "phone-b", JONAS)
    yield handset
    handset.close()


@pytest.fixture
def pack(ilse, tmp_path):
    """The job as a pack."""
    return write_pack(ilse.journal, ilse.store, JOB, tmp_path / "job.countback.zip").path


@pytest.fixture
def inside(pack):
    """What is in the pack, by name."""
    return members(pack)


@pytest.fixture
def made(tmp_path):
    """Where a pack that was made over goes."""
    return tmp_path / "made over.zip"
