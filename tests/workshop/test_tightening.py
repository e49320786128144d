"""The tightening order of any layout: every bolt once, numbers that stay, and a clamp that stays in balance."""

from math import cos, dist, fsum, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.tightening import (
    Step,
    TighteningOrder,
    pass_faults,
    pass_target,
    tightening_order,
    tightening_steps,
)
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, read_torque, stage_percents

Point = tuple[float, float]
COORDINATES = st.integers(-400, 400).map(float)
POINTS = st.lists(st.tuples(COORDINATES, COORDINATES), max_size=24, unique=True)


def at(order: TighteningOrder, positions: list[Point]) -> list[Point]:
    """The positions in the order of tightening."""
    where = {number: positions[i] for i, number in enumerate(order.numbers)}
    return [where[number] for number in order.order]


def centroid(points: list[Point]) -> Point:
    return fsum(x for x, _ in points) / len(points), fsum(y for _, y in points) / len(points)


@given(POINTS)
def test_every_bolt_is_tightened_once(points: list[Point]):
    order = tightening_order(points)
    assert sorted(order.order) == sorted(order.numbers) == list(range(1, len(points) + 1))


@given(POINTS.filter(lambda points: len(points) > 1), st.data())
def test_numbers_and_order_do_not_depend_on_which_bolt_was_marked_first(points: list[Point], data):
    shuffled = data.draw(st.permutations(points))
    one, other = tightening_order(points), tightening_order(shuffled)
    assert dict(zip(points, one.numbers, strict=True)) == dict(zip(shuffled, other.numbers, strict=True))
    assert one.order == other.order


@given(POINTS, st.integers(0, 3))
def test_a_photo_and_a_drawing_agree(points: list[Point], shift: int):
    on_a_photo = [(x + 1000 * shift, -y + 1000) for x, y in points]
    assert tightening_order(on_a_photo, y_down=True) == tightening_order(points)


@given(st.lists(st.tuples(COORDINATES, COORDINATES), min_size=1, max_size=12, unique=True), st.booleans())
def test_the_clamp_of_a_symmetric_layout_stays_in_balance(half: list[Point], with_centre: bool):
    """After an even step the centroid is the centre; with a bolt in the centre, within R / steps of it."""
    points = [point for point in half if point != (0, 0)]
    points = list({*points, *((-x, -y) for x, y in points)}) + [(0.0, 0.0)] * with_centre
    if not points:
        return
    reach = max(hypot(x, y) for x, y in points)
    tightened = at(tightening_order(points), points)
    for steps in range(2, len(points) + 1, 2):
        off = dist(centroid(tightened[:steps]), (0, 0))
        allowed = reach / steps if with_centre else 0
        assert off <= allowed + 1e-9 * reach, (steps, tightened)


@given(st.integers(2, 20), st.floats(0, 359), st.floats(1, 500))
def test_an_even_ring_is_in_balance_after_every_pair(pairs: int, first: float, radius: float):
    turns = [radians(first + 180 * i / pairs) for i in range(2 * pairs)]
    ring = [(radius * sin(turn), radius * cos(turn)) for turn in turns]
    order = tightening_order(ring)
    tightened = at(order, ring)
    for steps in range(2, 2 * pairs + 1, 2):
        assert dist(centroid(tightened[:steps]), (0, 0)) <= 1e-9 * radius


@pytest.mark.parametrize(
    ("count", "order"), [(3, (1, 2, 3)), (5, (1, 3, 5, 2, 4)), (7, (1, 4, 7, 3, 6, 2, 5))]
)
def test_an_odd_ring_steps_across(count: int, order: tuple[int, ...]):
    turns = [radians(360 * i / count) for i in range(count)]
    assert tightening_order([(sin(turn), cos(turn)) for turn in turns]).order == order


def test_numbers_run_clockwise_from_the_top():
    clock = [(0.0, 50.0), (50.0, 0.0), (0.0, -50.0), (-50.0, 0.0)]
    assert tightening_order(clock).numbers == (1, 2, 3, 4)
    assert tightening_order(clock, y_down=True).numbers == (3, 2, 1, 4)
    square = [(-50.0, 50.0), (50.0, 50.0), (50.0, -50.0), (-50.0, -50.0)]
    assert tightening_order(square).numbers == (4, 1, 2, 3), "of two equally near the top, the right one is 1"


def test_a_bolt_in_the_middle_has_the_last_number_and_goes_first():
    five = [(-50.0, 50.0), (50.0, 50.0), (0.0, 0.0), (50.0, -50.0), (-50.0, -50.0)]
    order = tightening_order(five)
    assert order.numbers[2] == 5
    assert order.order == (5, 1, 3, 2, 4)


def test_a_column_is_numbered_from_the_top():
    assert tightening_order([(0.0, 0.0), (1.0, 100.0), (0.0, 200.0)]).numbers == (3, 2, 1)


def test_a_rectangle_goes_from_the_middle_to_the_corners():
    six = [(0.0, 100.0), (150.0, 100.0), (300.0, 100.0), (300.0, 0.0), (150.0, 0.0), (0.0, 0.0)]
    assert at(tightening_order(six), six) == [
        (150, 100), (150, 0), (300, 100), (0, 0), (300, 0), (0, 100),
    ]  # fmt: skip


def test_two_rings_go_from_the_inner_to_the_outer():
    inner = [(50 * sin(radians(90 * i)), 50 * cos(radians(90 * i))) for i in range(4)]
    outer = [(90 * sin(radians(45 + 90 * i)), 90 * cos(radians(45 + 90 * i))) for i in range(4)]
    order = at(tightening_order(inner + outer), inner + outer)
    assert set(order[:4]) == set(inner)


def test_no_bolt_at_all():
    assert tightening_order([]) == TighteningOrder((), (), False)


def test_passes_go_through_the_whole_order_each_time():
    order = TighteningOrder((1, 2, 3), (1, 3, 2), True)
    assert tightening_steps(order, (30, 100)) == (
        Step(1, 30, 1), Step(1, 30, 3), Step(1, 30, 2), Step(2, 100, 1), Step(2, 100, 3), Step(2, 100, 2),
    )  # fmt: skip
    assert tightening_steps(order, (30, 100), round_last=True)[-3:] == (
        Step(3, 100, 1), Step(3, 100, 2), Step(3, 100, 3),
    )  # fmt: skip


def test_passes_are_checked():
    assert pass_faults((30, 70, 100)) == pass_faults((100,)) == ()
    assert pass_faults(()) == ("There is no pass; give at least one, such as 100.",)
    assert pass_faults((0, 100)) == ("A pass is a share of the figure from 1 to 100 %.",)
    assert pass_faults((70, 30, 100)) == ("Each pass must be tighter than the one before.",)
    assert pass_faults((30, 30, 100)) == ("Two passes are alike; each is tighter than the one before.",)
    assert pass_faults((30, 70)) == ("The last pass must be 100 %.",)


@pytest.mark.parametrize(
    ("typed", "targets"),
    [
        ("24 N.m", ["7.2 N.m", "16.8 N.m", "24 N.m"]),
        ("150 N.m", ["45 N.m", "105 N.m", "150 N.m"]),
        ("15 N.m", ["4.5 N.m", "10.5 N.m", "15 N.m"]),
        ("35 N.m", ["10.5 N.m", "24.5 N.m", "35 N.m"]),
        ("22 ± 1 N.m", ["6.3 to 6.9 N.m", "14.7 to 16.1 N.m", "22 ± 1 N.m"]),
        ("8 to 10 lbf.ft", ["2.4 to 3 lbf.ft", "5.6 to 7 lbf.ft", "8 to 10 lbf.ft"]),
        ("20 Nm (15 lbf.ft)", ["6 N.m (4.5 lbf.ft)", "14 N.m (10.5 lbf.ft)", "20 Nm (15 lbf.ft)"]),
        ("30 N.m + 90 deg", ["30 N.m + 90 deg"] * 3),
    ],
)
def test_the_wrench_is_set_in_the_unit_of_the_maker(typed: str, targets: list[str]):
    figure = read_torque(typed)
    assert isinstance(figure, TorqueFigure | AngleFigure)
    assert [pass_target(figure, percent) for percent in (30, 70, 100)] == targets


def test_the_makers_own_stages_are_what_the_wrench_is_set_to():
    figure = read_torque("30 Nm (22 lbf.ft), 60 Nm (44 lbf.ft), 90 Nm (66 lbf.ft)")
    assert isinstance(figure, TorqueFigure)
    targets = [pass_target(figure, percent) for percent in stage_percents(figure)]
    assert targets == ["30 Nm (22 lbf.ft)", "60 Nm (44 lbf.ft)", "90 Nm (66 lbf.ft)"]
