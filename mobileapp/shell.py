"""The root of the window: one screen at a time, made anew from its name and arguments."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from kivy.uix.floatlayout import FloatLayout

from mobileapp.desk import Desk
from mobileapp.screens.base import BaseScreen


def screen_class(name: str) -> type[BaseScreen]:
    """The screen of that name: `mobileapp/screens/<name>.py`, class `<Name>Screen`. Imported when first shown."""
    module = import_module(f"mobileapp.screens.{name}")
    found: type[BaseScreen] = getattr(module, "".join(word.capitalize() for word in name.split("_")) + "Screen")
    return found


class Shell(FloatLayout):
    """Shows what the desk says. The phone's back key does what the way back on the screen does."""

    def __init__(self, desk: Desk, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.desk = desk
        self.screen: BaseScreen | None = None
        desk.shown_by(self.show)

    def show(self, name: str, args: dict[str, Any]) -> None:
        """Put a screen in the place of the present one."""
        screen = screen_class(name)(self.desk, **{key: value for key, value in args.items() if key != "draft"})
        if self.screen is not None:
            self.screen.leave()
        self.clear_widgets()
        self.screen = screen
        self.add_widget(screen)

    def on_key(self, window: object, key: int, *rest: object) -> bool:
        """Key 27 is the phone's back key: one screen back. On the first one the phone has it, and leaves the app."""
        if key != 27 or len(self.desk.trail) < 2 or self.screen is None:
            return False
        self.screen.dispatch("on_back")
        return True
