"""The demo, from the command to its pictures: well under 20 seconds after installation (issue: main job)."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

pytestmark = pytest.mark.bench
LIMIT_SECONDS = 20


def test_the_demo_takes_well_under_twenty_seconds(tmp_path: Path) -> None:
    took = []
    for turn in range(3):
        began = time.monotonic()
        command = [sys.executable, "-m", "mobileapp.cli", "demo", "--no-window", "--folder", str(tmp_path / str(turn))]
        subprocess.run(command, check=True, capture_output=True)
        took.append(time.monotonic() - began)
    print(
        f"\ncountback demo, drawn without a window: {', '.join(f'{t:.1f} s' for t in took)} (at most {LIMIT_SECONDS} s)"
    )
    assert min(took) < LIMIT_SECONDS
