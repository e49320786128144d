"""Star orders of rings against the published legacy pattern, and centre-outwards work as the trade does it."""

from math import cos, radians, sin

import pytest

from checklists.workshop.tightening import tightening_order

#: ASME PCC-1, legacy cross pattern; sequences from memory.
PCC_1 = {
    4: "1-3-2-4",
    8: "1-5-3-7-2-6-4-8",
    12: "1-7-4-10-2-8-5-11-3-9-6-12",
}


def ring(count: int, first: float = 0.0) -> list[tuple[float, float]]:
    """Bolts on a circle of 50 mm, clockwise, the first so many degrees from the top."""
    turns = [radians(first + 360 * i / count) for i in range(count)]
    return [(50 * sin(turn), 50 * cos(turn)) for turn in turns]


@pytest.mark.parametrize("count", PCC_1)
def test_star_orders_are_the_published_ones(count: int):
    order = tightening_order(ring(count))
    assert "-".join(map(str, order.order)) == PCC_1[count]
    assert order.ring


@pytest.mark.parametrize("count", PCC_1)
def test_a_flange_photographed_askew_keeps_its_star(count: int):
    """Common practice, no source: nobody holds the camera straight. 5 % of foreshortening, a few pixels of finger."""
    wobble = [((i * 7919) % 5 - 2) * 0.4 for i in range(2 * count)]
    seen = [(x * 0.95 + wobble[i], -y + wobble[-i - 1]) for i, (x, y) in enumerate(ring(count, 0.5))]
    order = tightening_order(seen, y_down=True)
    assert "-".join(map(str, order.order)) == PCC_1[count]


def test_common_practice_ten_quarter_inch_bolts_on_a_cover():
    """Common practice, no source: a cover with ten 1/4 in bolts in two rows goes from the middle to the ends."""
    two_rows = [(x, y) for y in (0.0, 120.0) for x in (0.0, 100.0, 200.0, 300.0, 400.0)]
    order = tightening_order(two_rows)
    at = {number: two_rows[i] for i, number in enumerate(order.numbers)}
    out = [abs(at[number][0] - 200) for number in order.order]
    assert out == [0, 0, 100, 100, 100, 100, 200, 200, 200, 200]
    for one, other in zip(order.order[::2], order.order[1::2], strict=True):
        assert (at[one][0] + at[other][0], at[one][1] + at[other][1]) == (400, 120), "diagonally opposite"


def test_common_practice_a_long_flange_from_its_middle_outwards():
    """Common practice, no source: one long row is tightened centre first, then out to either side in turn."""
    order = tightening_order([(100.0 * i, 0.0) for i in range(7)])
    assert order.numbers == (1, 2, 3, 4, 5, 6, 7)
    assert order.order == (4, 3, 5, 2, 6, 1, 7)
