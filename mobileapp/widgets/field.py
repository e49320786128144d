"""A labelled place to type in. The whole plate can be tapped, not only the line of text."""

from __future__ import annotations

from typing import Any

from kivy.core.text import Label as Writing
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.textinput import TextInput

from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.text import Words, in_parts, width_drawn  # noqa: F401  (field.kv uses Words)
from mobileapp.writing import is_plain


class Entry(TextInput):
    """The text inside a field. It wraps, and Enter ends it instead of adding a line."""

    def insert_text(self, substring: str, from_undo: bool = False) -> None:
        """Add what was typed or pasted, on one line."""
        if substring == "\n":
            self.dispatch("on_text_validate")
            return
        super().insert_text(" ".join(substring.splitlines()), from_undo)

    # The two places where Kivy 2.3 draws and measures a line: in one font, letter by letter. Where a line asks for
    # more, it is drawn as a label would draw it, so that a name can be read while it is typed.

    def _create_line_label(self, text: str, hint: bool = False) -> Any:
        if is_plain(text):
            return super()._create_line_label(text, hint)
        return in_parts(text, Writing(**self._get_line_options())).texture

    def _get_text_width(self, text: str, tab_width: int, _label_cached: Any) -> float:
        if is_plain(text):
            return float(super()._get_text_width(text, tab_width, _label_cached))
        return width_drawn(text, Writing(**self._get_line_options()))


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
