"""Draws bars, strokes, rings and solid shapes on a unit square laid over a place on a canvas."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, pi, sin
from typing import Any

from kivy.graphics import Color, Ellipse, Line, Mesh, Rectangle

Point = tuple[float, float]


class Pen:
    """Draws in one colour; coordinates and thickness are shares of `size`, from the bottom left."""

    def __init__(self, canvas: Any, x: float, y: float, size: float, shade: tuple[float, ...]) -> None:
        self._canvas = canvas
        self._x, self._y, self._size = x, y, size
        canvas.add(Color(*shade))

    def bar(self, x: float, y: float, width: float, height: float) -> None:
        """A solid upright rectangle."""
        size = self._size
        self._canvas.add(
            Rectangle(pos=(self._x + x * size, self._y + y * size), size=(width * size, height * size))
        )

    def open_bar(self, x: float, y: float, width: float, height: float, thick: float = 0.07) -> None:
        """The outline of a rectangle, drawn inside its edge."""
        half = thick / 2
        left, low, right, high = x + half, y + half, x + width - half, y + height - half
        self.stroke([(left, low), (right, low), (right, high), (left, high), (left, low)], thick, "square")

    def stroke(self, points: Iterable[Point], thick: float = 0.09, cap: str = "square") -> None:
        """A line through points."""
        flat = [n for x, y in points for n in (self._x + x * self._size, self._y + y * self._size)]
        self._canvas.add(Line(points=flat, width=thick * self._size / 2, cap=cap, joint="miter"))

    def disc(self, x: float, y: float, radius: float) -> None:
        """A solid circle."""
        size = self._size
        corner = (self._x + (x - radius) * size, self._y + (y - radius) * size)
        self._canvas.add(Ellipse(pos=corner, size=(2 * radius * size, 2 * radius * size), segments=40))

    def ring(self, x: float, y: float, radius: float, thick: float = 0.1) -> None:
        """An open circle; `radius` is to the middle of the line."""
        size = self._size
        circle = (self._x + x * size, self._y + y * size, radius * size)
        self._canvas.add(Line(circle=circle, width=thick * size / 2, close=True))

    def arc(self, x: float, y: float, radius: float, start: float, end: float, thick: float = 0.1) -> None:
        """Part of a circle, degrees counted anticlockwise from the right."""
        steps = max(8, int(abs(end - start) / 9))
        turns = [(start + (end - start) * step / steps) * pi / 180 for step in range(steps + 1)]
        self.stroke([(x + radius * cos(turn), y + radius * sin(turn)) for turn in turns], thick, "none")

    def solid(self, points: list[Point]) -> None:
        """A filled convex shape."""
        vertices = [
            n for x, y in points for n in (self._x + x * self._size, self._y + y * self._size, 0.0, 0.0)
        ]
        self._canvas.add(Mesh(vertices=vertices, indices=list(range(len(points))), mode="triangle_fan"))
