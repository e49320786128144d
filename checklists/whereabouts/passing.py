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
from math import cos, hypot, pi, sin, sqrt

from checklists.sheet import Shape
from checklists.whereabouts.items import Disc, ItemShape, Outline, Polygon, View, parts, views

PASSES, MIGHT_PASS, CANNOT_PASS = "passes", "might pass", "cannot pass"

MEASURING_MM = 0.5
WORKED_THROUGH = 1.10
#: Cloth can be drawn through a gap far narrower than itself. Common practice, no source.
SOFT_GAP_MM = 3.0
_TURNS = 60

#: How far out a point lies: 1 on the edge of the hole, less inside.
Gauge = Callable[[float, float], float]


def verdict(item: ItemShape, hole: Shape | None) -> str:
    """PASSES, MIGHT_PASS or CANNOT_PASS. A hole of unknown size (None) might let anything pass."""
    if hole is None:
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


def tightness(item: ItemShape, hole: Shape) -> float:
    """The item's smallest outline against the hole as measured; it fits at 1 or less. Of a bolt, its tightest part."""
    return _of_parts(item, hole.kind, tuple(map(float, hole.mm)))


def _of_parts(item: ItemShape, kind: str, sizes: tuple[float, ...]) -> float:
    """The tightest of its parts, each in its own best position: no motion gets by with less."""
    return max(_tightness(part, kind, sizes) for part in parts(item))


@lru_cache(maxsize=4096)
def _tightness(item: ItemShape, kind: str, sizes: tuple[float, ...]) -> float:
    return min(_view_tightness(view, kind, sizes) for view in views(item))


def _view_tightness(view: View, kind: str, sizes: tuple[float, ...]) -> float:
    return max(_outline_tightness(outline, kind, sizes) for outline in view)


def _outline_tightness(outline: Outline, kind: str, sizes: tuple[float, ...]) -> float:
    if isinstance(outline, Disc):
        return outline.d / min(sizes)
    if kind == "circle":
        return max(2 * hypot(x, y) for x, y in outline.corners) / sizes[0]
    return _turned(outline, _GAUGES[kind](*sizes))


def _turned(outline: Polygon, gauge: Gauge) -> float:
    """The least over turns of the outline in its plane: coarse first, then finer about the best.

    Holes and outlines are mirror images of themselves, so a quarter turn shows all there is; of a hexagon (the only
    outline of six corners) a twelfth.
    """
    step = pi / _TURNS
    turns = _TURNS // 6 if len(outline.corners) == 3 else _TURNS // 2
    best = min((_at_turn(outline, gauge, k * step), k * step) for k in range(turns + 1))
    for _ in range(5):
        step /= 4
        about = [best[1] + k * step for k in (-3, -2, -1, 1, 2, 3)]
        best = min(best, *((_at_turn(outline, gauge, angle), angle) for angle in about))
    return best[0]


def _at_turn(outline: Polygon, gauge: Gauge, angle: float) -> float:
    c, s = cos(angle), sin(angle)
    return max([gauge(x * c - y * s, x * s + y * c) for x, y in outline.corners])


def _rectangle_gauge(a: float, b: float) -> Gauge:
    return lambda x, y: max(abs(x) * 2 / a, abs(y) * 2 / b)


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
    "rectangle": _rectangle_gauge,
    "oval": _oval_gauge,
    "slot": _slot_gauge,
}
