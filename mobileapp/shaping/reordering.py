"""The order in which a syllable's signs stand: before the font's rules act, and after its basic ones have.

After the script development specifications for the scripts of India that the OpenType documents publish; where they
leave a choice, as HarfBuzz chooses, so that the outcome is the one that people know from other screens.
"""

from __future__ import annotations

from mobileapp.shaping.letters import (
    AFTER_MAIN,
    AFTER_POST,
    AFTER_SUB,
    BASE,
    BEFORE,
    BELOW,
    EXPLICIT,
    FIRST_REPH,
    HALANT,
    IMPLICIT,
    JOINER,
    LEFT,
    MARKS,
    MATRA,
    MEDIAL,
    NON_JOINER,
    NUKTA,
    POST,
    RA,
    REPHA,
    WRITTEN,
    Script,
)  # fmt: skip
from mobileapp.shaping.opentype import Rules
from mobileapp.shaping.signs import Sign, would_substitute

_NO_HALVES = (0xB80, 0xD00)  # Tamil, Malayalam
_KANNADA, _MALAYALAM = 0xC80, 0xD00


class Order:
    """Orders the signs of one syllable."""

    def __init__(self, rules: Rules, script: Script, signs: list[Sign]) -> None:
        self._rules, self._script, self._signs = rules, script, signs
        self._halant = rules.letters.get(script.block + 0x4D, 0)
        self._alone = not script.old and script.block != _MALAYALAM

    # Before the font's rules

    def first(self) -> None:
        """Find the base, put every sign in its place, and say which features may act on it."""
        signs = self._signs
        for sign in signs:
            if sign.place == BASE:
                sign.place = self._place_by_font(sign.shape)
        if self._script.block == _KANNADA and [s.kind for s in signs[:3]] == [RA, HALANT, JOINER]:
            signs[1], signs[2] = signs[2], signs[1]
        base, has_reph = self._base()
        for sign in signs[:base]:
            sign.place = min(BEFORE, sign.place)
        if base < len(signs):
            signs[base].place = BASE
        if has_reph:
            signs[0].place = FIRST_REPH
        if self._script.old:
            self._move_halant(base)
        self._tie_marks()
        self._tie_to_letters(base)
        signs.sort(key=lambda sign: sign.place)
        self._turn_left_signs()
        base = next((at for at, sign in enumerate(signs) if sign.place == BASE), len(signs))
        self._allow(base)

    def _place_by_font(self, shape: int) -> int:
        """Whether the font has a form of a letter that stands below or behind another."""
        for feature, place in (("blwf", BELOW), ("vatu", BELOW), ("pstf", POST), ("pref", POST)):
            for pair in ((self._halant, shape), (shape, self._halant)):
                if would_substitute(self._rules, feature, pair, self._alone):
                    return place
        return BASE

    def _base(self) -> tuple[int, bool]:
        signs, limit, has_reph = self._signs, 0, False
        base = len(signs)
        if self._begins_with_reph():
            limit = 1 if self._script.reph == WRITTEN else 2
            while limit < len(signs) and signs[limit].is_joiner:
                limit += 1
            base, has_reph = 0, True
        at, seen_below = len(signs), False
        while at > limit:
            at -= 1
            sign = signs[at]
            if sign.is_consonant:
                base = at
                if sign.place != BELOW and (sign.place != POST or seen_below):
                    break
                seen_below = seen_below or sign.place == BELOW
            elif at and sign.kind == JOINER and signs[at - 1].kind == HALANT:
                break
        if has_reph and base == 0 and limit <= 2:
            has_reph = False
        return base, has_reph

    def _begins_with_reph(self) -> bool:
        signs, how = self._signs, self._script.reph
        if how == WRITTEN:
            return bool(signs) and signs[0].kind == REPHA
        if "rphf" not in self._rules.substitution.features or len(signs) < 3:
            return False
        shapes = [sign.shape for sign in signs[:3]]
        if how == IMPLICIT and not signs[2].is_joiner:
            return would_substitute(self._rules, "rphf", shapes[:2], self._alone)
        if how == EXPLICIT and signs[2].kind == JOINER:
            return any(would_substitute(self._rules, "rphf", shapes[:count], self._alone) for count in (2, 3))
        return False

    def _move_halant(self, base: int) -> None:
        """Of the older kind: the first halant after the base goes behind the last letter."""
        signs = self._signs
        at = next((at for at in range(base + 1, len(signs)) if signs[at].kind == HALANT), None)
        if at is None:
            return
        stops = self._script.block == _KANNADA
        to = len(signs) - 1
        while to > at and not (signs[to].is_consonant or (stops and signs[to].kind == HALANT)):
            to -= 1
        if to > at and signs[to].kind != HALANT:
            signs.insert(to, signs.pop(at))

    def _tie_marks(self) -> None:
        """What has no place of its own goes where the sign before it goes."""
        signs, last = self._signs, 0
        for at, sign in enumerate(signs):
            if sign.kind in (JOINER, NON_JOINER, NUKTA, MEDIAL, HALANT):
                sign.place = last
                if sign.kind == HALANT and last == LEFT:
                    sign.place = next((s.place for s in reversed(signs[:at]) if s.place != LEFT), last)
            elif sign.place != MARKS:
                last = sign.place

    def _tie_to_letters(self, base: int) -> None:
        """Letters after the base own what stands between them and the letter or vowel sign before."""
        signs, last = self._signs, base
        for at in range(base + 1, len(signs)):
            if signs[at].is_consonant:
                for between in signs[last + 1 : at]:
                    if between.place < MARKS:
                        between.place = signs[at].place
                last = at
            elif signs[at].kind == MATRA:
                last = at

    def _turn_left_signs(self) -> None:
        """Of several vowel signs on the left the last stands outermost, each with its own marks behind it."""
        signs = self._signs
        left = [at for at, sign in enumerate(signs) if sign.place == LEFT]
        if len(left) < 2:
            return
        groups: list[list[Sign]] = []
        for sign in signs[left[0] : left[-1] + 1]:
            if sign.kind == MATRA or not groups:
                groups.append([])
            groups[-1].append(sign)
        signs[left[0] : left[-1] + 1] = [sign for group in reversed(groups) for sign in group]

    def _allow(self, base: int) -> None:
        signs = self._signs
        for sign in signs:
            if sign.place != FIRST_REPH:
                break
            sign.may.add("rphf")
        before = {"half", "blwf"} if self._script.below_before and not self._script.old else {"half"}
        for at, sign in enumerate(signs):
            sign.may |= before if at < base else {"blwf", "abvf", "pstf"} if at > base else set()
        if "pref" in self._rules.substitution.features:
            for at in range(base + 1, len(signs) - 1):
                pair = [sign.shape for sign in signs[at : at + 2]]
                if would_substitute(self._rules, "pref", pair, self._alone):
                    for sign in signs[at : at + 2]:
                        sign.may.add("pref")
                    break
        for at in range(1, len(signs)):
            if signs[at].kind == NON_JOINER:
                for back in range(at - 1, -1, -1):
                    signs[back].may.discard("half")
                    if signs[back].is_consonant:
                        break

    # After the font's basic rules

    def last(self, begins_word: bool) -> None:
        """Put the signs left of the base, the reph and a Ra of the left where the formed signs leave them."""
        signs = self._signs
        for sign in signs:
            if sign.shape == self._halant and sign.ligated and sign.multiplied:
                sign.kind, sign.ligated, sign.multiplied = HALANT, False, False
        base, try_pref = self._base_again()
        base = self._settle_left_signs(base)
        base = self._settle_reph(base)
        if try_pref and base + 1 < len(signs):
            self._settle_pref(base)
        if begins_word and signs[0].place == LEFT:
            signs[0].may.add("init")

    def _base_again(self) -> tuple[int, bool]:
        signs, try_pref = self._signs, "pref" in self._rules.substitution.features
        end = len(signs)
        base = next((at for at, sign in enumerate(signs) if sign.place >= BASE), end)
        if base < end:
            if try_pref and base + 1 < end:
                at = next((at for at in range(base + 1, end) if "pref" in signs[at].may), None)
                if at is not None and not (signs[at].substituted and signs[at].is_one_of_several):
                    base, try_pref = at, False
                    while base < end and signs[base].is_halant:
                        base += 1
                    if base < end:
                        signs[base].place = BASE
            if self._script.block == _MALAYALAM and base < end:
                base = self._past_unformed(base)
            if base < end and base > 0 and signs[base].place > BASE:
                base -= 1
        if base == end and base > 0 and signs[base - 1].is_(JOINER):
            base -= 1
        if base < end:
            while base > 0 and signs[base].is_(NUKTA, HALANT):
                base -= 1
        return base, try_pref

    def _past_unformed(self, base: int) -> int:
        """In Malayalam, letters that could have stood below and did not: the last of them is the base."""
        signs, at = self._signs, base + 1
        while at < len(signs):
            while at < len(signs) and signs[at].is_joiner:
                at += 1
            if at == len(signs) or not signs[at].is_halant:
                break
            at += 1
            while at < len(signs) and signs[at].is_joiner:
                at += 1
            if at < len(signs) and signs[at].is_consonant and signs[at].place == BELOW:
                base = at
                signs[base].place = BASE
            at += 1
        return base

    def _settle_left_signs(self, base: int) -> int:
        signs = self._signs
        if len(signs) < 2 or base == 0:
            return base
        to = base - 2 if base == len(signs) else base - 1
        if self._script.block not in _NO_HALVES:
            to = self._after_last_halant(to)
        if to > 0 and signs[to].place != LEFT:
            for at in range(to, 0, -1):
                if signs[at - 1].place == LEFT:
                    if at - 1 < base <= to:
                        base -= 1
                    signs.insert(to, signs.pop(at - 1))
                    to -= 1
        return base

    def _after_last_halant(self, to: int) -> int:
        """Where signs of the left go: behind the last halant that stands alone, or nowhere."""
        signs = self._signs
        while True:
            while to > 0 and not signs[to].is_(MATRA, HALANT):
                to -= 1
            if not (signs[to].is_halant and signs[to].place != LEFT):
                return 0
            if to + 1 < len(signs) and signs[to + 1].kind == JOINER and to > 0:
                to -= 1
                continue
            return to

    def _settle_reph(self, base: int) -> int:
        signs = self._signs
        if len(signs) < 2 or signs[0].place != FIRST_REPH:
            return base
        if (signs[0].kind == REPHA) == signs[0].is_one_of_several:
            return base
        to = self._reph_goes(base)
        signs.insert(to, signs.pop(0))
        return base - 1 if 0 < base <= to else base

    def _reph_goes(self, base: int) -> int:
        signs, after = self._signs, self._script.reph_after
        to = 1
        while to < base and not signs[to].is_halant:
            to += 1
        if to < base:
            return to + 1 if to + 1 < base and signs[to + 1].is_joiner else to
        if after == AFTER_MAIN:
            to = base
            while to + 1 < len(signs) and signs[to + 1].place <= AFTER_MAIN:
                to += 1
            if to < len(signs):
                return to
        if after == AFTER_SUB:
            to = base
            while to + 1 < len(signs) and signs[to + 1].place not in (POST, AFTER_POST, MARKS):
                to += 1
            if to < len(signs):
                return to
        to = len(signs) - 1
        while to > 0 and signs[to].place == MARKS:
            to -= 1
        if signs[to].is_halant:
            to -= sum(sign.kind == MATRA for sign in signs[base + 1 : to])
        return to

    def _settle_pref(self, base: int) -> None:
        signs = self._signs
        at = next((at for at in range(base + 1, len(signs)) if "pref" in signs[at].may), None)
        if at is None or not signs[at].is_one_of_several:
            return
        to = base
        if self._script.block not in _NO_HALVES:
            while to > 0 and not signs[to - 1].is_(MATRA, HALANT):
                to -= 1
        if to > 0 and signs[to - 1].is_halant and to < len(signs) and signs[to].is_joiner:
            to += 1
        signs.insert(to, signs.pop(at))
