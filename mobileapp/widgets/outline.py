"""The outline of a plate as plain numbers: a tag with two corners cut, or a plate with a notch."""

from __future__ import annotations

Points = list[tuple[float, float]]


def tag(x: float, y: float, width: float, height: float, cut: float) -> Points:
    """A rectangle with its top right and bottom left corners cut off."""
    cut = min(cut, width / 2, height / 2)
    right, top = x + width, y + height
    return [(x + cut, y), (right, y), (right, top - cut), (right - cut, top), (x, top), (x, y + cut)]


def notched(x: float, y: float, width: float, height: float, cut: float, notch: tuple[float, float]) -> Points:
    """A plate whose bottom left corner is left free for another part, starting at the inner corner.

    It starts there so that a fan of triangles from its first point fills it.
    """
    if not notch[0] or not notch[1]:
        return tag(x, y, width, height, cut)
    right, top = x + width, y + height
    inner = (x + notch[0], y + notch[1])
    return [
        inner,
        (inner[0], y),
        (right, y),
        (right, top - cut),
        (right - cut, top),
        (x, top),
        (x, inner[1]),
    ]


def lip(x: float, y: float, width: float, thick: float, cut: float) -> list[Points]:
    """The band along the bottom of a tag, as convex pieces: along the cut corner and along the edge."""
    start, right = x + cut, x + width
    edge = [(start, y), (right, y), (right, y + thick), (start, y + thick)]
    corner = [(x, y + cut), (start, y), (start, y + thick), (x, y + cut + thick)]
    return [edge, corner] if cut else [edge]


def fan(points: Points) -> tuple[list[float], list[int]]:
    """Vertices and indices of a Kivy Mesh in mode triangle_fan."""
    vertices = [number for x, y in points for number in (x, y, 0.0, 0.0)]
    return vertices, list(range(len(points)))


def flat(points: Points) -> list[float]:
    """The points one after the other, as Kivy's Line wants them."""
    return [number for point in points for number in point]


def dashes(points: Points, dash: float, gap: float) -> list[list[float]]:
    """The closed outline cut into dashes, each as flat points of a Line."""
    pieces: list[list[float]] = []
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        steps = max(1, round(length / (dash + gap)))
        share = dash / (dash + gap)
        for step in range(steps):
            start, end = step / steps, (step + share) / steps
            pieces.append([
                x0 + (x1 - x0) * start, y0 + (y1 - y0) * start,
                x0 + (x1 - x0) * end, y0 + (y1 - y0) * end,
            ])  # fmt: skip
    return pieces
