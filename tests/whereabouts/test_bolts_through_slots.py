"""A bolt worked through a slot, head on its edge and then the shank: by a search over every position and tilt."""

from __future__ import annotations

from collections import deque
from decimal import Decimal
from math import cos, hypot, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.sheet import Shape
from checklists.whereabouts.items import ItemShape, parts
from checklists.whereabouts.passing import CANNOT_PASS, MIGHT_PASS, PASSES, tightness, verdict

THIN_HEAD = ItemShape("bolt", (24.0, 3.0, 6.0, 60.0))
#: Thin wide heads, thick shanks, long and short ones, and common bolts.
ODD = [
    (24, 3, 6, 60), (30, 2, 7, 100), (20, 3, 6, 40), (13, 5.3, 7.2, 100),
    (18, 7.5, 10.9, 80), (25, 4, 5, 30), (40, 2, 8, 25), (14, 5, 13, 30),
]  # fmt: skip
STEP, TILTS = 0.5, 48


def hole(kind: str, *mm: float) -> Shape:
    return Shape(kind, tuple(Decimal(str(size)) for size in mm))


def goes_through(bolt: tuple[float, ...], width: float) -> bool:
    """Whether the bolt's section, a T, gets through a gap in a thin plate by some path of heights and tilts.

    Independent of the views in `items`: it only asks how wide the T is where the plate cuts it. The gap is as long as
    you like, so only its width stands in the way. Where the plate cuts the T twice, both cuts must lie in the gap.
    """
    flats, head, shank, length = bolt
    length = min(length, flats + width + 5)  # more of a shank than this changes nothing
    boxes = [(-flats / 2, flats / 2, -head, 0.0), (-shank / 2, shank / 2, 0.0, length)]
    reach = max(hypot(flats / 2, head), length + 1)
    heights = [STEP * i - reach for i in range(int(2 * reach / STEP) + 1)]

    def fits(height: int, tilt: int) -> bool:
        cuts = _cut(boxes, heights[height], 2 * pi * tilt / TILTS)
        return not cuts or max(cuts) - min(cuts) <= width

    first = (len(heights) - 1, 0)
    seen, waiting = {first}, deque([first])
    while waiting:
        at, tilt = waiting.popleft()
        if at == 0:
            return True
        for step, turn in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            there = (at + step, (tilt + turn) % TILTS)
            if 0 <= there[0] < len(heights) and there not in seen and fits(*there):
                seen.add(there)
                waiting.append(there)
    return False


def _cut(boxes: list[tuple[float, ...]], height: float, tilt: float) -> list[float]:
    c, s = cos(tilt), sin(tilt)
    cuts = []
    for left, right, low, high in boxes:
        corners = [(u * c - v * s, height + u * s + v * c)
                   for u, v in ((left, low), (right, low), (right, high), (left, high))]  # fmt: skip
        for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
            if (y1 > 0) != (y2 > 0):
                cuts.append(x1 - (x2 - x1) * y1 / (y2 - y1))
    return cuts


@pytest.mark.parametrize("clear", [hole("slot", 31, 15.5), hole("slot", 32, 18), hole("rectangle", 31, 15.5)])
def test_a_thin_head_goes_through_on_its_edge_and_the_shank_follows(clear):
    assert verdict(THIN_HEAD, clear) == MIGHT_PASS


@pytest.mark.parametrize("bolt", ODD)
def test_where_a_path_leads_through_it_is_never_said_that_it_cannot_pass(bolt):
    """Outside check: a search over positions (no source but geometry), at every half millimetre of width."""
    widths = [w / 2 for w in range(2, 2 * int(bolt[0]) + 3)]
    least = next(w for w in widths if goes_through(bolt, w))
    item, length = ItemShape("bolt", tuple(map(float, bolt))), bolt[0] * 1.3
    for width in [w for w in widths if w >= least]:
        for kind in ("slot", "rectangle"):
            assert verdict(item, hole(kind, length, width)) != CANNOT_PASS, (kind, width)


def test_a_head_wider_and_higher_than_the_hole_keeps_it_out():
    assert verdict(ItemShape("bolt", (24.0, 15.0, 6.0, 60.0)), hole("slot", 31, 10)) == CANNOT_PASS
    assert verdict(THIN_HEAD, hole("circle", 20)) == CANNOT_PASS  # the head has to be 24 mm one way


def test_so_does_a_shank_that_is_too_thick():
    assert verdict(ItemShape("bolt", (14.0, 5.0, 13.0, 30.0)), hole("slot", 40, 9)) == CANNOT_PASS


def test_it_surely_passes_only_where_its_whole_outline_does():
    assert verdict(THIN_HEAD, hole("circle", 29)) == PASSES
    assert verdict(THIN_HEAD, hole("rectangle", 70, 25)) == PASSES


sizes = st.floats(1, 60)


@given(mm=st.tuples(sizes, sizes, sizes, sizes), a=st.floats(2, 80), b=st.floats(2, 80))
def test_a_part_alone_is_never_tighter_than_the_bolt_and_a_smaller_bolt_never_worse(mm, a, b):
    bolt, clear = ItemShape("bolt", mm), hole("slot", round(a, 2), round(b, 2))
    assert tightness(bolt, clear) == max(tightness(part, clear) for part in parts(bolt))
    if verdict(bolt, clear) == PASSES:
        assert all(verdict(part, clear) == PASSES for part in parts(bolt))
