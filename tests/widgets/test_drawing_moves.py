"""A drawing that is only moved is not drawn anew, and stands where it was moved to."""

from __future__ import annotations

from typing import Any

from kivy.uix.floatlayout import FloatLayout
from screens import touch

from mobileapp import look
from mobileapp.widgets.drawing import Drawing


class Block(Drawing):
    """A block as large as itself; counts how often it was drawn."""

    drawn = 0

    def draw(self) -> None:
        self.drawn += 1
        self.bar(look.YELLOW, self.x, self.y, self.width, self.height)


def yellow_at(x: int, y: int) -> bool:
    pixels = touch.shot().convert("RGB")
    red, green, blue = pixels.getpixel((x, pixels.height - 1 - y))
    return red > 180 and green > 150 and blue < 120


def test_rows_that_come_in_above_it_move_it_without_drawing_it_again(kivy_window: Any):
    ground = FloatLayout()
    block = Block(size_hint=(None, None), size=(60, 40), pos=(20, 20))
    ground.add_widget(block)
    touch.show(ground)
    assert yellow_at(50, 40)
    before = block.drawn
    block.pos = (20, 220)
    touch.settle(3)
    assert block.drawn == before
    assert yellow_at(50, 240)
    assert not yellow_at(50, 40)
    block.size = (60, 80)
    touch.settle(3)
    assert block.drawn == before + 1
    assert yellow_at(50, 290)
