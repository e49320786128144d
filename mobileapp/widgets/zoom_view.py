"""A picture to look at closely: dragged with one finger, pinched with two, or zoomed by keys from outside.

A whole picture has nothing to drag: drawn aside with one finger it asks for the next one, or the one before.
"""

from __future__ import annotations

from math import dist
from typing import Any

from kivy.graphics import Color, Rectangle
from kivy.properties import ListProperty, NumericProperty, ObjectProperty
from kivy.uix.stencilview import StencilView

from mobileapp import look

MOST = 8.0
#: So much of the width has a finger to go, from side to side, to ask for another picture.
_FLICK = 0.2


class ZoomView(StencilView):
    """Shows `texture` whole at zoom 1. `centre` is the spot of it in the middle, as shares from its bottom left."""

    texture = ObjectProperty(None, allownone=True)
    zoom = NumericProperty(1.0)
    centre = ListProperty([0.5, 0.5])

    def __init__(self, **kwargs: Any) -> None:
        self.register_event_type("on_flick")
        super().__init__(**kwargs)
        #: Where the fingers are, in this widget's own place: a contact keeps its spot in the window's.
        self._fingers: dict[Any, tuple[float, float]] = {}
        with self.canvas:
            self._ink = Color(*look.STEEL)
            self._shown = Rectangle()
        for name in ("pos", "size", "texture", "zoom", "centre"):
            self.fbind(name, self._place)

    # --- how large it is, and where

    @property
    def fitted(self) -> tuple[float, float]:
        """Width and height of the picture at zoom 1."""
        wide, high = self.texture.size if self.texture else (4, 3)
        scale = min(self.width / wide, self.height / high)
        return wide * scale, high * scale

    def zoom_by(self, factor: float, at: tuple[float, float] | None = None) -> None:
        """Zoom in or out; what is `at` (a spot in the window of this widget) stays where it is, if it can."""
        before = self.zoom
        after = min(MOST, max(1.0, before * factor))
        spot = at or self.center
        wide, high = self.fitted
        x = self.centre[0] + (spot[0] - self.center_x) / wide * (1 / before - 1 / after)
        y = self.centre[1] + (spot[1] - self.center_y) / high * (1 / before - 1 / after)
        self.zoom = after
        self._look_at(x, y)

    def show(self, texture: Any) -> None:
        """Another picture, as near and at the same spot as far as its own edges allow."""
        self.texture = texture
        self._look_at(*self.centre)

    def _look_at(self, x: float, y: float) -> None:
        """Bring that spot of the picture to the middle, as far as its edges allow."""
        wide, high = self.fitted
        self.centre = [self._kept(x, wide, self.width), self._kept(y, high, self.height)]

    def _kept(self, share: float, fitted: float, room: float) -> float:
        half = min(0.5, room / (2 * fitted * self.zoom)) if fitted > 0 else 0.5
        return min(1 - half, max(half, share))

    def _place(self, *_: object) -> None:
        wide, high = (side * self.zoom for side in self.fitted)
        self._ink.rgba = (1, 1, 1, 1) if self.texture else look.STEEL
        self._shown.texture = self.texture
        self._shown.size = wide, high
        self._shown.pos = self.center_x - self.centre[0] * wide, self.center_y - self.centre[1] * high

    # --- the fingers

    def on_touch_down(self, touch: Any) -> bool:
        """Take hold of the picture: the first two fingers do."""
        if not self.collide_point(*touch.pos):
            return False
        if getattr(touch, "is_mouse_scrolling", False):
            self.zoom_by(1.25 if touch.button == "scrolldown" else 0.8, touch.pos)
            return True
        if len(self._fingers) < 2:
            touch.grab(self)
            self._fingers[touch] = touch.pos
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Drag with one, pinch with two."""
        if touch.grab_current is not self or touch not in self._fingers:
            return False
        was, self._fingers[touch] = self._fingers[touch], touch.pos
        other = next((spot for finger, spot in self._fingers.items() if finger is not touch), None)
        if other is None:
            wide, high = (side * self.zoom for side in self.fitted)
            self._look_at(
                self.centre[0] - (touch.x - was[0]) / wide, self.centre[1] - (touch.y - was[1]) / high
            )
        elif dist(was, other) > 1:
            between = (touch.x + other[0]) / 2, (touch.y + other[1]) / 2
            self.zoom_by(dist(touch.pos, other) / dist(was, other), between)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Let go."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._fingers.pop(touch, None)
        across = touch.x - touch.ox
        if self.zoom <= 1.0 and not self._fingers and abs(across) > max(_FLICK * self.width, abs(touch.y - touch.oy)):
            self.dispatch("on_flick", -1 if across > 0 else 1)
        return True

    def on_flick(self, by: int) -> None:
        """Another picture is asked for: the next (1) or the one before (-1)."""
