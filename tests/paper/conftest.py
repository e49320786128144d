"""Jobs ready to be printed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from paper.paper_shop import PaperShop


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[PaperShop]:
    """A rocker cover job that has just been started."""
    made = PaperShop(tmp_path)
    yield made
    made.close()


@pytest.fixture
def closed(shop: PaperShop) -> PaperShop:
    """A rocker cover job that was worked to its end and closed."""
    shop.work()
    return shop
