"""Where Countback keeps its journal and photos on a desktop."""

from __future__ import annotations

import os
import sys
from pathlib import Path

JOURNAL_NAME = "journal.sqlite"


def data_folder() -> Path:
    """COUNTBACK_HOME where it is set; else the usual place for a program's data on this system."""
    if own := os.environ.get("COUNTBACK_HOME"):
        return Path(own).expanduser()
    if shared := os.environ.get("XDG_DATA_HOME"):
        return Path(shared) / "countback"
    if sys.platform == "win32" and (local := os.environ.get("LOCALAPPDATA")):
        return Path(local) / "countback"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "countback"
    return Path.home() / ".local" / "share" / "countback"


def journal_path() -> Path:
    """The journal the app works on."""
    return data_folder() / JOURNAL_NAME
