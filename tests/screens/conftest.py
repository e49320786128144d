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
