"""Hands, light, eyes: sizes, distances, contrast and clipping, measured on rendered screens."""

from __future__ import annotations

from typing import Any

import pytest
from screens import touch
from screens.phones import on_phones
from widgets.samples import SAMPLES

PHONES = {"density 1": (1.0, 65, 131), "density 2": (2.0, 65, 131), "narrow phone": (2.0, 57.2, 101)}


@pytest.fixture(params=SAMPLES)
def sample(request: pytest.FixtureRequest) -> Any:
    """Each sample screen, not yet made."""
    return SAMPLES[request.param]


@pytest.fixture(params=on_phones("narrow phone", PHONES))
def glass(request: pytest.FixtureRequest, kivy_window: Any) -> tuple[float, float, float]:
    """Each phone, as density, width and height in mm."""
    return PHONES[request.param]


@pytest.mark.parametrize("font_scale", [1.0, 1.5])
def test_every_part_suits_a_glove_and_every_text_its_place_and_the_light(
    sample: Any, glass: Any, font_scale: float
) -> None:
    """20 mm at least, 6 mm apart, 13 mm around what takes back a count; nothing clipped or broken; seven to one."""
    density, wide, high = glass
    touch.phone(density, font_scale, wide, high)
    root = touch.show(sample())
    assert touch.measure_targets(root)
    assert touch.texts(root)
    assert touch.faults(root) == []
    for label in touch.labels(root):
        touch.bring_into_view(label)
        assert touch.in_view(label), label.text


def test_pressed_and_unready_keys_are_read_as_well(kivy_window: Any) -> None:
    """The face changes when pressed and goes when unready; the words stay above 7:1."""
    touch.phone(density=2.0)
    root = touch.show(SAMPLES["board"]())
    key = touch.find(root, text="Count the last 3 manifold bolts back")
    label = touch.find_all(root, text=key.text)[-1]
    finger = touch.Finger(*touch.spot_of(key)).down()
    touch.settle(2)
    assert touch.text_contrast(label, touch.shot()) >= 7
    finger.up()
    root.act_ready = False
    touch.settle(2)
    assert touch.text_contrast(label, touch.shot()) >= 7


def test_a_body_keeps_room_for_a_row(sample: Any, glass: Any) -> None:
    """However long the words of the next act, at font scale 1.5 there is still a row's height to scroll in."""
    density, wide, high = glass
    touch.phone(density, 1.5, wide, high)
    root = touch.show(sample())
    assert root.scroll.height / touch.mm(1) >= 20
