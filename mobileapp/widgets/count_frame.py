"""A whole screen for counting: the frame, a count pad below, and the key that takes one back far up in the corner."""

from __future__ import annotations

from typing import Any

from kivy.properties import BooleanProperty, NumericProperty, OptionProperty, StringProperty

from mobileapp.widgets.count_pad import CountPad
from mobileapp.widgets.frame import Frame
from mobileapp.widgets.plate import TakeBackButton
from mobileapp.widgets.rules import load_rules


class CountFrame(Frame):
    """Counts `counted` of `total` items of `line`, `direction` out or back; `blind` for a second count.

    Events: on_count (one tap, one item), on_take_back, on_drop, on_back. It never changes `counted` itself: record
    the count first, then set it. `ready` False closes the pad.
    """

    __events__ = ("on_count", "on_take_back")

    direction = OptionProperty("out", options=["out", "back"])
    line = StringProperty("")
    counted = NumericProperty(0)
    total = NumericProperty(0)
    blind = BooleanProperty(False)
    ready = BooleanProperty(True)

    def __init__(self, **kwargs: Any) -> None:
        self.pad = CountPad()
        self.take_back = TakeBackButton()
        super().__init__(**kwargs)
        self.add_widget(self.pad)
        self.corner.add_widget(self.take_back)
        self._follow()
        self.pad.bind(
            on_count=lambda _: self.dispatch("on_count"), on_drop=lambda _: self.dispatch("on_drop")
        )
        self.take_back.bind(on_tap=lambda _: self.dispatch("on_take_back"))

    def _follow(self) -> None:
        for name in ("direction", "line", "counted", "total", "blind", "ready"):
            self.fbind(name, self.pad.setter(name))
            setattr(self.pad, name, getattr(self, name))
        self.fbind("teardown", self.pad.setter("drop_shown"))
        self.pad.drop_shown = self.teardown
        self.fbind("counted", self._something_to_take_back)
        self._something_to_take_back()

    def _something_to_take_back(self, *_: object) -> None:
        self.take_back.disabled = self.counted < 1

    def on_count(self) -> None:
        """One item was tapped."""

    def on_take_back(self) -> None:
        """The last one is to be taken back."""


load_rules(__file__)
