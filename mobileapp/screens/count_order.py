"""The order in which a blind count offers the lines at one place. Pure, no widgets; it never looks at the tally."""

from __future__ import annotations

from collections.abc import Collection

from checklists import places
from checklists.state import Teardown


def lines_at(t: Teardown, spot: str, likely: Collection[str]) -> list[str]:
    """Every line, the likely ones first: in a tray the fasteners and parts before the tools, elsewhere behind them."""
    in_tray = places.family(spot) == places.TRAY

    def rank(line: str) -> tuple[bool, bool]:
        return line not in likely, (places.family(t.lines[line].home) == "fitted") != in_tray

    return sorted(t.lines, key=rank)
