"""What Kivy must find in the environment before anything imports it."""

import atexit
import gc
import os
import shutil
import tempfile
from collections.abc import Generator

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

#: How often Python looks for garbage by itself: among the newest objects seldom, among all hardly ever.
GARBAGE = (50_000, 10_000, 1000)
_shown: list[str] = []


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest files first; the others keep their order."""
    items.sort(key=lambda item: item.path.stem not in LONGEST)


def pytest_collection_finish() -> None:
    """What is there by now stays: it need never be looked through for garbage.

    A screen leaves tens of thousands of objects in circles. Looking for them at Python's own pace took half of the
    screens' time, so it is done after each test, while they are the newest (`pytest_runtest_protocol`).
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(*GARBAGE)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, object, object]:
    """After a test that showed screens nobody holds them any more: let them go, before memory fills."""
    done = yield
    if "kivy_window" in getattr(item, "fixturenames", ()):
        gc.set_threshold(*GARBAGE)  # the app sets its own when it is imported
        _shown.append(item.name)
        gc.collect(2 if len(_shown) % 8 == 0 else 1)
    return done
