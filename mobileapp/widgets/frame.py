"""The frame of every screen: the way back, the running tally, the body, the next act and the drop key."""

from __future__ import annotations

from typing import Any

from kivy.metrics import mm
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from mobileapp import look
from mobileapp.widgets.drop_key import DropKey  # noqa: F401  (frame.kv uses these)
from mobileapp.widgets.plate import PlateButton  # noqa: F401
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.running_tally import RunningTally  # noqa: F401
from mobileapp.widgets.scroll import Scroll  # noqa: F401
from mobileapp.widgets.text import Heading  # noqa: F401


class Frame(BoxLayout):
    """What is added to a frame goes into its body.

    Events: on_back, on_act, on_drop. `act_text` is the next act in words; empty means no act key. `scrolls` False gives
    the body exactly the room that is left (for a count pad). `teardown` False hides the tally and the drop key.
    """

    __events__ = ("on_back", "on_act", "on_drop")

    title = StringProperty("")
    back_shown = BooleanProperty(True)
    teardown = BooleanProperty(True)
    out = NumericProperty(0)
    in_engine = NumericProperty(0)
    missing = NumericProperty(0)
    #: A blind count is on: the tally stays in its place without its figures, for they would tell what to expect.
    veiled = BooleanProperty(False)
    #: False where a picture needs the tally's room.
    tally_shown = BooleanProperty(True)
    scrolls = BooleanProperty(True)
    act_text = StringProperty("")
    act_note = StringProperty("")
    act_shape = StringProperty("go")
    act_tone = OptionProperty("orange", options=list(look.TONES))
    act_ready = BooleanProperty(True)
    #: A count pad brings its own drop key in its notch.
    drop_shown = BooleanProperty(True)
    #: Whether there is height for a shape on the act key.
    roomy = BooleanProperty(True)
    #: Free of the screen's sides, in pixels; a narrow phone has less to give away.
    edge = NumericProperty(0)
    body = ObjectProperty(None)
    #: The top right corner, for one key that must stay far from the thumb.
    corner = ObjectProperty(None)
    scroll = ObjectProperty(None)

    def on_back(self) -> None:
        """The way back was tapped."""

    def on_act(self) -> None:
        """The next act was tapped."""

    def on_drop(self) -> None:
        """Something fell."""

    def add_widget(self, widget: Any, *args: Any, **kwargs: Any) -> None:
        """Into the body, once the frame's own parts are there."""
        if self.body is None:
            super().add_widget(widget, *args, **kwargs)
        else:
            self.body.add_widget(widget, *args, **kwargs)

    def edge_for(self, width: float) -> float:
        """The usual edge, or less where 13 mm would not be left between two keys of the top bar."""
        spare = width - mm(2 * look.KEY_MM + look.APART_MM)
        return max(mm(1), min(mm(look.EDGE_MM), spare / 2))

    def clear_body(self) -> None:
        """Empty the body, for building it anew."""
        self.body.clear_widgets()


load_rules(__file__)
