"""Can this item get through that hole: it passes, it might pass, or it cannot pass.

The measure is `tightness`: the item's smallest outline, over all directions and turns, against the clear shape,
as a ratio. At 1 it just fits. A bolt is no convex body: it passes if its whole outline fits, and cannot pass only if
its head alone or its shank alone does not fit (see `items`). Two margins stand between the ratio and the words, both
on the safe side (towards "could be in there"):

- `MEASURING_MM`: sizes are taken with a rule over an open engine, so every clear size may be this much larger
  or smaller.
- `WORKED_THROUGH`: a convex body can now and then be turned and worked through a hole a little smaller than its
  smallest outline. (A regular tetrahedron does it through a round hole 0.5 % smaller: from memory of the
  literature on convex bodies and holes.) An item is said not to pass only when its outline is a tenth larger
  than the hole.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import atan2, cos, hypot, pi, sin, sqrt

from checklists.sheet import Shape
from checklists.whereabouts.items import Disc, ItemShape, Outline, Polygon, View, parts, views

PASSES, MIGHT_PASS, CANNOT_PASS = "passes", "might pass", "cannot pass"

MEASURING_MM = 0.5
WORKED_THROUGH = 1.10
#: What is not measured is taken to be neither wide nor tight.
UNKNOWN_TIGHTNESS = 1.0
#: Cloth can be drawn through a gap far narrower than itself. Common practice, no source.
SOFT_GAP_MM = 3.0

#: How far out a point lies: 1 on the edge of the hole, less inside.
Gauge = Callable[[float, float], float]


def verdict(item: ItemShape, hole: Shape | None) -> str:
    """PASSES, MIGHT_PASS or CANNOT_PASS. A hole of unknown size might let anything pass."""
    if hole is None or not hole.mm:
        return MIGHT_PASS
    sizes = tuple(map(float, hole.mm))
    wide = tuple(size + MEASURING_MM for size in sizes)
    if item.kind == "soft":
        return _soft(item.mm[0], min(sizes), min(wide))
    narrow = tuple(size - MEASURING_MM for size in sizes)
    if min(narrow) > 0 and _tightness(item, hole.kind, narrow) <= 1:
        return PASSES
    return MIGHT_PASS if _of_parts(item, hole.kind, wide) <= WORKED_THROUGH else CANNOT_PASS


def _soft(wrung: float, clear: float, at_most: float) -> str:
    if wrung <= clear:
        return PASSES
    return MIGHT_PASS if at_most >= SOFT_GAP_MM else CANNOT_PASS


def standing(item: ItemShape, hole: Shape) -> tuple[str, float]:
    """The verdict and the tightness; worked out once for each item and hole."""
    known = _standings(item)
    answer = known.get(hole)
    if answer is None:
        answer = known[hole] = verdict(item, hole), tightness(item, hole)
    return answer


@lru_cache(maxsize=64)
def _standings(item: ItemShape) -> dict[Shape, tuple[str, float]]:
    """What is known of one item. As long as the sheets have different holes, however many items are missing."""
    return {}


def tightness(item: ItemShape, hole: Shape) -> float:
    """The item's smallest outline against the hole as measured; it fits at 1 or less. Of a bolt, its tightest part."""
    return _of_parts(item, hole.kind, tuple(map(float, hole.mm))) if hole.mm else UNKNOWN_TIGHTNESS


def _of_parts(item: ItemShape, kind: str, sizes: tuple[float, ...]) -> float:
    """The tightest of its parts, each in its own best position: no motion gets by with less."""
    return max(_tightness(part, kind, sizes) for part in parts(item))


def _tightness(item: ItemShape, kind: str, sizes: tuple[float, ...]) -> float:
    return min(_view_tightness(view, kind, sizes) for view in views(item))


def _view_tightness(view: View, kind: str, sizes: tuple[float, ...]) -> float:
    return max(_outline_tightness(outline, kind, sizes) for outline in view)


def _outline_tightness(outline: Outline, kind: str, sizes: tuple[float, ...]) -> float:
    if isinstance(outline, Disc):
        return outline.d / min(sizes)
    if kind == "circle":
        return max(2 * hypot(x, y) for x, y in outline.corners) / sizes[0]
    return _turned(outline, kind, sizes)


def _turned(outline: Polygon, kind: str, sizes: tuple[float, ...]) -> float:
    """The least over turns of the outline in its plane, by where it must lie.

    All corners of an outline are alike far from its middle. An oval and a slot leave the less room the further one
    turns away from their long way, so the corner furthest off it should be as near it as can be: for a rectangle that
    is its long way along the hole's, for a hexagon a corner along it. A rectangular hole asks more.
    """
    if kind == "rectangle":
        return _in_rectangle(outline, *sizes)
    gauge = _GAUGES[kind](max(sizes), min(sizes))
    if len(outline.corners) == 3:
        return max(gauge(x, y) for x, y in outline.corners)
    x, y = map(abs, outline.corners[0])
    return gauge(max(x, y), min(x, y))


def _in_rectangle(outline: Polygon, a: float, b: float) -> float:
    """The least over turns in a rectangular hole. As far as one corner leads either way, the outline's width along `a`
    and along `b` bend downwards over a turn, so the best turn is at an end or where both are as tight."""
    if len(outline.corners) == 3:
        across = 2 * hypot(*outline.corners[0])
        # A corner along `a`, turned by up to a twelfth: narrower along `a`, wider along `b`.
        c, s = cos(pi / 6), sin(pi / 6)
        ends, level = (0.0, pi / 6), atan2(across / a - across * c / b, across * s / b)
        turns = [turn for turn in (*ends, level) if 0 <= turn <= pi / 6]
        return min(max(across * cos(turn) / a, across * cos(pi / 6 - turn) / b) for turn in turns)
    w, h = (2 * abs(each) for each in outline.corners[0])
    level = atan2(w * b - h * a, w * a - h * b)
    turns = [turn for turn in (0.0, pi / 2, level, level + pi, level - pi) if 0 <= turn <= pi / 2]
    return min(max((w * cos(t) + h * sin(t)) / a, (w * sin(t) + h * cos(t)) / b) for t in turns)


def _oval_gauge(a: float, b: float) -> Gauge:
    return lambda x, y: hypot(x * 2 / a, y * 2 / b)


def _slot_gauge(a: float, b: float) -> Gauge:
    """A slot with round ends: a straight middle between the centres of two half circles."""
    long, width = max(a, b), min(a, b)
    radius, middle = width / 2, (long - width) / 2
    swapped = b > a

    def gauge(x: float, y: float) -> float:
        along, across = (abs(y), abs(x)) if swapped else (abs(x), abs(y))
        flat = across / radius
        # Beyond the straight middle the scale is where the point meets the end's circle.
        if along <= middle * flat:
            return flat
        return _to_round_end(along, across, middle, radius)

    return gauge


def _to_round_end(along: float, across: float, middle: float, radius: float) -> float:
    """The scale g at which the point lies on the end: (along - g m)^2 + across^2 = (g r)^2, the first g above 0."""
    a, b, c = radius * radius - middle * middle, 2 * along * middle, -(along * along + across * across)
    if abs(a) < 1e-12:
        return -c / b
    root = sqrt(max(0.0, b * b - 4 * a * c))
    return min(g for g in ((-b + root) / (2 * a), (-b - root) / (2 * a)) if g > 0)


_GAUGES: dict[str, Callable[[float, float], Gauge]] = {
    "oval": _oval_gauge,
    "slot": _slot_gauge,
}
