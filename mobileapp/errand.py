"""What goes on whatever screen is shown meanwhile, and what came of it, until that has been said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass
class Errand:
    """Something done whole or not at all, begun on the packs screen. `pack` is the file taken in, empty when packing.

    `outcome` is None while it runs; then it is what the screen has to say.
    """

    doing: str
    pack: str = ""
    outcome: dict[str, Any] | None = None

    @property
    def runs(self) -> bool:
        """Whether it is still being done."""
        return self.outcome is None
