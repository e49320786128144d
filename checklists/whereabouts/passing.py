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

Cloth gives. It surely passes where it fits rolled up as tight as it was measured, and it might by the same two margins
wherever a hole's area is enough for it: through a slot it goes flat, or in folds, and its shape there is nobody's to
know. So what counts is the round hole of that area. Wrung by hand it is not solid either (`WRUNG_SOLID`), and much more
of it than the hole seems to hold can be drawn through one of `SOFT_GAP_MM`.

An item is tried against every hole of a sheet at once, and on the drawing path. So the margin for measuring is not
worked out from the outline again where it cannot matter: a hole half a millimetre smaller holds the same hole scaled
down by what that takes off its short way, and lies within the one scaled down by what it takes off its long way; so
too for a larger one. Only between those two is it tried again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from math import hypot, inf, pi, sqrt
from typing import Any

from checklists.sheet import Shape
from checklists.whereabouts.items import Disc, Hexagon, ItemShape, Rectangle, View, parts, views

PASSES, MIGHT_PASS, CANNOT_PASS = "passes", "might pass", "cannot pass"

MEASURING_MM = 0.5
WORKED_THROUGH = 1.10
#: What is not measured is taken to be neither wide nor tight.
UNKNOWN_TIGHTNESS = 1.0
#: Cloth can be drawn through a gap far narrower than itself. Common practice, no source.
SOFT_GAP_MM = 3.0
#: Wrung tight by hand, cloth is still about half air: solid, it would be this much of its diameter. The same.
WRUNG_SOLID = 0.7
#: Where a bound is as near as this to deciding, it does not decide.
_CLOSE = 1e-9
#: Half of the square root of 3: how far a hexagon's second corner lies off its middle, against the first.
_SIN_60 = sqrt(3) / 2


def verdict(item: ItemShape, hole: Shape | None) -> str:
    """PASSES, MIGHT_PASS or CANNOT_PASS. A hole of unknown size might let anything pass."""
    return MIGHT_PASS if hole is None else standing(item, hole)[0]


def tightness(item: ItemShape, hole: Shape) -> float:
    """The item's smallest outline against the hole as measured; it fits at 1 or less. Of a bolt, its tightest part."""
    return standing(item, hole)[1]


def standing(item: ItemShape, hole: Shape) -> tuple[str, float]:
    """The verdict and the tightness."""
    return _body(item).standing(hole.kind, *ways_of(hole))


def ways_of(hole: Shape) -> tuple[float, float]:
    """The long and the short way of a hole in mm; none (0) of one whose size is not known."""
    sizes = [float(size) for size in hole.mm]
    return (max(sizes), min(sizes)) if sizes else (0.0, 0.0)


class Body:
    """An item, made ready to be tried against many holes."""

    def __init__(self, item: ItemShape) -> None:
        self._soft = item.mm[0] if item.kind == "soft" else 0.0
        self._whole = views(item)
        self._parts = [views(part) for part in parts(item)]

    def standing(self, kind: str, long: float, short: float) -> tuple[str, float]:
        """The verdict and the tightness at a hole of this kind and these ways; `short` is 0 where they are unknown."""
        if not short:
            return MIGHT_PASS, UNKNOWN_TIGHTNESS
        tight = self._of_parts(kind, long, short)
        if self._soft:
            return _soft(self._soft, kind, long, short), tight
        whole = tight if len(self._parts) == 1 else _tightness(self._whole, kind, long, short)
        if self._passes(whole, kind, long, short):
            return PASSES, tight
        return (MIGHT_PASS if self._might(tight, kind, long, short) else CANNOT_PASS), tight

    def _of_parts(self, kind: str, long: float, short: float) -> float:
        """The tightest of its parts, each in its own best position: no motion gets by with less."""
        return max([_tightness(part, kind, long, short) for part in self._parts])

    def _passes(self, whole: float, kind: str, long: float, short: float) -> bool:
        """Whether the whole outline, that tight in the hole as measured, fits one as much smaller as it may be."""
        narrow = short - MEASURING_MM
        if narrow <= 0 or whole * long > (long - MEASURING_MM) * (1 + _CLOSE):
            return False
        if whole * short <= narrow * (1 - _CLOSE):
            return True
        return _tightness(self._whole, kind, long - MEASURING_MM, narrow) <= 1

    def _might(self, tight: float, kind: str, long: float, short: float) -> bool:
        """Whether every part, that tight in the hole as measured, can be worked through one as much larger."""
        most = WORKED_THROUGH * (1 + MEASURING_MM / long)
        if tight <= most * (1 - _CLOSE):
            return True
        if tight > WORKED_THROUGH * (1 + MEASURING_MM / short) * (1 + _CLOSE):
            return False
        return self._of_parts(kind, long + MEASURING_MM, short + MEASURING_MM) <= WORKED_THROUGH


@lru_cache(maxsize=64)
def _body(item: ItemShape) -> Body:
    return Body(item)


def _soft(wrung: float, kind: str, long: float, short: float) -> str:
    if wrung <= short:
        return PASSES
    gap = _round_of_area(kind, long + MEASURING_MM, short + MEASURING_MM)
    return MIGHT_PASS if gap >= SOFT_GAP_MM or wrung * WRUNG_SOLID <= WORKED_THROUGH * gap else CANNOT_PASS


def _round_of_area(kind: str, long: float, short: float) -> float:
    """The diameter of the round hole that has as much area."""
    if kind == "rectangle":
        return sqrt(long * short * 4 / pi)
    if kind == "slot":
        return sqrt((long - short) * short * 4 / pi + short * short)
    return sqrt(long * short)


def _tightness(seen: Iterable[View], kind: str, long: float, short: float) -> float:
    """The least over the views, of each its tightest outline."""
    against, best = _AGAINST[kind], inf
    for view in seen:
        worst = 0.0
        for outline in view:
            tight = outline.d / short if isinstance(outline, Disc) else against(outline, long, short)
            if tight > worst:
                worst = tight
        if worst < best:
            best = worst
    return best


# --- an outline with corners in a hole of each kind. All corners of an outline are alike far from its middle.


def _in_circle(outline: Rectangle | Hexagon, long: float, short: float) -> float:
    return (hypot(*outline) if isinstance(outline, Rectangle) else outline.corners) / long


def _in_rectangle(outline: Rectangle | Hexagon, long: float, short: float) -> float:
    """The least over turns in a rectangular hole.

    Straight, the outline's width along the hole's short way is the least it can be. Only where the long way is what
    keeps it out can a turn help, and then the best is where both ways are as tight: as far as one corner leads either
    way, both widths bend downwards over a turn.
    """
    if isinstance(outline, Rectangle):
        along, across = outline
        if along * short <= across * long:
            return across / short
        # The turn's cosine and sine go as these two.
        c, s = along * long - across * short, along * short - across * long
        turned = (along * c + across * s) / (hypot(c, s) * long)
        return min(along / long, turned)
    corners, flats = outline
    if corners * short <= flats * long:
        return flats / short
    # A corner along the long way, turned by up to a twelfth: narrower along it, wider across.
    # Both are as tight where the turn's cosine and sine go as long / 2 and this.
    return corners / 2 / hypot(long / 2, short - _SIN_60 * long)


def _in_oval(outline: Rectangle | Hexagon, long: float, short: float) -> float:
    """As near the hole's long way as its corners can be: the further off it, the less room an oval leaves."""
    if isinstance(outline, Rectangle):
        return hypot(outline.long / long, outline.short / short)
    off = hypot(outline.corners / 2 / long, outline.corners * _SIN_60 / short)
    return max(outline.corners / long, off)


def _in_slot(outline: Rectangle | Hexagon, long: float, short: float) -> float:
    """The same; a slot has round ends, a straight middle between the centres of two half circles."""
    if isinstance(outline, Rectangle):
        return slot_gauge(outline.long / 2, outline.short / 2, long, short)
    half = outline.corners / 2
    return max(slot_gauge(half, 0.0, long, short), slot_gauge(half / 2, half * _SIN_60, long, short))


def slot_gauge(along: float, across: float, long: float, short: float) -> float:
    """How far out a point lies in a slot, from its middle: 1 on the edge, less inside."""
    radius, middle = short / 2, (long - short) / 2
    flat = across / radius
    # Beyond the straight middle the scale is where the point meets the end's circle.
    return flat if along <= middle * flat else _to_round_end(along, across, middle, radius)


def _to_round_end(along: float, across: float, middle: float, radius: float) -> float:
    """The scale g at which the point lies on the end: (along - g m)^2 + across^2 = (g r)^2, the first g above 0."""
    a, b, c = radius * radius - middle * middle, 2 * along * middle, -(along * along + across * across)
    if abs(a) < 1e-12:
        return -c / b
    root = sqrt(max(0.0, b * b - 4 * a * c))
    return min(g for g in ((-b + root) / (2 * a), (-b - root) / (2 * a)) if g > 0)


_AGAINST: dict[str, Callable[[Any, float, float], float]] = {
    "circle": _in_circle,
    "rectangle": _in_rectangle,
    "oval": _in_oval,
    "slot": _in_slot,
}
