"""Quiet keys side by side where two fit, one below the other where the letters are large."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from kivy.metrics import mm, sp
from kivy.uix.gridlayout import GridLayout

from mobileapp import look
from mobileapp.widgets.plate import QuietButton

#: Narrower than this a key's longest word would not fit.
_LEAST_SP = 104


class Key(NamedTuple):
    """One key: its word, what it leads to in figures, its shape, and what a tap does."""

    text: str
    note: str
    shape: str
    act: Callable[[], object]


class KeyGrid(GridLayout):
    """Keys in two columns, 6 mm apart; in one where two would be too narrow."""

    def __init__(self, keys: list[Key], **kwargs: Any) -> None:
        super().__init__(cols=2, spacing=mm(look.GAP_MM), size_hint_y=None, **kwargs)
        self.bind(minimum_height=self.setter("height"), width=self._fit)
        for key in keys:
            button = QuietButton(text=key.text, note=key.note, shape=key.shape, text_size_sp=look.BODY, glyph_mm=6)
            # Keys side by side are as high as the higher of them.
            button.size_hint_y = 1
            button.bind(needed=_take_room, on_tap=lambda _, act=key.act: act())
            self.add_widget(button)

    def _fit(self, *_: object) -> None:
        room = (self.width - mm(look.GAP_MM)) / 2
        self.cols = 2 if room >= sp(_LEAST_SP) + mm(3) else 1
        for key in self.children:
            key.upright = self.cols == 2


def _take_room(key: QuietButton, needed: float) -> None:
    key.size_hint_min_y = max(mm(look.KEY_MM), needed)
