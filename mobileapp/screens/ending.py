"""How a teardown ended, in the largest letters there are."""

from __future__ import annotations

from kivy.properties import BooleanProperty, StringProperty

from mobileapp.widgets.glyph import Glyph  # noqa: F401  (ending.kv uses it)
from mobileapp.widgets.plate import Faced
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.text import Words  # noqa: F401  (ending.kv uses it)


class Ending(Faced):
    """CLOSED, or RELEASED, NOT CLEAR: when, by whom, and what it does not mean."""

    word = StringProperty("")
    at = StringProperty("")
    remark = StringProperty("")
    closed = BooleanProperty(True)


load_rules(__file__)
