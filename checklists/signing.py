"""A signature drawn with a finger: what is one, and the reason against an act that demands one and has none."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from checklists.facts import Fact, Strokes
from checklists.refusing import PASSED, Reasons, no

#: Less ink than this, in thousandths of the field, is a touch and not a name.
LEAST_INK = 120
#: Stands for the finger's strokes where it is asked what else stands against an act, before anybody signed.
AS_IF_SIGNED: Strokes = ((0, 500, 1000, 500),)


def ink(strokes: Strokes) -> float:
    """How long all strokes are together, in thousandths."""
    total = 0.0
    for stroke in strokes:
        points = list(zip(stroke[::2], stroke[1::2], strict=False))
        total += sum(abs(x2 - x1) + abs(y2 - y1) for (x1, y1), (x2, y2) in pairwise(points))
    return total


def unsigned(fact: Fact, who: str) -> Reasons:
    """The reason against something that is signed, where no signature is drawn under it.

    Of what is being done only: what was signed by name, before the rules asked for a hand, stays as it is.
    """
    signed: Any = fact
    if not hasattr(fact, "signature") or ink(signed.signature) >= LEAST_INK:
        return PASSED
    words = "A dot is no signature." if signed.signature else "It is not signed: no signature is drawn."
    return no("not signed", words, f"Let {who} sign with a finger.", closure=str(getattr(fact, "closure", "")))
