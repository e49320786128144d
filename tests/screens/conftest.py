"""The offscreen window for tests, a phone of 65 x 131 mm unless changed, emptied after each of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from screens import touch


@pytest.fixture
def kivy_window() -> Iterator[Any]:
    """The offscreen window at density 1 and font scale 1."""
    window = touch.open_window()
    touch.phone()
    yield window
    touch.clear()
    touch.settle(2)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Every screen is measured with letters half as large again each time; on the other phones with the slow proofs."""
    for item in items:
        measured = "measure" in item.path.name and item.path.parent.name == "screens"
        if measured and ("small" in item.name or "-1.0-" in item.name):
            item.add_marker(pytest.mark.slow)
