"""Where a syllable's marks stand: the font's positioning, and the copies of shapes that stand there by themselves."""

from __future__ import annotations

from dataclasses import dataclass

from mobileapp.shaping.opentype import Contexts, Lookup, Marks, Moves, Pairs, Rules
from mobileapp.shaping.signs import Matching, Sign

_STEPS = 50


@dataclass(slots=True)
class _Spot:
    aside: int = 0
    up: int = 0
    wider: int = 0
    on: int | None = None


def placed(rules: Rules, signs: list[Sign]) -> list[tuple[Sign, int]]:
    """The signs in the order they are drawn, each with the copy of its shape that stands nearest to its place."""
    spots = [_Spot() for _ in signs]
    features = rules.positioning.features
    wanted = {number for tag in ("abvm", "blwm", "mark", "mkmk", "dist", "kern") for number in features.get(tag, ())}
    for number in sorted(wanted):
        _Pass(rules, signs, spots).over(rules.positioning.lookup(number))
    drawn = _in_order(rules, signs, spots)
    behind, total = [0] * len(signs), 0
    for at in drawn:
        behind[at] = total
        total += rules.widths[signs[at].shape] + spots[at].wider
    for at in drawn:
        if (on := spots[at].on) is not None:
            spots[at].aside += spots[on].aside + behind[on] - behind[at]
            spots[at].up += spots[on].up
    return [(signs[at], _nearest(rules, signs[at].shape, spots[at])) for at in drawn]


def _in_order(rules: Rules, signs: list[Sign], spots: list[_Spot]) -> list[int]:
    """Marks right behind what they stand on, so that no vowel sign's width comes between.

    One that takes room of its own stays where it is, or leaves its room to a vowel sign that comes between.
    """
    drawn: list[int] = []
    for at, spot in enumerate(spots):
        wide = rules.widths[signs[at].shape] + spot.wider
        if spot.on is None or (wide and not any(rules.widths[sign.shape] for sign in signs[spot.on + 1 : at])):
            drawn.append(at)
            continue
        spot.wider -= wide
        if wide:
            spots[at - 1].wider += wide
        to = drawn.index(spot.on) + 1
        while to < len(drawn) and spots[drawn[to]].on is not None:
            if rules.widths[signs[drawn[to]].shape] + spots[drawn[to]].wider:
                break
            to += 1
        drawn.insert(to, at)
    return drawn


def _nearest(rules: Rules, shape: int, spot: _Spot) -> int:
    step = rules.height / _STEPS
    aside, up, wider = spot.aside / step, spot.up / step, spot.wider / step
    copies = [(0, 0, 0, shape), *rules.places.get(shape, ())]
    return min(copies, key=lambda copy: abs(copy[0] - aside) + abs(copy[1] - up) + abs(copy[2] - wider))[3]


class _Pass:
    """One lookup's way over a syllable."""

    def __init__(self, rules: Rules, signs: list[Sign], spots: list[_Spot]) -> None:
        self._rules, self._signs, self._spots = rules, signs, spots
        self._matching = Matching([sign.shape for sign in signs], frozenset(), [True] * len(signs))

    def over(self, lookup: Lookup) -> None:
        """From the first sign to the last."""
        for at, sign in enumerate(self._signs):
            if sign.shape not in lookup.unseen:
                self._apply(lookup, at)

    def _apply(self, lookup: Lookup, at: int) -> None:
        for table in lookup.tables:
            if isinstance(table, Marks):
                done = self._mark(table, lookup, at)
            elif isinstance(table, Pairs):
                done = self._pair(table, lookup, at)
            elif isinstance(table, Moves):
                done = self._move(table, at)
            elif isinstance(table, Contexts):
                done = self._in_context(table, lookup, at)
            else:
                done = False
            if done:
                return

    def _mark(self, table: Marks, lookup: Lookup, at: int) -> bool:
        own = table.marks.get(self._signs[at].shape)
        if own is None:
            return False
        on = at - 1
        while on >= 0 and self._passes(table, lookup, self._signs[on].shape):
            on -= 1
        points = table.under.get(self._signs[on].shape) if on >= 0 else None
        point = points[own[0]] if points else None
        if point is None:
            return False
        spot = self._spots[at]
        spot.aside, spot.up, spot.on = point[0] - own[1], point[1] - own[2], on
        return True

    def _passes(self, table: Marks, lookup: Lookup, shape: int) -> bool:
        return self._rules.is_mark(shape) and (shape in lookup.unseen or not table.on_marks)

    def _pair(self, table: Pairs, lookup: Lookup, at: int) -> bool:
        shape, after = self._signs[at].shape, at + 1
        while after < len(self._signs) and self._signs[after].shape in lookup.unseen:
            after += 1
        if shape not in table.firsts or after == len(self._signs):
            return False
        wider = table.by(shape, self._signs[after].shape)
        self._spots[at].wider += wider or 0
        return wider is not None

    def _move(self, table: Moves, at: int) -> bool:
        moved = table.by.get(self._signs[at].shape)
        if moved is None:
            return False
        spot = self._spots[at]
        spot.aside, spot.up, spot.wider = spot.aside + moved[0], spot.up + moved[1], spot.wider + moved[2]
        return True

    def _in_context(self, table: Contexts, lookup: Lookup, at: int) -> bool:
        for rule in table.rules:
            where = self._matching.in_context(lookup, at, rule)
            if where:
                for place, number in rule.acts:
                    self._apply(self._rules.positioning.lookup(number), where[place])
                return True
        return False
