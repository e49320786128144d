"""The count: one tap one item, the figure only ever shows what its owner recorded, taking back kept apart."""

from __future__ import annotations

from typing import Any

import pytest
from screens import touch

from mobileapp.widgets.count_frame import CountFrame
from mobileapp.widgets.count_pad import TapArea
from mobileapp.widgets.text import FitFigure


class Bench:
    """Stands in for whoever records: counts what the screen asks for, and refuses when told to."""

    def __init__(self, screen: CountFrame) -> None:
        self.screen, self.refusing, self.drops, self.left = screen, False, 0, 0
        screen.bind(on_count=self.count, on_take_back=self.take_back, on_drop=self.drop, on_back=self.leave)

    def count(self, *_: object) -> None:
        self.screen.counted += not self.refusing

    def take_back(self, *_: object) -> None:
        self.screen.counted -= 1

    def drop(self, *_: object) -> None:
        self.drops += 1

    def leave(self, *_: object) -> None:
        self.left += 1


@pytest.fixture
def screen(kivy_window: Any) -> CountFrame:
    return touch.show(CountFrame(title="Count back", direction="back", line="Manifold bolt", counted=0, total=10))


@pytest.fixture
def bench(screen: CountFrame) -> Bench:
    return Bench(screen)


def pad_of(screen: CountFrame) -> TapArea:
    return touch.find(screen, cls=TapArea)


def test_one_tap_counts_one(screen: CountFrame, bench: Bench) -> None:
    touch.tap(pad_of(screen))
    assert touch.texts(screen.pad) == ["Manifold bolt", "1", "of 10 back", "Log a drop"]


def test_ten_fast_taps_count_ten(screen: CountFrame, bench: Bench) -> None:
    for _ in range(10):
        touch.tap(pad_of(screen), frames=1)
    assert screen.counted == 10


def test_the_count_happens_as_the_finger_lands(screen: CountFrame, bench: Bench) -> None:
    finger = touch.Finger(*touch.spot_of(pad_of(screen))).down()
    assert screen.counted == 1
    finger.up()
    assert screen.counted == 1


def test_what_was_not_recorded_is_not_shown(screen: CountFrame, bench: Bench) -> None:
    """An eleventh bolt where ten came off: the rules refuse, the figure stays."""
    bench.refusing = True
    touch.tap(pad_of(screen))
    assert "0" in touch.texts(screen.pad)


def test_every_corner_of_the_pad_counts(screen: CountFrame, bench: Bench) -> None:
    boxes = touch.boxes_of(pad_of(screen))
    corners = [(x, y) for left, low, right, high in boxes for x in (left + 2, right - 2) for y in (low + 2, high - 2)]
    for x, y in corners:
        touch.Finger(x, y).down().up()
    assert screen.counted == len(corners) == 8


def test_the_drop_key_in_the_notch_logs_a_drop_and_counts_nothing(screen: CountFrame, bench: Bench) -> None:
    touch.tap(touch.find(screen, text="Log a drop"))
    assert (bench.drops, screen.counted) == (1, 0)


def test_the_gap_around_the_drop_key_does_nothing(screen: CountFrame, bench: Bench) -> None:
    left, low, right, high = touch.box_of(touch.find(screen, text="Log a drop"))
    for x, y in ((right + touch.mm(3), low + 5), (left + 5, high + touch.mm(3))):
        touch.Finger(x, y).down().up()
    assert (bench.drops, screen.counted) == (0, 0)


def test_taking_back_is_its_own_key_far_away(screen: CountFrame, bench: Bench) -> None:
    touch.tap(pad_of(screen))
    touch.tap(pad_of(screen))
    touch.tap(touch.find(screen, text="Take back"))
    assert screen.counted == 1
    apart = [pair for pair in touch.spacings(touch.measure_targets(screen)) if "Take back" in pair[:2]]
    assert len(apart) == 3
    assert all(pair.apart_mm >= 13 for pair in apart), apart


def test_nothing_counted_is_nothing_to_take_back(screen: CountFrame, bench: Bench) -> None:
    touch.tap(touch.find(screen, text="Take back"))
    assert screen.counted == 0


def test_a_closed_pad_counts_nothing(screen: CountFrame, bench: Bench) -> None:
    screen.ready = False
    touch.tap(pad_of(screen))
    assert screen.counted == 0


def test_the_pad_fills_the_lower_half(screen: CountFrame) -> None:
    assert pad_of(screen).height >= touch.EventLoop.window.height / 2


def test_a_blind_count_shows_neither_the_total_nor_what_is_out(kivy_window: Any) -> None:
    screen = touch.show(CountFrame(title="Second count", line="Rags", counted=3, total=9, blind=True, teardown=False))
    assert not any("9" in text for text in touch.texts(screen))
    field = touch.find(screen, cls=touch.TallyField)
    assert (field.out, field.back, field.to_come) == (3, 0, 0)


def test_counting_out_shows_what_is_still_to_come(kivy_window: Any) -> None:
    screen = touch.show(CountFrame(title="Count out", direction="out", line="Bolts", counted=4, total=10))
    field = touch.find(screen, cls=touch.TallyField)
    assert (field.out, field.back, field.to_come) == (4, 0, 6)
    assert "of 10 out" in touch.texts(screen)


@pytest.mark.parametrize("high_mm", [131, 114])
@pytest.mark.parametrize("counted", [0, 8])
def test_the_figure_is_no_speck_with_large_letters(kivy_window: Any, counted: int, high_mm: float) -> None:
    touch.phone(density=2.0, font_scale=1.5, wide_mm=57, high_mm=high_mm)
    screen = CountFrame(title="Count again", line="Breather plug over the breather stub", counted=counted, total=8)
    screen.pad.drop_shown, screen.act_text, screen.act_note = False, "None here", "compare with the tally"
    touch.show(screen)
    figure = touch.find(screen, cls=FitFigure)
    assert figure.font_size >= touch.mm(8)
