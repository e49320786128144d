"""Run as a process of its own: opens a window; says when its first frame was drawn, on the clock of all processes,
and how many seconds of processor that took.

    python first_frame.py board FOLDER      Countback on the journal in FOLDER
    python first_frame.py label             a Kivy app with one label, in a window of the same kind
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))


def say_first_frame(shows):
    """Print the time of the first frame on which `shows()` holds, and leave."""
    from kivy.app import App
    from kivy.core.window import Window
    from kivy.graphics.opengl import glFinish

    def flipped(*_):
        if shows():
            glFinish()
            print(time.monotonic(), time.process_time())
            Window.unbind(on_flip=flipped)
            App.get_running_app().stop()

    Window.bind(on_flip=flipped)


def board(folder):
    from mobileapp.app import CountbackApp

    class Timed(CountbackApp):
        def on_start(self):
            say_first_frame(lambda: self.root.screen is not None and self.root.screen.title == "Bench engine")

    app = Timed(Path(folder))
    app.run()


def label():
    from mobileapp import kivy_env

    kivy_env.prepare()
    from kivy.app import App
    from kivy.uix.label import Label

    class OneLabel(App):
        def build(self):
            return Label(text="Countback")

        def on_start(self):
            say_first_frame(lambda: True)

    OneLabel().run()


if __name__ == "__main__":
    board(sys.argv[2]) if sys.argv[1] == "board" else label()
