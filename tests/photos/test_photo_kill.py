"""A process killed while it keeps photos loses none that it was told is recorded; the rest is found and offered."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from mobileapp import evidence
from mobileapp.journal import open_journal, prove
from mobileapp.photos import PhotoStore, beside
from mobileapp.photos.proving import prove_photos
from mobileapp.photos.store import hash_of

TESTS = Path(__file__).parents[1]
NOW = "2026-03-02T09:00:00.000+01:00"


@pytest.fixture
def nursery():
    """The program whose children are killed."""
    paths = os.pathsep.join([str(TESTS.parent), str(TESTS), os.environ.get("PYTHONPATH", "")])
    process = subprocess.Popen(
        [sys.executable, str(TESTS / "photos" / "photo_nursery.py")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": paths},
    )
    yield process
    process.stdin.close()
    process.stdout.close()
    process.wait(timeout=10)


def kill_one(nursery, folder, delay, number):
    """The hashes a child told before it was killed."""
    nursery.stdin.write(f"{folder} {delay} {number}\n")
    nursery.stdin.flush()
    told = []
    for line in nursery.stdout:
        if line.startswith("killed"):
            assert int(line.split()[1]) == signal.SIGKILL
            return told
        told.append(line.strip())
    raise AssertionError("the nursery ended by itself")


def test_killed_between_the_photo_and_its_event_the_photo_is_an_orphan_to_be_offered(nursery, tmp_path):
    for number in range(3):
        (told,) = kill_one(nursery, tmp_path, "between", number)
        store = PhotoStore(beside(tmp_path / "journal.sqlite"))
        with open_journal(tmp_path / "journal.sqlite") as journal:
            assert evidence.known_photos(journal) == set()
            found = {orphan.sha: orphan.path for orphan in evidence.orphans(journal, store)}
            assert len(found) == number + 1
            assert hash_of(found[told]) == told
            proof = prove_photos(journal.path, store)
            assert proof.faults == []
            assert f"photo {told[:12]}" in [remark.where for remark in proof.remarks]


def kill_rounds(nursery, folder, rounds):
    """So many children killed at random moments; how many photos were told as recorded, and how many orphans seen."""
    dice, told, orphans = random.Random(9003), set(), 0
    path = folder / "journal.sqlite"
    store = PhotoStore(beside(path))
    patience = 1.0  # a busy machine gets to no photo at all in so short a time
    for number in range(rounds):
        told_now = kill_one(nursery, folder, dice.uniform(0.02, 0.12) * patience, number)
        told.update(told_now)
        patience = max(1.0, patience * (0.8 if told_now else 1.3))
        rescued = store.leftovers().rescued
        with open_journal(path) as journal:
            known = evidence.known_photos(journal)
            assert told <= known
            assert len(known) - len(told) <= number + 1  # at most the one that was not told any more
            left = evidence.orphans(journal, store)
        assert {kept.sha for kept in rescued} <= {orphan.sha for orphan in left}
        assert all(hash_of(orphan.path) == orphan.sha for orphan in left)
        assert prove_photos(path, store).faults == []
        orphans = len(left)
    assert prove(path) == []
    return len(told), orphans


def test_killed_thirty_times_while_photographing(nursery, tmp_path):
    told, _ = kill_rounds(nursery, tmp_path, 30)
    assert told > 10


@pytest.mark.slow
def test_killed_three_hundred_times_while_photographing(nursery, tmp_path):
    told, _ = kill_rounds(nursery, tmp_path, 300)
    assert told > 100
