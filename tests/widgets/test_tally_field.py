"""The tally: as many strokes as items, struck when back, all inside the field however many there are."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from screens import touch

from kivy.graphics import Line, Rectangle  # isort: skip

from mobileapp import look
from mobileapp.widgets import tally_marks
from mobileapp.widgets.tally_field import TallyField


def drawn(field: TallyField) -> dict[str, int]:
    """How many instructions of each kind the field has drawn."""
    shapes = (Line, Rectangle)
    return {
        kind: sum(isinstance(mark, shapes) for mark in field._marks.get_group(kind))
        for kind in ("open", "struck", "strike", "stub")
    }


@pytest.mark.parametrize(("out", "back"), [(0, 0), (1, 0), (5, 5), (13, 7), (40, 39), (200, 123), (200, 200)])
def test_strokes_drawn_are_the_items(kivy_window: Any, out: int, back: int) -> None:
    field = touch.show(TallyField(out=out, back=back, size_hint_y=0.2))
    assert drawn(field) == {"open": out - back, "struck": back, "strike": back, "stub": 0}


def test_a_count_back_strikes_one_more(kivy_window: Any) -> None:
    field = touch.show(TallyField(out=10, back=6, size_hint_y=0.2))
    field.back = 7
    touch.settle(2)
    assert drawn(field) == {"open": 3, "struck": 7, "strike": 7, "stub": 0}


def test_no_more_is_struck_than_is_out(kivy_window: Any) -> None:
    field = touch.show(TallyField(out=4, back=6, size_hint_y=0.2))
    assert drawn(field)["struck"] == 4


def test_what_is_to_come_is_a_stub(kivy_window: Any) -> None:
    field = touch.show(TallyField(out=4, to_come=6, size_hint_y=0.2))
    assert drawn(field) == {"open": 4, "struck": 0, "strike": 0, "stub": 6}


@pytest.mark.parametrize(("out", "back"), [(10, 0), (13, 0), (23, 0)])
def test_the_eye_can_count_the_open_strokes(kivy_window: Any, out: int, back: int) -> None:
    """Counted from the pixels: along the foot of each row, every open stroke is one run of orange."""
    touch.phone(density=2.0)
    field = touch.show(TallyField(out=out, back=back, size_hint_y=0.2))
    image = touch.shot()
    feet = {round(place.y + 1) for place in places_of(field)}
    assert sum(runs_of(image, image.height - 1 - foot, look.ORANGE) for foot in feet) == out


def test_the_eye_can_tell_struck_from_open(kivy_window: Any) -> None:
    touch.phone(density=2.0)
    field = touch.show(TallyField(out=10, back=4, size_hint_y=0.2))
    image = touch.shot()
    foot = image.height - 1 - round(places_of(field)[0].y + 1)
    assert runs_of(image, foot, look.SKY) == 4
    assert runs_of(image, foot, look.ORANGE) == 6


@pytest.mark.parametrize("count", range(1, 201))
def test_every_stroke_is_inside_the_field_and_apart_from_the_next(count: int) -> None:
    places = tally_marks.strokes(count, 10, 20, 360, 88, 22)
    assert len(places) == len({(place.x, place.y) for place in places}) == count
    for place in places:
        assert place.width > 1
        assert place.x >= 10
        assert place.x + place.width <= 370.01
        assert place.y >= 19.99
        assert place.y + place.height <= 108.01
    for one, other in pairwise(places):
        assert other.y < one.y or other.x >= one.x + one.width * 1.9


def test_five_make_a_group_and_each_bar_is_struck_by_itself() -> None:
    """One line through four bars is everybody's five: a fresh pair of eyes read it so."""
    places = tally_marks.strokes(7, 0, 0, 400, 80, 20)
    gaps = [right.x - left.x for left, right in pairwise(places)]
    assert gaps[4] > gaps[3] == pytest.approx(gaps[0])
    for place in places:
        assert place.strike[0] < place.x < place.x + place.width < place.strike[2]
    for left, right in pairwise(places):
        assert left.strike[2] < right.strike[0]


def places_of(field: TallyField) -> list[tally_marks.Stroke]:
    """Where the field's strokes are in the window."""
    count = int(field.out + field.to_come)
    return tally_marks.strokes(count, field.x, field.y, field.width, field.height, touch.mm(3.6))


def runs_of(image: Any, row: int, shade: look.Colour) -> int:
    """How many separate runs of a colour a row of pixels has."""
    wanted = [round(part * 255) for part in shade[:3]]
    seen = [
        all(abs(part - want) < 40 for part, want in zip(image.getpixel((x, row)), wanted, strict=True))
        for x in range(image.width)
    ]
    return sum(now and not before for before, now in zip([False, *seen], seen, strict=False))
