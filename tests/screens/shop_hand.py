"""A hand for the workshop's screens: types over fields, and waits for what is worked out aside."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from screens import touch
from screens.photo_work import PhotoWork

from checklists.sheet import Sheet
from mobileapp.screens.aside import finish


class AtTheBench(PhotoWork):
    """A phone with a teardown in hand; `put_down` leaves it, so that the tools are used alone."""

    def __init__(self, folder: Path, sheet: Sheet | None = None) -> None:
        super().__init__(folder, sheet)
        self.go("board")

    def put_down(self) -> None:
        """No teardown in hand."""
        self.desk.to_teardowns()
        touch.settle()

    def opens(self, name: str, **args: Any) -> None:
        """A tool, reached from the workshop."""
        self.desk.trail = [("teardowns", {}), ("workshop", {}), (name, args)]
        self.desk.again()
        touch.show(self.shell)
        self.waits()

    def waits(self) -> None:
        """Until what is worked out aside is there, and shown; and what that began in its turn."""
        for _ in range(2):
            finish()
            touch.settle()

    def fills(self, **fields: str) -> None:
        """Type into fields by their names on the screen."""
        for name, text in fields.items():
            self.types(name.replace("_", " "), text)
