"""Sinhala, Burmese and Lao: their syllables, and the order in which the signs of one stand.

After the published script development specifications (the Universal Shaping Engine's for Sinhala, Myanmar's for
Burmese; Lao is written in the order of typing); where they leave a choice, as HarfBuzz chooses.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache

from mobileapp.shaping.opentype import Rules
from mobileapp.shaping.signs import Sign, substitute

_JOINER, _NON_JOINER, _CIRCLE = "\u200d", "\u200c", "\u25cc"
_LAST = ("abvs", "blws", "haln", "pres", "psts", "rlig", "rclt", "calt", "clig", "liga")


def _kinds(rows: str) -> dict[str, str]:
    """A letter's kind, from rows such as "C 1000-1020 103f"."""
    known = {_JOINER: "J", _NON_JOINER: "Z", _CIRCLE: "G"}
    for row in rows.strip().splitlines():
        kind, *spans = row.split()
        for span in spans:
            first, _, last = span.partition("-")
            known.update(dict.fromkeys(map(chr, range(int(first, 16), int(last or first, 16) + 1)), kind))
    return known


#: C consonant, R one that may ride, V vowel, G figure, P before, b above, w below, p behind, A sign above, B dot below,
#: S tone, H stacker, a killer, Y M W h the medial signs.
_BURMESE = _kinds("""
    C 1000-1020 103f 104e
    R 1004 101b
    V 1021-102a
    G 1040-1049
    p 102b-102c
    b 102d-102e 1033-1035
    w 102f-1030
    P 1031
    A 1032 1036
    B 1037
    S 1038
    H 1039
    a 103a
    Y 103b
    M 103c
    W 103d
    h 103e
""")
_BURMESE_TAIL = "a*Y?a?M?(?:(?:Wh?|h)a?)?P*b*w*A*(?:Ba?)?(?:ph?a*b*A*(?:Ba?)?)*S*[JZ]?"
_BURMESE_SYLLABLE = re.compile(f"(?:RaH)?[CRVG](?:H[CRV])*(?:H|{_BURMESE_TAIL})")
_BURMESE_BROKEN = re.compile(f"(?:RaH)?(?:H[CRV])*(?:H|{_BURMESE_TAIL})")
#: Places, in the order in which signs are sorted.
_LEFT, _BEFORE, _BASE, _AFTER, _ABOVE_SUB, _BELOW, _AFTER_SUB = range(7)

_SINHALA = _kinds("""
    C 0d85-0d96 0d9a-0dc6 0de6-0def
    H 0dca
    p 0dcf-0dd1 0dd8 0ddf 0df2-0df3
    b 0dd2-0dd3
    w 0dd4 0dd6
    P 0dd9 0ddb
    A 0d81
    S 0d82-0d83
""")
_SINHALA_SYLLABLE = re.compile("[CG](?:HC)*(?:P*b*w*p*|H)H?A*S*")


Shaped = Iterator[tuple[list[str], list[Sign]]]


def signs_of(text: str, rules: Rules, script: str) -> Shaped:
    """What is shaped together: its syllables as they were typed, and its signs in the order they are drawn."""
    return _WAYS[script](text, rules)


def _made(said: str, rules: Rules, kind_of: dict[str, str], number: int = 0) -> list[Sign]:
    return [
        Sign(rules.letters.get(ord(letter), 0), kind_of.get(letter, "X"), _AFTER, syllable=number) for letter in said
    ]


# --- Burmese


def _burmese(text: str, rules: Rules) -> Shaped:
    """All of a text at once: the fine rules look beyond a syllable, the basic ones do not."""
    kinds, at = "".join(_BURMESE.get(letter, "X") for letter in text), 0
    syllables, signs = [], []
    while at < len(text):
        whole, broken = _BURMESE_SYLLABLE.match(kinds, at), _BURMESE_BROKEN.match(kinds, at)
        end = max(match.end() if match else 0 for match in (whole, broken))
        own = _made(text[at : max(end, at + 1)], rules, _BURMESE, len(syllables))
        syllables.append(text[at : max(end, at + 1)])
        substitute(rules, own, ("locl", "ccmp"))
        if end > at:
            if not (whole and whole.end() == end):
                own.insert(0, Sign(rules.letters.get(ord(_CIRCLE), 0), "G", _AFTER, syllable=len(syllables) - 1))
            _order_burmese(own)
        for sign in own:
            sign.may.update(("rphf", "pref", "blwf", "pstf", "liga"))
        for feature in ("rphf", "pref", "blwf", "pstf"):
            substitute(rules, own, (feature,))
        signs += own
        at += len(syllables[-1])
    substitute(rules, signs, _LAST)
    yield syllables, signs


def _order_burmese(signs: list[Sign]) -> None:
    riding = 3 if [sign.kind for sign in signs[:3]] == ["R", "a", "H"] else 0
    base = next((at for at in range(riding, len(signs)) if signs[at].kind in "CRVG"), 0 if riding else len(signs))
    place = _AFTER
    for at, sign in enumerate(signs):
        if at < riding:
            sign.place = _AFTER
        elif at <= base:
            sign.place = _BASE if at == base else _BEFORE
        elif sign.kind in "MP":
            sign.place = _BEFORE if sign.kind == "M" else _LEFT
        elif sign.kind == "A" and place == _BELOW:
            sign.place = _ABOVE_SUB
        else:
            if sign.kind == "w" and place in (_AFTER, _BELOW):
                place = _BELOW
            elif place == _BELOW:
                place = _AFTER_SUB
            sign.place = place
    signs.sort(key=lambda sign: sign.place)
    lefts = sum(sign.place == _LEFT for sign in signs)
    signs[:lefts] = reversed(signs[:lefts])


# --- Sinhala


def _sinhala(text: str, rules: Rules) -> Shaped:
    at = 0
    while at < len(text):
        # Letters that only join are not seen by the pattern.
        seen = [where for where in range(at, len(text)) if text[where] not in (_JOINER, _NON_JOINER)]
        match = _SINHALA_SYLLABLE.match("".join(_SINHALA.get(text[where], "X") for where in seen))
        end = seen[match.end() - 1] + 1 if match else at + 1
        while match and end < len(text) and text[end] in (_JOINER, _NON_JOINER):
            end += 1
        said = text[at:end]
        yield [said], _order_sinhala(_made(said, rules, _SINHALA), rules)
        at = end


def _order_sinhala(signs: list[Sign], rules: Rules) -> list[Sign]:
    substitute(rules, signs, ("locl", "ccmp", "nukt", "akhn"))
    for sign in signs:
        sign.may.update(("pref", "abvf", "blwf", "half", "pstf", "liga"))
        sign.substituted = False
    for sign in signs[:3]:
        sign.may.add("rphf")
    substitute(rules, signs, ("rphf",))
    riding = next((sign for sign in signs if "rphf" in sign.may and sign.substituted), None)
    substitute(rules, signs, ("pref",))
    substitute(rules, signs, ("rkrf", "abvf", "blwf", "half", "pstf", "vatu", "cjct"))
    if riding is not None and signs[0] is riding and len(signs) > 1:
        to = next((at - 1 for at in range(1, len(signs)) if signs[at].kind in "pbwAS" or signs[at].is_halant), None)
        signs.insert(len(signs) - 1 if to is None else to, signs.pop(0))
    to = 0
    for at, sign in enumerate(list(signs)):
        if sign.is_halant:
            to = at + 1
        elif sign.kind == "P" and to < at:
            signs.insert(to, signs.pop(at))
    substitute(rules, signs, _LAST)
    return signs


# --- Lao


def _lao(text: str, rules: Rules) -> Shaped:
    for said in _LAO_SYLLABLE.findall(text):
        # The sign of two parts: its ring goes under the marks above, its tail behind them.
        parts = re.sub("([\u0eb1\u0eb4-\u0eb7\u0ebb\u0ec7-\u0ece]*)\u0eb3", "\u0ecd\\1\u0eb2", said)
        signs = _made(parts, rules, {_JOINER: "J", _NON_JOINER: "Z"})
        for sign in signs:
            sign.may.add("liga")
        substitute(rules, signs, ("locl", "ccmp", *_LAST))
        yield [said], signs


_LAO_SYLLABLE = re.compile(
    "[\u0ec0-\u0ec4]*[^\u0ec0-\u0ec4\u0eb1-\u0ebc\u0ec8-\u0ece][\u0eb1-\u0ebc\u0ec8-\u0ece]*|.", re.DOTALL
)
_WAYS: dict[str, Callable[[str, Rules], Shaped]] = {
    "Mymr": _burmese, "Sinh": _sinhala, "Laoo": _lao,
}  # fmt: skip


@cache
def southern_script_of(letter: str) -> str:
    """The script of these whose block a letter is in, or none."""
    code = ord(letter)
    return next((name for name, first, last in BLOCKS if first <= code <= last), "")


BLOCKS = (("Sinh", 0xD80, 0xDFF), ("Laoo", 0xE80, 0xEFF), ("Mymr", 0x1000, 0x104F))
