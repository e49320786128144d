"""What passes through what: by hand where a mechanic can see it, by brute force where nobody can."""

from __future__ import annotations

from decimal import Decimal
from math import cos, hypot, pi, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.sheet import SHAPES, Shape
from checklists.whereabouts.items import ITEM_KINDS, ItemShape
from checklists.whereabouts.passing import (
    CANNOT_PASS,
    MEASURING_MM,
    MIGHT_PASS,
    PASSES,
    WORKED_THROUGH,
    slot_gauge,
    tightness,
    verdict,
)

NUT_M8 = ItemShape("nut", (13.0, 6.8))  # ISO 4032, M8: 13 mm across flats, 6.8 mm thick at most
BOLT_M8X25 = ItemShape("bolt", (13.0, 5.3, 8.0, 25.0))  # ISO 4017, M8x25: head 5.3 mm high
WASHER_M8 = ItemShape("washer", (16.0, 1.6))  # ISO 7089, M8
RANK = {PASSES: 0, MIGHT_PASS: 1, CANNOT_PASS: 2}


def hole(kind: str, *mm: float) -> Shape:
    return Shape(kind, tuple(Decimal(str(size)) for size in mm))


@pytest.mark.parametrize(
    ("item", "clear", "answer"),
    [
        (NUT_M8, hole("circle", 38), PASSES),  # a nut down an inlet port
        (NUT_M8, hole("circle", 15), MIGHT_PASS),  # 14.7 mm on its edge: within the rule's half millimetre
        (NUT_M8, hole("circle", 10), CANNOT_PASS),
        (NUT_M8, hole("slot", 30, 8), PASSES),  # on its edge
        (WASHER_M8, hole("slot", 20, 3), PASSES),  # on its edge
        (WASHER_M8, hole("circle", 12), CANNOT_PASS),
        (BOLT_M8X25, hole("circle", 16), PASSES),  # head first
        (BOLT_M8X25, hole("circle", 12), CANNOT_PASS),
        (ItemShape("rod", (6.0, 120.0)), hole("circle", 8), PASSES),  # end on
        (ItemShape("ball", (10.0,)), hole("oval", 30, 8), CANNOT_PASS),
        (ItemShape("wire", (0.8, 200.0)), hole("circle", 2), PASSES),
        (ItemShape("box", (30.0, 20.0, 4.0)), hole("rectangle", 22, 6), PASSES),
        (ItemShape("soft", (25.0,)), hole("circle", 8), MIGHT_PASS),  # a rag is drawn in
        (ItemShape("soft", (25.0,)), hole("circle", 2), CANNOT_PASS),
    ],
)
def test_what_a_mechanic_would_say(item, clear, answer):
    assert verdict(item, clear) == answer


def test_behind_a_cover_anything_might_pass():
    assert verdict(ItemShape("ball", (500.0,)), hole("behind a cover")) == MIGHT_PASS
    assert verdict(ItemShape("soft", (1.0,)), hole("behind a cover")) == MIGHT_PASS


def test_a_hole_nobody_measured_might_let_anything_pass():
    assert verdict(ItemShape("ball", (500.0,)), None) == MIGHT_PASS


@pytest.mark.parametrize("kind", ITEM_KINDS)
def test_an_item_without_all_its_sizes_is_no_item(kind):
    with pytest.raises(ValueError, match="not an item shape"):
        ItemShape(kind, (1.0,) * (len(ITEM_KINDS[kind]) + 1))


def test_a_nut_just_fits_a_round_hole_as_wide_as_its_smallest_diagonal():
    """From the side it shows 13 by 6.8 mm: diagonal sqrt(13^2 + 6.8^2) = 14.67; from the end 15.01 over its corners."""
    assert tightness(NUT_M8, hole("circle", sqrt(13**2 + 6.8**2))) == pytest.approx(1.0)


def test_a_long_box_turned_askew_fits_a_rectangle_shorter_than_itself():
    """A plate 20 by 1 through 15 by 15: straight it is too long, along the diagonal (21.2) it fits."""
    assert tightness(ItemShape("box", (20.0, 1.0, 50.0)), hole("rectangle", 15, 15)) < 1


# --- brute force: every direction, every turn -----------------------------------------------------------------------


def _corners(item: ItemShape) -> list[tuple[float, float, float]]:
    """The corners of the item's convex hull; round parts by 48 of them."""
    a = item.mm
    if item.kind == "box":
        return [(x * a[0] / 2, y * a[1] / 2, z * a[2] / 2) for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]
    if item.kind == "nut":
        r = a[0] / sqrt(3)
        return [(r * cos(k * pi / 3), r * sin(k * pi / 3), z * a[1] / 2) for k in range(6) for z in (-1, 1)]
    r, h = a[0] / 2, a[1] / 2
    return [(r * cos(k * pi / 24), r * sin(k * pi / 24), z * h) for k in range(48) for z in (-1, 1)]


def _inside(kind: str, mm: tuple[float, ...], x: float, y: float) -> float:
    """How far out a point lies in the hole, written independently: by bisection on the hole's plain description."""
    low, high = 0.0, 1e6
    for _ in range(60):
        scale = (low + high) / 2
        if _within(kind, tuple(size * scale for size in mm), x, y):
            high = scale
        else:
            low = scale
    return high


def _within(kind: str, mm: tuple[float, ...], x: float, y: float) -> bool:
    if kind == "circle":
        return hypot(x, y) <= mm[0] / 2
    a, b = mm
    if kind == "rectangle":
        return abs(x) <= a / 2 and abs(y) <= b / 2
    if kind == "oval":
        return (2 * x / a) ** 2 + (2 * y / b) ** 2 <= 1
    if b > a:
        a, b, x, y = b, a, y, x
    return hypot(max(abs(x) - (a - b) / 2, 0.0), y) <= b / 2


def _brute(item: ItemShape, kind: str, mm: tuple[float, ...], directions: int, turns: int) -> float:
    best = float("inf")
    golden = pi * (3 - sqrt(5))
    points = _corners(item)
    for i in range(directions):
        z = 1 - (i + 0.5) / directions  # one half of the sphere: the other shows the same outline
        across, around = sqrt(1 - z * z), golden * i
        d = (across * cos(around), across * sin(around), z)
        u = _unit(_cross(d, (0, 0, 1) if abs(z) < 0.9 else (1, 0, 0)))
        v = _cross(d, u)
        flat = [(_dot(p, u), _dot(p, v)) for p in points]
        for t in range(turns):
            c, s = cos(pi * t / turns), sin(pi * t / turns)
            best = min(best, max(_gauge(kind, mm, x * c - y * s, x * s + y * c) for x, y in flat))
    return best


def _gauge(kind: str, mm: tuple[float, ...], x: float, y: float) -> float:
    return 2 * hypot(x, y) / mm[0] if kind == "circle" else _inside(kind, mm, x, y)


def _dot(a, b):
    return sum(p * q for p, q in zip(a, b, strict=True))


def _cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _unit(a):
    length = sqrt(_dot(a, a))
    return tuple(p / length for p in a)


@pytest.mark.parametrize(
    "item", [NUT_M8, WASHER_M8, ItemShape("box", (18.0, 12.0, 9.0)), ItemShape("rod", (9.0, 11.0))]
)
def test_no_direction_shows_a_round_hole_a_smaller_outline_than_ours_by_more_than_the_margin(item):
    """Outside check: brute force over 1,500 directions (no source but geometry)."""
    ours = tightness(item, hole("circle", 10))
    theirs = _brute(item, "circle", (10.0,), 1500, 1)
    assert theirs >= ours / WORKED_THROUGH
    assert theirs <= ours * 1.06  # and ours is an outline the item really shows


@pytest.mark.parametrize(("kind", "mm"), [("rectangle", (14.0, 9.0)), ("oval", (18.0, 11.0)), ("slot", (20.0, 8.0))])
@pytest.mark.parametrize("item", [NUT_M8, ItemShape("box", (18.0, 12.0, 9.0))])
def test_nor_does_any_turn_in_a_long_hole(item, kind, mm):
    theirs = _brute(item, kind, mm, 80, 20)
    assert theirs >= tightness(item, hole(kind, *mm)) / WORKED_THROUGH


@pytest.mark.parametrize("kind", ["rectangle", "slot", "oval"])
@settings(max_examples=25, deadline=None)
@given(item=st.tuples(st.floats(2, 40), st.floats(2, 40)), mm=st.tuples(st.floats(4, 40), st.floats(4, 40)))
def test_no_turn_by_steps_is_better_than_the_turn_worked_out(kind, item, mm):
    """A nut end on and on its edge, turned in small steps, against the hole's plain description."""
    mm = tuple(round(size, 1) for size in mm)
    flats, thick = item
    corners = [(flats / sqrt(3) * cos(k * pi / 3), flats / sqrt(3) * sin(k * pi / 3)) for k in range(3)]
    edge = [(flats / 2, thick / 2), (flats / 2, -thick / 2)]
    stepped = min(
        max(_gauge(kind, mm, x * cos(t) - y * sin(t), x * sin(t) + y * cos(t)) for x, y in outline)
        for outline in (corners, edge)
        for t in (pi * step / 48 for step in range(48))
    )
    ours = tightness(ItemShape("nut", item), hole(kind, *mm))
    assert ours <= stepped * 1.000001
    assert ours >= stepped * 0.93  # steps of 3.75 degrees


@pytest.mark.parametrize("mm", [(30.0, 8.0), (8.0, 30.0), (12.0, 12.0), (13.0, 12.0)])
@given(x=st.floats(-40, 40), y=st.floats(-40, 40))
def test_the_slots_edge_is_where_its_plain_description_says(mm, x, y):
    along, across = (x, y) if mm[0] >= mm[1] else (y, x)
    if hypot(x, y) > 1e-3:
        ours = slot_gauge(abs(along), abs(across), max(mm), min(mm))
        assert ours == pytest.approx(_inside("slot", mm, x, y), rel=1e-6)


sizes = st.floats(1, 60)
items = st.one_of(
    [
        st.tuples(*[sizes] * len(names)).map(lambda mm, kind=kind: ItemShape(kind, mm))
        for kind, names in ITEM_KINDS.items()
    ]
)


def holes_of(ways):
    """Holes of every kind, each of their ways out of these."""
    return st.one_of(
        [
            st.tuples(*[ways] * count).map(lambda mm, kind=kind: hole(kind, *(round(size, 2) for size in mm)))
            for kind, count in SHAPES.items()
        ]
    )


holes, small_holes = holes_of(st.floats(2, 80)), holes_of(st.floats(0.2, 5))


def measured(clear: Shape, more: float) -> Shape:
    """The hole as it would be if every way of it was measured so much too small."""
    return Shape(clear.kind, tuple(size + Decimal(str(more)) for size in clear.mm))


@given(item=items.filter(lambda item: item.kind != "soft"), clear=holes.filter(lambda clear: clear.mm))
def test_the_bounds_decide_as_the_margins_tried_one_by_one_do(item, clear):
    """What a bound decides is what trying the smaller and the larger hole gives; "cannot pass" above all."""
    answer = verdict(item, clear)
    assert (answer == CANNOT_PASS) == (tightness(item, measured(clear, MEASURING_MM)) > WORKED_THROUGH)
    if item.kind != "bolt":
        assert (answer == PASSES) == (tightness(item, measured(clear, -MEASURING_MM)) <= 1)


# --- cloth: it gives, so it is never kept out where something as thick that does not give is let through


@pytest.mark.parametrize(
    ("cloth", "clear"),
    [
        (2.8, hole("circle", 2.4)),  # a steel ball of 2.8 mm might pass there
        (2.6, hole("circle", 2.4)),
        (20.0, hole("slot", 60, 2.4)),  # 80 x 30 x 1 mm flat passes there
        (20.0, hole("rectangle", 30, 1)),
        (4.0, hole("slot", 5, 0.8)),  # a patch of 20 x 0.2 mm folded in four
        (3.0, hole("circle", 1.5)),  # hand-wrung, so a good part of it is air
    ],
)
def test_cloth_is_not_said_to_stay_out_where_it_may_be_drawn_or_slipped_in(cloth, clear):
    assert verdict(ItemShape("soft", (cloth,)), clear) == MIGHT_PASS


@pytest.mark.parametrize("clear", [hole("circle", 2), hole("slot", 3, 0.5), hole("rectangle", 2, 2)])
def test_a_rag_stays_out_of_a_pinhole(clear):
    assert verdict(ItemShape("soft", (25.0,)), clear) == CANNOT_PASS


@given(d=sizes | st.floats(0.2, 4), clear=holes | small_holes)
def test_where_a_ball_goes_cloth_rolled_up_as_small_does_too(d, clear):
    assert RANK[verdict(ItemShape("soft", (d,)), clear)] <= RANK[verdict(ItemShape("ball", (d,)), clear)]


@given(sheet=st.tuples(sizes, st.floats(0.2, 30), st.floats(0.1, 3)), clear=holes | small_holes)
def test_where_it_goes_flat_as_a_board_would_it_is_never_said_to_stay_out(sheet, clear):
    """Wrung solid across its narrow way, width x thickness is pi / 4 d^2."""
    if verdict(ItemShape("box", sheet), clear) != CANNOT_PASS:
        _, width, thick = sorted(sheet, reverse=True)
        wrung = ItemShape("soft", (sqrt(4 * width * thick / pi),))
        assert verdict(wrung, clear) != CANNOT_PASS


@given(item=items, clear=holes, factor=st.floats(1.0, 3.0))
def test_a_bigger_item_never_passes_where_a_smaller_similar_one_cannot(item, clear, factor):
    assert RANK[verdict(item.scaled(factor), clear)] >= RANK[verdict(item, clear)]


@given(item=items, clear=holes, factor=st.integers(1, 3))
def test_nor_does_a_bigger_hole_keep_out_what_a_smaller_similar_one_lets_through(item, clear, factor):
    bigger = Shape(clear.kind, tuple(size * factor for size in clear.mm))
    assert RANK[verdict(item, bigger)] <= RANK[verdict(item, clear)]
