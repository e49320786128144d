"""What every screen has: the frame, the desk it works on, and the running tally of the teardown in hand."""

from __future__ import annotations

from typing import Any, ClassVar

from kivy.clock import Clock

from checklists.state import tally
from mobileapp.desk import Desk
from mobileapp.widgets.frame import Frame


class BaseScreen(Frame):
    """One screen, made anew each time it is shown, from its name and plain arguments.

    A screen builds its body in `build` and brings it up to date in `refresh`; it is refreshed after every act.
    `every_second` True refreshes running clocks through `tick`.
    """

    name: ClassVar[str] = ""
    every_second: ClassVar[bool] = False

    def __init__(self, desk: Desk, **args: Any) -> None:
        super().__init__(teardown=desk.service is not None)
        self.desk = desk
        self._ticking = Clock.schedule_interval(lambda _: self.tick(), 1) if self.every_second else None
        self.build(**args)
        self.refresh()

    def build(self, **args: Any) -> None:
        """Make the body, once."""

    def refresh(self) -> None:
        """Bring everything shown up to date with the state."""
        if self.desk.service is not None:
            self.out, self.in_engine, self.missing = tally(self.desk.state)
        if self.desk.counts_blind:
            self.veiled = True

    def tick(self) -> None:
        """A second has passed."""

    def leave(self) -> None:
        """Another screen takes this one's place."""
        if self._ticking is not None:
            self._ticking.cancel()

    def on_back(self) -> None:
        """The way back: the screen before."""
        self.desk.back()

    def on_drop(self) -> None:
        """Something fell: log it at once."""
        self.desk.go("drop")
