"""One contact is one tap: fast ones, sliding ones, resting ones."""

from __future__ import annotations

from typing import Any

import pytest
from screens import touch

from mobileapp.widgets.frame import Frame
from mobileapp.widgets.plate import PlateButton, QuietButton


class Heard(list[str]):
    """Remembers what was dispatched."""

    def listen(self, widget: Any, event: str) -> None:
        widget.bind(**{event: lambda *_: self.append(event)})


@pytest.fixture
def heard() -> Heard:
    return Heard()


@pytest.fixture
def key(kivy_window: Any, heard: Heard) -> PlateButton:
    """A key in the middle of an otherwise empty screen."""
    made = PlateButton(text="Lift it", pos_hint={"center_x": 0.5, "center_y": 0.5}, size_hint_x=0.6)
    heard.listen(made, "on_tap")
    return touch.show(made)


def test_one_touch_is_one_tap(key: PlateButton, heard: Heard) -> None:
    touch.tap(key)
    assert heard == ["on_tap"]


def test_two_quick_touches_are_two_taps(key: PlateButton, heard: Heard) -> None:
    touch.tap(key, frames=1)
    touch.tap(key, frames=1)
    assert heard == ["on_tap", "on_tap"]


def test_sliding_off_takes_the_tap_back(key: PlateButton, heard: Heard) -> None:
    x, y = touch.spot_of(key)
    finger = touch.Finger(x, y).down()
    assert key.pressed
    finger.move(x, y + touch.mm(30))
    assert not key.pressed
    finger.up()
    touch.settle()
    assert heard == []


def test_a_glove_that_rolls_a_little_still_taps(key: PlateButton, heard: Heard) -> None:
    x, y = touch.spot_of(key)
    touch.Finger(x, y).down().move(x, y + key.height / 2 + touch.mm(3)).up()
    assert heard == ["on_tap"]


def test_a_resting_palm_is_not_a_second_tap(key: PlateButton, heard: Heard) -> None:
    x, y = touch.spot_of(key)
    palm = touch.Finger(x, y).down()
    touch.Finger(x + 5, y).down().up()
    palm.up()
    assert heard == ["on_tap"]


def test_a_contact_that_never_ended_does_not_block_the_key(key: PlateButton, heard: Heard) -> None:
    """The phone went to sleep under the finger."""
    touch.Finger(*touch.spot_of(key)).down()
    touch.settle(150)
    touch.tap(key)
    assert heard == ["on_tap"]


def test_an_unready_key_does_nothing(key: PlateButton, heard: Heard) -> None:
    key.disabled = True
    touch.tap(key)
    assert heard == []


def test_a_slow_drag_over_keys_scrolls_and_taps_nothing(kivy_window: Any, heard: Heard) -> None:
    """A gloved drag starts slowly; it must not press what it starts on."""
    frame = Frame(title="Closures")
    keys = [QuietButton(text=f"Closure {number}") for number in range(8)]
    for each in keys:
        heard.listen(each, "on_tap")
        frame.add_widget(each)
    touch.show(frame)
    x, y = touch.spot_of(keys[1])
    finger = touch.Finger(x, y).down()
    for step in range(1, 40):
        touch.settle(1)
        finger.move(x, y + step * touch.mm(0.5))
    finger.up()
    touch.settle()
    assert frame.scroll.scroll_y < 1
    assert heard == []


def test_a_tap_in_a_scrolling_body_is_one_tap(kivy_window: Any, heard: Heard) -> None:
    frame = Frame(title="Closures")
    keys = [QuietButton(text=f"Closure {number}") for number in range(8)]
    for each in keys:
        heard.listen(each, "on_tap")
        frame.add_widget(each)
    touch.show(frame)
    touch.tap(keys[7])
    touch.tap(keys[7])
    assert heard == ["on_tap", "on_tap"]


def test_rows_scrolled_out_of_sight_are_not_hit_through_the_foot(kivy_window: Any, heard: Heard) -> None:
    """The drop key lies over where a long body goes on; only the drop key answers there."""
    frame = Frame(title="Closures")
    heard.listen(frame, "on_drop")
    for number in range(8):
        row = QuietButton(text=f"Closure {number}")
        heard.listen(row, "on_tap")
        frame.add_widget(row)
    touch.show(frame)
    touch.tap(touch.find(frame, text="Log a drop"))
    assert heard == ["on_drop"]
