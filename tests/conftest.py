"""What Kivy must find in the environment before anything imports it."""

import atexit
import gc
import os
import shutil
import tempfile

import pytest

_kivy_home = tempfile.mkdtemp(prefix="countback-kivy-")
atexit.register(shutil.rmtree, _kivy_home, ignore_errors=True)

os.environ.update(
    SDL_VIDEODRIVER="offscreen",
    KIVY_NO_ARGS="1",
    KIVY_NO_CONFIG="1",
    KIVY_NO_FILELOG="1",
    KIVY_LOG_MODE="PYTHON",
    KIVY_HOME=_kivy_home,
    KIVY_DPI="96",
    KIVY_METRICS_DENSITY="1",
    KIVY_METRICS_FONTSCALE="1",
)

#: Files that take longest, begun first: two workers then end at about the same time.
LONGEST = (
    "test_demo_story",
    "test_measures",
    "test_forms_measured",
    "test_leaving_out_a_step",
    "test_workshop_screen",
    "test_counting_measured",
    "test_evidence_measures",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest files first; the others keep their order."""
    items.sort(key=lambda item: item.path.stem not in LONGEST)


def pytest_collection_finish() -> None:
    """Garbage is looked for as Python does by itself: importing the app makes it seldom, and screens fill memory."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(700, 10, 10)
