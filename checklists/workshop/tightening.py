"""In which order to tighten the fasteners of a flange, from where they sit, and in which passes.

One rule serves every layout. Bolts go in opposite pairs, from the centre outwards; among pairs equally far out, the
one farthest from what is already tight comes next. On a ring that is the crosswise star order, on a rectangle or a
long flange it works from the middle to the ends, and two rows go diagonally.

Where a layout maps onto itself under a half turn, the centroid of the tightened bolts after every even number of
steps is the layout's centre; where a bolt sits in the centre and goes first, it is within R / steps of it, R being how
far out the farthest bolt is.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import hypot

from checklists.workshop.bolt_numbers import Point, centre_of, clockwise, is_ring, reach_of
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, stage_at

#: Bolts this much of the reach nearer or farther count as equally far out, so that a photo's slant does not matter.
_EQUALLY_FAR = 0.08
_AT_CENTRE = 0.05
_ALIKE = 0.02

#: The bolt opposite to one, among those left; and how far apart two bolts are.
Opposite = Callable[[int, Sequence[int]], "int | None"]
Apart = Callable[[int, int], float]


@dataclass(frozen=True, slots=True)
class TighteningOrder:
    """`numbers[i]` is the number of the bolt at the i-th position given; `order` lists numbers, first to last."""

    numbers: tuple[int, ...]
    order: tuple[int, ...]
    ring: bool


@dataclass(frozen=True, slots=True)
class Step:
    """One bolt in one pass: both count from 1. `percent` is the share of the figure."""

    passing: int
    percent: int
    bolt: int


def tightening_order(positions: Sequence[Point], y_down: bool = False) -> TighteningOrder:
    """Number the bolts clockwise from the top and put them in order. `y_down` for positions on a photo."""
    up = [(x, -y if y_down else y) for x, y in positions]
    rank = clockwise(up)
    in_turn = [up[i] for i in rank]
    ring = is_ring(in_turn)
    order = _ring_order(len(up)) if ring else _spread_order(in_turn)
    numbers = [0] * len(up)
    for number, i in enumerate(rank, 1):
        numbers[i] = number
    return TighteningOrder(tuple(numbers), tuple(i + 1 for i in order), ring)


def tightening_steps(
    order: TighteningOrder, percents: Sequence[int], round_last: bool = False
) -> tuple[Step, ...]:
    """Every bolt in every pass, for example 30, 70, 100 %; `round_last` adds one more, once round clockwise."""
    steps = [
        Step(turn, percent, bolt) for turn, percent in enumerate(percents, 1) for bolt in order.order
    ]  # fmt: skip
    if round_last and percents:
        steps += [Step(len(percents) + 1, percents[-1], bolt) for bolt in sorted(order.order)]
    return tuple(steps)


def pass_faults(percents: Sequence[int]) -> tuple[str, ...]:
    """What is wrong with a list of passes; empty when it can be used."""
    if not percents:
        return ("There is no pass; give at least one, such as 100.",)
    if any(not 0 < percent <= 100 for percent in percents):
        return ("A pass is a share of the figure from 1 to 100 %.",)
    if list(percents) != sorted(percents):
        return ("Each pass must be tighter than the one before.",)
    if len(set(percents)) < len(percents):
        return ("Two passes are alike; each is tighter than the one before.",)
    return () if percents[-1] == 100 else ("The last pass must be 100 %.",)


def pass_target(figure: TorqueFigure | AngleFigure, percent: int) -> str:
    """What to set the wrench to in a pass, in the figure's units. A stage, the last pass, an angle: as written."""
    if isinstance(figure, AngleFigure):
        return figure.text
    stage = stage_at(figure, percent)
    if stage is not None or percent == 100:
        return (stage or figure).text
    share, *others = (_share(each, percent) for each in (figure, *figure.beside))
    return f"{share} ({', '.join(others)})" if others else share


def _share(figure: TorqueFigure, percent: int) -> str:
    ends = [
        float(end / figure.unit.factor * percent / 100) for end in dict.fromkeys((figure.low, figure.high))
    ]
    three_figures = [f"{float(format(end, '.3g')):g}" for end in ends]  # never off by more than 0.5 %
    return f"{' to '.join(three_figures)} {figure.unit.name}"


def _ring_order(count: int) -> list[int]:
    """A ring by bolt index: opposite pairs, each farthest from those before; an odd ring steps across by half."""
    if count % 2:
        return [step * ((count - 1) // 2) % count for step in range(count)]
    half = count // 2
    apart = [[min(abs(i - j), count - abs(i - j)) for j in range(count)] for i in range(count)]
    return _in_pairs([0.0] * count, lambda i, _left: (i + half) % count, lambda i, j: apart[i][j])


def _spread_order(points: Sequence[Point]) -> list[int]:
    """Any other layout by bolt index."""
    if not points:
        return []
    (x0, y0), reach = centre_of(points), reach_of(points) or 1.0
    out = [hypot(x - x0, y - y0) / reach for x, y in points]

    def opposite(i: int, left: Sequence[int]) -> int | None:
        x, y = 2 * x0 - points[i][0], 2 * y0 - points[i][1]
        off = {j: hypot(points[j][0] - x, points[j][1] - y) / reach for j in left}
        best = min(left, key=lambda j: (off[j], j), default=None)
        alone = best is None or (out[i] <= _AT_CENTRE and off[best] > 2 * out[i])
        return None if alone else best

    def apart(i: int, j: int) -> float:
        (x1, y1), (x2, y2) = points[i], points[j]
        return round(hypot(x1 - x2, y1 - y2) / reach / _ALIKE)

    return _in_pairs(_levels(out), opposite, apart)


def _levels(out: Sequence[float]) -> list[float]:
    """Each bolt's distance from the centre, those nearly alike made equal."""
    levels, first = {}, -1.0
    for distance in sorted(set(out)):
        if distance > first + _EQUALLY_FAR:
            first = distance
        levels[distance] = first
    return [levels[distance] for distance in out]


def _in_pairs(levels: Sequence[float], opposite: Opposite, apart: Apart) -> list[int]:
    """Pairs from the centre outwards; on a level, the bolt farthest from those done, then the lowest number."""
    left, order = list(range(len(levels))), list[int]()
    near: dict[int, list[float]] = {i: [] for i in left}

    def tighten(i: int) -> None:
        order.append(i)
        left.remove(i)
        for j in left:
            insort(near[j], apart(i, j))

    while left:
        level = min(levels[i] for i in left)
        first = max((i for i in left if levels[i] == level), key=lambda i: (near[i], -i))
        tighten(first)
        second = opposite(first, left)
        if second is not None and second in left:
            tighten(second)
    return order
