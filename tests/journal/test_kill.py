"""A process that is killed in the middle of counting loses no count that it had acknowledged."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from mobileapp.journal import open_journal, prove, rebuild_balances

HERE = Path(__file__).parent
#: A fresh file every so many rounds, so that the making of the file is cut short too.
ROUNDS_A_FILE = 10
LONGEST = 0.03


@pytest.fixture
def nursery():
    """The program whose children are killed."""
    paths = os.pathsep.join([str(HERE.parents[1]), str(HERE), os.environ.get("PYTHONPATH", "")])
    process = subprocess.Popen(
        [sys.executable, str(HERE / "kill_nursery.py")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": paths},
    )
    yield process
    process.stdin.close()
    process.stdout.close()
    process.wait(timeout=10)


def kill_one(nursery, path, delay):
    """The entries a child was told are durable before it was killed after `delay` seconds."""
    nursery.stdin.write(f"{path} {delay}\n")
    nursery.stdin.flush()
    acknowledged = []
    for line in nursery.stdout:
        if line.startswith("killed"):
            assert int(line.split()[1]) == signal.SIGKILL
            return acknowledged
        acknowledged.append(int(line))
    raise AssertionError("the nursery ended by itself")


def check(path, before, acknowledged):
    """Every acknowledged entry is there, at most one more, and the file proves clean."""
    with open_journal(path) as journal:
        entries = journal.entries("job-1")
        assert acknowledged == list(range(before + 1, before + 1 + len(acknowledged)))
        assert len(entries) - before - len(acknowledged) in (0, 1)
        assert [entry.seq for entry in entries] == list(range(1, len(entries) + 1))
        assert rebuild_balances(journal) == []
    assert prove(path) == []
    return len(entries)


def kill_rounds(nursery, folder, rounds):
    """So many children killed at random moments; how many entries were acknowledged in all.

    On a machine that is busy with other things they live longer, so that each acknowledges about one.
    """
    dice, longest = random.Random(8785), LONGEST
    total = before = 0
    for n in range(rounds):
        if n % ROUNDS_A_FILE == 0:
            path, before = folder / f"journal-{n}.sqlite", 0
        acknowledged = kill_one(nursery, path, dice.uniform(0.0, longest))
        total += len(acknowledged)
        longest = LONGEST if total > n else min(2 * longest, 16 * LONGEST)
        before = check(path, before, acknowledged)
    return total


def test_killed_a_hundred_times_nothing_acknowledged_is_lost(nursery, tmp_path):
    assert kill_rounds(nursery, tmp_path, 100) > 100


@pytest.mark.slow
def test_killed_a_thousand_times_nothing_acknowledged_is_lost(nursery, tmp_path):
    assert kill_rounds(nursery, tmp_path, 1000) > 1000
