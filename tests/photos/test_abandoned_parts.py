"""What a killed writer leaves is cleared away when it is old and ours; everything else stays."""

import os
import signal
import subprocess
import sys
import time
from glob import escape

from mobileapp.app import clear_exports
from mobileapp.photos.safe_file import ABANDONED, clear_abandoned, name_aside, write_safely

KILLED = """
import os, signal, sys
from pathlib import Path
from mobileapp.photos.safe_file import write_safely
write_safely(Path(sys.argv[1]), b"half a pack", sync=lambda handle: os.kill(os.getpid(), signal.SIGKILL))
"""


def make_old(path):
    then = time.time() - ABANDONED - 5
    os.utime(path, (then, then))


def test_a_killed_export_leaves_a_piece_that_the_next_start_clears_away(tmp_path):
    packs = tmp_path / "packs"
    packs.mkdir()
    done = subprocess.run([sys.executable, "-c", KILLED, str(packs / "job.zip")], check=False)
    assert done.returncode == -signal.SIGKILL
    (part,) = packs.iterdir()
    assert clear_exports(tmp_path) == 0, "somebody may still be writing"
    make_old(part)
    assert clear_exports(tmp_path) == 1
    assert list(packs.iterdir()) == []


def test_what_a_killed_import_left_is_cleared_as_well(tmp_path):
    for name in (".incoming-00c0ffee", ".incoming-0badcafe", "kept-photos"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "copy").write_bytes(b"a photo")
    make_old(tmp_path / ".incoming-00c0ffee")
    make_old(tmp_path / "kept-photos")
    assert clear_exports(tmp_path) == 1
    assert sorted(path.name for path in tmp_path.iterdir()) == [".incoming-0badcafe", "kept-photos"]


def test_the_next_try_at_the_same_file_clears_what_a_killed_one_left_anywhere(tmp_path):
    """On the command line a pack is written where the person says, a folder that is not ours."""
    left, others = name_aside(tmp_path / "job[1].zip"), name_aside(tmp_path / "job.zip")
    for part in (left, others):
        part.write_bytes(b"half")
        make_old(part)
    assert clear_abandoned([tmp_path], time.time(), escape("job[1].zip")) == 1
    assert list(tmp_path.iterdir()) == [others]


def test_only_what_is_ours_is_cleared(tmp_path):
    write_safely(tmp_path / "job.zip", b"whole")
    for name in ("job.zip.part", ".job.part", ".job.zip.00c0ffee.part.txt", ".job.zip.xyz.part"):
        (tmp_path / name).write_bytes(b"another's")
    (tmp_path / ".folder.00c0ffee.part").mkdir()
    ours = name_aside(tmp_path / "job.zip")
    ours.write_bytes(b"half")
    before = {path.name for path in tmp_path.iterdir()}
    for path in tmp_path.iterdir():
        make_old(path)
    assert clear_abandoned([tmp_path, tmp_path / "never-made"], time.time()) == 1
    assert {path.name for path in tmp_path.iterdir()} == before - {ours.name}
