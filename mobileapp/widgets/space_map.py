"""The map of where an item could have gone: from the openings down along the passages, space by space."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from kivy.metrics import mm, sp

from checklists.whereabouts.migration import Candidate
from checklists.whereabouts.passing import PASSES
from mobileapp import look
from mobileapp.widgets.drawing import Drawing, fits


@dataclass(frozen=True, slots=True)
class Stop:
    """One line of the map. `rank` 0 is a place on the way only; `parent` is the line it hangs on, -1 for an opening."""

    name: str
    depth: int
    parent: int
    rank: int = 0
    surely: bool = False


def stops(found: Sequence[Candidate], names: dict[str, str]) -> list[Stop]:
    """The map's lines from candidates in their order: the ways of all of them as trees that grow from openings."""
    order: dict[tuple[str, ...], tuple[int, bool]] = {}
    kids: dict[tuple[str, ...], list[tuple[str, ...]]] = {(): []}
    for rank, candidate in enumerate(found, 1):
        way: tuple[str, ...] = ()
        hops = [candidate.path[0].name] if candidate.path else []
        for hop in [*hops, *(leg.to for leg in candidate.path)] or [candidate.space]:
            kids.setdefault((*way, hop), [])
            if (*way, hop) not in kids[way]:
                kids[way].append((*way, hop))
            way = (*way, hop)
        order[way] = (rank, candidate.verdict == PASSES)
    made: list[Stop] = []

    def add(way: tuple[str, ...], parent: int) -> None:
        rank, surely = order.get(way, (0, False))
        made.append(Stop(names.get(way[-1], way[-1]), len(way) - 1, parent, rank, surely))
        here = len(made) - 1
        for kid in kids[way]:
            add(kid, here)

    for root in kids[()]:
        add(root, -1)
    return made


class SpaceMap(Drawing):
    """Openings at the left, what they lead to further in; the way to `chosen` (a rank) is drawn thick."""

    def __init__(self, lines: Sequence[Stop], chosen: int = 1, **kwargs: Any) -> None:
        self.lines, self.chosen = list(lines), chosen
        kwargs.setdefault("size_hint_y", None)
        super().__init__(**kwargs)
        self.pitch = max(mm(9), sp(17) * 2.6)  # two lines of a long name
        self.height = self.pitch * max(1, len(self.lines))

    def _spot(self, at: int) -> tuple[float, float]:
        line = self.lines[at]
        step = min(mm(7), self.width * 0.3 / max(1, max(each.depth for each in self.lines)))
        return self.x + mm(4.5) + line.depth * step, self.top - self.pitch * (at + 0.5)

    def _on_the_way(self) -> set[int]:
        at = next((at for at, line in enumerate(self.lines) if line.rank == self.chosen), -1)
        way = set()
        while at >= 0:
            way.add(at)
            at = self.lines[at].parent
        return way

    def draw(self) -> None:
        """Ways first, then what stands on them."""
        if not self.lines or self.width < mm(10):
            return
        bright = self._on_the_way()
        for at in sorted(range(len(self.lines)), key=lambda at: at in bright):
            self._way(at, at in bright)
        for at in range(len(self.lines)):
            self._stop(at, at in bright)

    def _way(self, at: int, bright: bool) -> None:
        parent = self.lines[at].parent
        if parent < 0:
            return
        (x0, y0), (x1, y1) = self._spot(parent), self._spot(at)
        shade, thick = (look.YELLOW, 1.4) if bright else (look.EDGE, 0.6)
        self.stroke(shade, (x0, y0, x0, y1, x1, y1), mm(thick))

    def _stop(self, at: int, bright: bool) -> None:
        line = self.lines[at]
        x, y = self._spot(at)
        radius = mm(3.4 if line.rank else 2.4)
        shade = look.YELLOW if bright else look.PALE
        if line.surely:
            self.disc(shade, x, y, radius)
        else:
            self.disc(look.GROUND, x, y, radius)
            self.ring(shade, x, y, radius - mm(0.4), mm(0.8))
        if line.rank:
            self.words(str(line.rank), x, y, look.INK if line.surely else shade, look.BODY, room=radius * 1.7)
        left = x + mm(5.5)
        ink = look.PALE if line.rank else look.DIM
        parts, letters = name_in(line, self.right - left)
        for number, part in enumerate(parts):
            up = number if len(parts) > 1 else 0.5
            self.words(part, left, y, ink, letters, across=0, up=up, bold=bool(line.rank), room=self.right - left)


def name_in(line: Stop, room: float) -> tuple[list[str], str]:
    """A stop's name in one line or, where it is too long for that, in two of smaller letters; and the letters."""
    letters = look.KEY if line.rank else look.BODY
    words, bold = line.name.split(), bool(line.rank)
    if len(words) < 2 or fits(line.name, room, letters, bold):
        return [line.name], letters
    cuts = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    return list(min(cuts, key=lambda cut: max(map(len, cut)))), look.SMALL
