"""Rows of the outside tables in tests/outside/data; each file says its source in its first lines."""

import csv
from pathlib import Path

DATA = Path(__file__).parent / "outside" / "data"


def outside_rows(name: str) -> list[dict[str, str]]:
    """The rows of one outside table, its source lines left out."""
    lines = (DATA / f"{name}.csv").read_text("utf-8").splitlines()
    assert lines[0].startswith("# "), "an outside table names its source"
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
