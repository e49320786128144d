"""The key that logs a drop, the same on every screen of a teardown."""

from __future__ import annotations

from typing import Any

from kivy.properties import BooleanProperty

from mobileapp.widgets.plate import PlateButton
from mobileapp.widgets.rules import load_rules


class DropKey(PlateButton):
    """20 mm square, bone, a nut falling through. Not shown, it takes no room and no touch."""

    shown = BooleanProperty(True)

    def on_touch_down(self, touch: Any) -> bool:
        """Only while shown."""
        return bool(self.shown and super().on_touch_down(touch))


load_rules(__file__)
