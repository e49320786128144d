"""Set Kivy up before it is first imported: whose arguments, logs and input devices it may touch.

Call `prepare()` before any `import kivy`. A second call changes nothing.
"""

from __future__ import annotations

import atexit
import logging
import os
import shutil
import sys
import tempfile

#: The window Kivy opens when it draws without a screen. Nothing larger can be drawn there later.
OFFSCREEN_SIZE = (1080, 2400)

_ALWAYS = {
    "KIVY_NO_ARGS": "1",  # the command line is ours
    "KIVY_NO_CONFIG": "1",
    "KIVY_NO_FILELOG": "1",
    "KIVY_LOG_MODE": "PYTHON",  # stderr and logging stay ours
}

#: On a desktop the window is upright like a phone's, and fits on a small screen. A phone gives its own size.
_DESKTOP_SIZE = (400, 760)

#: Multitouch devices, and the X selection that a middle click pastes.
_OPTIONAL = ("MTDev is not supported", "Cutbuffer provider")

_prepared: list[bool] = []


def has_display() -> bool:
    """Whether there is a screen to open a window on."""
    if not sys.platform.startswith("linux") or "ANDROID_ARGUMENT" in os.environ:
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def prepare(offscreen: bool = False, smooth: bool = False, size: tuple[int, int] = OFFSCREEN_SIZE) -> bool:
    """Set the environment and Kivy's configuration; answers whether Kivy will draw offscreen.

    Offscreen is used when asked for, when there is no display, or when SDL_VIDEODRIVER already says so. There,
    `size` is the largest that can be drawn, and `smooth` edges cost software rendering twice to four times the time.
    """
    if _prepared:
        return _prepared[0]
    for name, value in _ALWAYS.items():
        os.environ.setdefault(name, value)
    if offscreen or (not has_display() and "SDL_VIDEODRIVER" not in os.environ):
        os.environ["SDL_VIDEODRIVER"] = "offscreen"
    unseen = os.environ.get("SDL_VIDEODRIVER") == "offscreen"
    if unseen:
        _keep_out_of_home()
    logging.getLogger("kivy").addFilter(_worth_telling)
    _configure()
    if unseen:
        _configure_offscreen(smooth, size)
    _prepared.append(unseen)
    return unseen


def _keep_out_of_home() -> None:
    """Kivy copies its icons into its home; offscreen that home is a folder that goes again."""
    if "KIVY_HOME" not in os.environ:
        home = tempfile.mkdtemp(prefix="countback-kivy-")
        os.environ["KIVY_HOME"] = home
        atexit.register(shutil.rmtree, home, ignore_errors=True)


def _worth_telling(record: logging.LogRecord) -> bool:
    """Drop Kivy's tracebacks about optional desktop helpers that are not installed and not needed."""
    return not any(helper in str(record.msg) for helper in _OPTIONAL)


def _configure() -> None:
    from kivy.config import Config

    Config.set("kivy", "exit_on_escape", "0")  # the phone's back key goes to the screens
    Config.set("input", "mouse", "mouse,disable_multitouch")
    Config.set("graphics", "width", str(_DESKTOP_SIZE[0]))
    Config.set("graphics", "height", str(_DESKTOP_SIZE[1]))


def _configure_offscreen(smooth: bool, size: tuple[int, int]) -> None:
    from kivy.config import Config

    Config.remove_option("input", "%(name)s")  # no input devices to probe
    Config.set("graphics", "maxfps", "0")  # no waiting for a screen that is not there
    Config.set("graphics", "multisamples", "4" if smooth else "0")
    Config.set("graphics", "width", str(size[0]))
    Config.set("graphics", "height", str(size[1]))
