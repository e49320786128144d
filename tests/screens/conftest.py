"""The offscreen window for tests, a phone of 65 x 131 mm unless changed, emptied after each of them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.pack_work import PackWork, phone


@pytest.fixture
def kivy_window() -> Iterator[Any]:
    """The offscreen window at density 1 and font scale 1."""
    window = touch.open_window()
    touch.phone()
    yield window
    touch.clear()
    touch.settle(2)


@pytest.fixture
def ours(kivy_window: Any, tmp_path: Path) -> Iterator[PackWork]:
    """A phone that sends packs to `theirs`."""
    yield from phone(tmp_path / "ours")


@pytest.fixture
def theirs(kivy_window: Any, tmp_path: Path) -> Iterator[PackWork]:
    """The other phone."""
    yield from phone(tmp_path / "theirs")
