"""Reads the fastener tables from their files, the first time they are asked for and only then."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import checklists
from checklists.workshop.fasteners import TABLE_NAMES, Tables, read_tables

#: Beside the rules, in the repository as in an installed wheel and on the phone.
FASTENER_DATA = Path(checklists.__file__).parent / "workshop" / "fastener_data"


@cache
def fastener_tables() -> Tables:
    """The fastener tables; read once, kept after that."""
    return read_tables({name: (FASTENER_DATA / f"{name}.csv").read_text("utf-8") for name in TABLE_NAMES})
