"""Where the bolts of a flange sit: their centre, whether they make a ring, and their numbers, clockwise from the top.

Positions are (x, y) with y upwards, in any unit. Numbers do not depend on the order in which positions are given.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import atan2, degrees, fsum, hypot

Point = tuple[float, float]

#: A ring's bolts may be this much nearer or farther than the mean, and its gaps this much off an even one.
_RADIUS_SLACK = 0.15
_GAP_SLACK = 0.3
_IN_LINE = 0.05
_SAME_WAY = 2.0  # degrees


def centre_of(points: Sequence[Point]) -> Point:
    """The centroid; the same whatever order the points come in."""
    return fsum(x for x, _ in points) / len(points), fsum(y for _, y in points) / len(points)


def reach_of(points: Sequence[Point]) -> float:
    """How far the farthest bolt is from the centre."""
    x0, y0 = centre_of(points)
    return max(hypot(x - x0, y - y0) for x, y in points)


def clockwise(points: Sequence[Point]) -> list[int]:
    """Indexes of the points in the order of their numbers.

    Number 1 is nearest to 12 o'clock, of two equally near the one on the right; a bolt in the middle comes last. One
    straight row is numbered along it, from the left, or from the top.
    """
    if not points:
        return []
    if _one_row(points):
        return sorted(range(len(points)), key=_along(points))
    (x0, y0), reach = centre_of(points), reach_of(points)
    outer = [i for i, (x, y) in enumerate(points) if hypot(x - x0, y - y0) > 1e-9 * reach]
    turn = {i: degrees(atan2(points[i][0] - x0, points[i][1] - y0)) for i in outer}
    nearest = min(abs(angle) for angle in turn.values())
    start = max(angle for angle in turn.values() if abs(angle) <= nearest + _SAME_WAY)

    def place(i: int) -> tuple[float, float, Point]:
        round_from_start = round((turn[i] - start) % 360, 6) % 360
        return round_from_start, -hypot(points[i][0] - x0, points[i][1] - y0), points[i]

    middle = sorted(set(range(len(points))) - set(outer), key=lambda i: points[i])
    return sorted(outer, key=place) + middle


def is_ring(points: Sequence[Point]) -> bool:
    """Three or more bolts on a circle, evenly spaced, given in their clockwise order."""
    if len(points) < 3:
        return False
    x0, y0 = centre_of(points)
    radii = [hypot(x - x0, y - y0) for x, y in points]
    mean = fsum(radii) / len(radii)
    if mean == 0 or any(abs(radius / mean - 1) > _RADIUS_SLACK for radius in radii):
        return False
    turns = [degrees(atan2(x - x0, y - y0)) for x, y in points]
    even = 360 / len(points)
    gaps = [(after - before) % 360 for before, after in zip(turns, turns[1:] + turns[:1], strict=True)]
    return all(abs(gap / even - 1) <= _GAP_SLACK for gap in gaps)


def _one_row(points: Sequence[Point]) -> bool:
    """All on one straight line, as near as makes no difference; one or two always are."""
    (x1, y1), (x2, y2) = _ends(points)
    length = hypot(x2 - x1, y2 - y1)
    if length == 0:
        return True
    off = (abs((x - x1) * (y2 - y1) - (y - y1) * (x2 - x1)) / length for x, y in points)
    return max(off) <= _IN_LINE * length


def _ends(points: Sequence[Point]) -> tuple[Point, Point]:
    """The point farthest from the centre, and the one farthest from that."""
    x0, y0 = centre_of(points)
    one = max(points, key=lambda p: (hypot(p[0] - x0, p[1] - y0), p))
    return one, max(points, key=lambda p: (hypot(p[0] - one[0], p[1] - one[1]), p))


def _along(points: Sequence[Point]) -> Callable[[int], tuple[float, Point]]:
    """The sort key along a row: left to right, or top to bottom where it stands more than it lies."""
    (x1, y1), (x2, y2) = _ends(points)
    dx, dy = x2 - x1, y2 - y1
    if (abs(dx) >= abs(dy) and dx < 0) or (abs(dx) < abs(dy) and dy > 0):
        dx, dy = -dx, -dy
    return lambda i: (points[i][0] * dx + points[i][1] * dy, points[i])
