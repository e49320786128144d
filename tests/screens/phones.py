"""On which phones a screen is measured: always on the hardest to fit, on the others under the slow marker."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest


def on_phones(hardest: str, phones: Iterable[str]) -> list[Any]:
    """Parameters for each phone by name; all but the hardest are slow."""
    return [name if name == hardest else pytest.param(name, marks=pytest.mark.slow) for name in phones]
