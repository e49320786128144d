"""A syllable at work: its signs, and the font's substitutions applied to them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from mobileapp.shaping.letters import CONSONANTS, HALANT, JOINER, NON_JOINER
from mobileapp.shaping.opentype import Contexts, Fits, InContext, Ligatures, Lookup, Rules, Swaps


@dataclass(slots=True)
class Sign:
    """One shape of a syllable, and what is known of the letter it comes from."""

    shape: int
    kind: str
    place: int
    #: The features that may act here, beside those that may everywhere.
    may: set[str] = field(default_factory=set)
    substituted: bool = False
    ligated: bool = False
    multiplied: bool = False
    #: Of a text that is shaped as a whole, the number of the syllable.
    syllable: int = 0

    def is_(self, *kinds: str) -> bool:
        """Whether it still is of one of these kinds; of what became one with others, nothing is known."""
        return not self.ligated and self.kind in kinds

    @property
    def is_consonant(self) -> bool:
        """Whether it still is what may be a base."""
        return not self.ligated and self.kind in CONSONANTS

    @property
    def is_halant(self) -> bool:
        """Whether it still is a halant."""
        return self.is_(HALANT)

    @property
    def is_joiner(self) -> bool:
        """Whether it is one of the two letters that only join or part."""
        return self.is_(JOINER, NON_JOINER)

    @property
    def is_one_of_several(self) -> bool:
        """Whether it was made of several and has stayed one."""
        return self.ligated and not self.multiplied


_JOINER = 0x200D
#: Features that act wherever they fit.
EVERYWHERE = frozenset((
    "locl", "ccmp", "nukt", "akhn", "rkrf", "vatu", "cjct", "pres", "abvs", "blws", "psts", "haln",
    "rlig", "rclt", "calt", "clig",
))  # fmt: skip


def substitute(rules: Rules, signs: list[Sign], features: Iterable[str]) -> None:
    """Let some features act together, their lookups in the font's order."""
    of_lookup: dict[int, set[str]] = {}
    for feature in features:
        for number in rules.substitution.features.get(feature, ()):
            of_lookup.setdefault(number, set()).add(feature)
    for number, acting in sorted(of_lookup.items()):
        _Pass(rules, signs, acting).over(rules.substitution.lookup(number))


def would_substitute(rules: Rules, feature: str, shapes: Sequence[int], alone: bool) -> bool:
    """Whether a feature would make something of just these shapes; `alone`: with no more about them."""
    tables = (
        table for number in rules.substitution.features.get(feature, ())
        for table in rules.substitution.lookup(number).tables
    )  # fmt: skip
    return any(_would(table, tuple(shapes), alone) for table in tables)


def _would(table: object, shapes: tuple[int, ...], alone: bool) -> bool:
    if isinstance(table, Swaps):
        return len(shapes) == 1 and shapes[0] in table.by
    if isinstance(table, Ligatures):
        return any(rest == shapes[1:] for rest, _ in table.by.get(shapes[0], ()))
    if isinstance(table, Contexts):
        return any(
            len(rule.itself) == len(shapes) and not (alone and (rule.before or rule.after))
            and all(shape in fits for shape, fits in zip(shapes, rule.itself, strict=True))
            for rule in table.rules
        )  # fmt: skip
    return False


class Matching:
    """Finds what fits in a row of shapes, passing over what a lookup does not see."""

    def __init__(self, shapes: Sequence[int], joiners: frozenset[int], open_to: Sequence[bool]) -> None:
        self._shapes, self._joiners, self._open_to = shapes, joiners, open_to

    def itself(self, lookup: Lookup, at: int, wanted: Sequence[Fits]) -> list[int] | None:
        """Where these stand, the first of them at `at`."""
        if self._shapes[at] not in wanted[0]:
            return None
        where = [at]
        for fits in wanted[1:]:
            at += 1
            while at < len(self._shapes) and self._shapes[at] in lookup.unseen:
                at += 1
            if at >= len(self._shapes) or self._shapes[at] not in fits or not self._open_to[at]:
                return None
            where.append(at)
        return where

    def around(self, lookup: Lookup, at: int, step: int, wanted: Sequence[Fits]) -> bool:
        """Whether these stand before (`step` -1) or after `at`; joiners are seen only where one is wanted."""
        for fits in wanted:
            at += step
            while 0 <= at < len(self._shapes) and self._passes(lookup, self._shapes[at], fits):
                at += step
            if not 0 <= at < len(self._shapes) or self._shapes[at] not in fits:
                return False
        return True

    def _passes(self, lookup: Lookup, shape: int, fits: Fits) -> bool:
        return shape in lookup.unseen or (shape in self._joiners and shape not in fits)

    def in_context(self, lookup: Lookup, at: int, rule: InContext) -> list[int] | None:
        """Where a rule's own shapes stand, if all around fits too."""
        where = self.itself(lookup, at, rule.itself)
        if where is None or not self.around(lookup, at, -1, rule.before):
            return None
        return where if self.around(lookup, where[-1], 1, rule.after) else None


class _Pass:
    """One lookup's way over a syllable."""

    def __init__(self, rules: Rules, signs: list[Sign], acting: set[str]) -> None:
        self._rules, self._signs, self._acting = rules, signs, acting
        self._joiners = frozenset((rules.letters.get(_JOINER, 0),))

    def over(self, lookup: Lookup) -> None:
        """From the first sign to the last."""
        at = 0
        while at < len(self._signs):
            sign = self._signs[at]
            done = self._open(sign) and sign.shape not in lookup.unseen and self._apply(lookup, at)
            at = done or at + 1

    def _open(self, sign: Sign) -> bool:
        return not (self._acting.isdisjoint(EVERYWHERE) and self._acting.isdisjoint(sign.may))

    def _apply(self, lookup: Lookup, at: int) -> int:
        """Where to go on, or 0 if nothing acted."""
        for table in lookup.tables:
            if isinstance(table, Swaps):
                done = self._swap(table, at)
            elif isinstance(table, Ligatures):
                done = self._ligate(table, lookup, at)
            elif isinstance(table, Contexts):
                done = self._in_context(table, lookup, at)
            else:
                done = 0
            if done:
                return done
        return 0

    def _matching(self) -> Matching:
        return Matching([sign.shape for sign in self._signs], self._joiners, [self._open(s) for s in self._signs])

    def _swap(self, table: Swaps, at: int) -> int:
        sign = self._signs[at]
        made = table.by.get(sign.shape)
        if made is None:
            return 0
        sign.substituted = True
        if len(made) == 1:
            sign.shape = made[0]
            return at + 1
        copies = [
            Sign(shape, sign.kind, sign.place, set(sign.may), True, sign.ligated, True, sign.syllable) for shape in made
        ]
        self._signs[at : at + 1] = copies
        return at + len(copies) if copies else at + 1

    def _ligate(self, table: Ligatures, lookup: Lookup, at: int) -> int:
        if self._signs[at].shape not in table.by:
            return 0
        matching = self._matching()
        for rest, made in table.by[self._signs[at].shape]:
            where = matching.itself(lookup, at, [(self._signs[at].shape,), *((shape,) for shape in rest)])
            if where:
                self._make_one(where, made)
                return where[-1] + 2 - len(where)
        return 0

    def _make_one(self, where: list[int], made: int) -> None:
        sign = self._signs[where[0]]
        sign.shape, sign.substituted = made, True
        if len(where) > 1:
            sign.ligated, sign.multiplied = True, False
        for gone in reversed(where[1:]):
            del self._signs[gone]

    def _in_context(self, table: Contexts, lookup: Lookup, at: int) -> int:
        shape, matching = self._signs[at].shape, None
        for rule in table.rules:
            if shape not in rule.itself[0]:
                continue
            matching = matching or self._matching()
            where = matching.in_context(lookup, at, rule)
            if where:
                return self._act(rule, where)
        return 0

    def _act(self, rule: InContext, where: list[int]) -> int:
        end = where[-1] + 1
        for place, number in rule.acts:
            if place >= len(where):
                continue
            inner, before = self._rules.substitution.lookup(number), len(self._signs)
            if not self._apply(inner, where[place]):
                continue
            more = len(self._signs) - before
            end = max(end + more, where[place] + 1)
            if more > 0:
                where[place + 1 : place + 1] = [where[place] + number for number in range(1, more + 1)]
            elif more < 0:
                del where[place + 1 : place + 1 - more]
            after = place + 1 + max(more, 0)
            where[after:] = [at + more for at in where[after:]]
        return end

