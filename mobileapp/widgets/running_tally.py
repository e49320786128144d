"""The strip that is never off screen: how many are out, in the engine, missing."""

from __future__ import annotations

from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from mobileapp.widgets.plate import Faced
from mobileapp.widgets.rules import load_rules


class TallyCell(Faced):
    """One figure with its word and shape. At zero it falls back to quiet steel."""

    count = NumericProperty(0)
    word = StringProperty("")
    shape = StringProperty("")
    warm = StringProperty("orange")
    #: Its figure is kept from a person who counts blind.
    veiled = BooleanProperty(False)


class RunningTally(BoxLayout):
    """Three figures: out and in the engine (orange), missing (yellow)."""

    out = NumericProperty(0)
    in_engine = NumericProperty(0)
    missing = NumericProperty(0)
    veiled = BooleanProperty(False)
    #: How high the strip must be for its words.
    needed = NumericProperty(0)


load_rules(__file__)
