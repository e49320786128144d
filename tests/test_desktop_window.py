"""On a desktop the app's window stands upright, as a phone does."""

import os
import subprocess
import sys

TELL = """
from mobileapp import kivy_env
kivy_env.prepare()
from kivy.config import Config
print(Config.getint("graphics", "width"), Config.getint("graphics", "height"))
"""


def test_the_window_is_upright_and_fits_on_a_small_screen() -> None:
    """768 dots high is the smallest screen of a desktop in use (common practice, no source)."""
    kept = {name: value for name, value in os.environ.items() if name != "SDL_VIDEODRIVER"}
    told = subprocess.run([sys.executable, "-c", TELL], env={**kept, "DISPLAY": ":0"}, capture_output=True, text=True)
    wide, high = map(int, told.stdout.split())
    assert wide < high <= 768
