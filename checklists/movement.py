"""A movement: the only way a count changes."""

from __future__ import annotations

from typing import NamedTuple


class Move(NamedTuple):
    """A movement: `quantity` of `line` goes from `source` to `target`. The only way a count changes."""

    line: str
    quantity: int
    source: str
    target: str
