"""A scrolling place whose bar is our own and which lets a slow gloved drag win over a press."""

from __future__ import annotations

from typing import Any

from kivy.effects.scroll import ScrollEffect
from kivy.metrics import mm
from kivy.properties import BooleanProperty
from kivy.uix.scrollview import ScrollView

from mobileapp.widgets.rules import load_rules


class Scroll(ScrollView):
    """Scrolls upright only, stops dead at its ends, and shows a bar whenever there is more than fits."""

    overfull = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("effect_cls", ScrollEffect)
        kwargs.setdefault("do_scroll_x", False)
        kwargs.setdefault("scroll_timeout", 250)
        kwargs.setdefault("scroll_distance", mm(2.5))
        super().__init__(**kwargs)


load_rules(__file__)
