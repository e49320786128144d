"""What Kivy must find in the environment before anything imports it."""

import atexit
import os
import shutil
import tempfile

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
