"""The keys about a picture that is looked at closely: the one before, the next one, closer, farther."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.metrics import mm

from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.widgets.plate import QuietButton
from mobileapp.widgets.zoom_view import MOST, ZoomView

STEP = 1.6


class ZoomKeys:
    """Closer is the screen's act, farther stands in its corner; `turn` is given 1 or -1."""

    def __init__(self, screen: BaseScreen, view: ZoomView, turn: Callable[[int], object]) -> None:
        self._screen, self._view = screen, view
        self.previous, self.next = _turning("Previous", -1, turn), _turning("Next", 1, turn)
        self._further = QuietButton(text="−", note="farther", upright=True, text_size_sp=look.FIGURE)
        self._further.size_hint, self._further.width = (None, None), mm(look.KEY_MM)
        self._further.bind(on_tap=lambda _: view.zoom_by(1 / STEP))
        screen.corner.add_widget(self._further)
        view.bind(zoom=lambda *_: self._say(), on_flick=lambda _, by: self._flicked(by, turn))
        self._say()

    def say_place(self, at: int, of: int) -> None:
        """Which of how many is shown."""
        self.previous.disabled, self.next.disabled = at == 0, at == of - 1

    def closer(self) -> None:
        """A step nearer."""
        self._view.zoom_by(STEP)

    def _flicked(self, by: int, turn: Callable[[int], object]) -> None:
        if not (self.next if by > 0 else self.previous).disabled:
            turn(by)

    def _say(self) -> None:
        screen = self._screen
        screen.act_text, screen.act_shape, screen.act_tone = "+  closer", "", "bone"
        screen.act_note = f"{self._view.zoom:.1f} x"
        screen.act_ready = self._view.zoom < MOST
        self._further.disabled = self._view.zoom <= 1.0


def _turning(text: str, by: int, turn: Callable[[int], object]) -> Any:
    key = QuietButton(text=text, upright=True, most=look.TIGHT_MOST)
    key.bind(on_tap=lambda _: turn(by))
    return key
