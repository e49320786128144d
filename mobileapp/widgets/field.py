"""A labelled place to type in. The whole plate can be tapped, not only the line of text."""

from __future__ import annotations

from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.textinput import TextInput

from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.text import Words  # noqa: F401  (field.kv uses it)


class Entry(TextInput):
    """The text inside a field. It wraps, and Enter ends it instead of adding a line."""

    def insert_text(self, substring: str, from_undo: bool = False) -> None:
        """Add what was typed or pasted, on one line."""
        if substring == "\n":
            self.dispatch("on_text_validate")
            return
        super().insert_text(" ".join(substring.splitlines()), from_undo)


class Field(BoxLayout):
    """`label` says what to type, `text` is what was typed, `hint` an example, which stands apart from where the
    typing goes, so that it is never taken for an answer, and goes when there is one. `figures` takes digits only.

    Dispatches on_enter when the keyboard's enter key is pressed.
    """

    __events__ = ("on_enter",)

    label = StringProperty("")
    text = StringProperty("")
    hint = StringProperty("")
    figures = BooleanProperty(False)
    typing = BooleanProperty(False)
    entry = ObjectProperty(None)

    def on_enter(self) -> None:
        """Enter was pressed."""

    def example(self, hint: str, text: str) -> str:
        """The example in words, while nothing is typed."""
        return f"such as {hint}" if hint and not text else ""

    def on_touch_down(self, touch: Any) -> bool:
        """A tap anywhere on the plate starts typing."""
        if super().on_touch_down(touch):
            return True
        if self.disabled or not self.collide_point(*touch.pos):
            return False
        touch.ud["countback.field"] = self
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """The keyboard opens as the finger lifts, so that scrolling past a field does not open it."""
        if touch.ud.get("countback.field") is self and self.collide_point(*touch.pos):
            self.entry.focus = True
            return True
        return bool(super().on_touch_up(touch))


load_rules(__file__)
