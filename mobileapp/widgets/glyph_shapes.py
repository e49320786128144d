"""The house's own shapes, each drawn with a Pen on a unit square. A shape stands beside a word, never alone.

Bars are items: an open bar is an item out, a struck bar is one counted back, five struck bars are a closed gate.
A ring is an opening: open, half covered, or sealed. Two blocks are a closure on its seat.
"""

from __future__ import annotations

from collections.abc import Callable

from mobileapp.widgets.pen import Pen


def _out(pen: Pen) -> None:
    pen.open_bar(0.14, 0.08, 0.26, 0.84, 0.09)
    pen.open_bar(0.60, 0.08, 0.26, 0.84, 0.09)


def _back(pen: Pen) -> None:
    pen.bar(0.20, 0.06, 0.17, 0.88)
    pen.bar(0.63, 0.06, 0.17, 0.88)
    pen.stroke([(0.06, 0.30), (0.94, 0.70)], 0.13)


def _gate(pen: Pen) -> None:
    for place in range(5):
        pen.bar(0.08 + place * 0.185, 0.08, 0.10, 0.84)
    pen.stroke([(0.03, 0.26), (0.97, 0.74)], 0.10)


def _engine(pen: Pen) -> None:
    pen.ring(0.5, 0.5, 0.40, 0.13)
    pen.bar(0.42, 0.26, 0.16, 0.48)


def _missing(pen: Pen) -> None:
    pen.stroke([(0.5, 0.04), (0.96, 0.5), (0.5, 0.96), (0.04, 0.5), (0.5, 0.04)], 0.09)
    for low in (0.26, 0.44, 0.62):
        pen.bar(0.42, low, 0.16, 0.11)


def _own(pen: Pen) -> None:
    pen.ring(0.26, 0.5, 0.22, 0.12)
    pen.bar(0.46, 0.44, 0.50, 0.12)
    pen.bar(0.68, 0.22, 0.10, 0.22)
    pen.bar(0.86, 0.22, 0.10, 0.22)


def _look(pen: Pen) -> None:
    pen.solid([(0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5)])


def _drop(pen: Pen) -> None:
    pen.solid([(0.34, 0.62), (0.5, 0.53), (0.66, 0.62), (0.66, 0.80), (0.5, 0.89), (0.34, 0.80)])
    pen.stroke([(0.5, 0.46), (0.5, 0.24)], 0.09, "none")
    pen.stroke([(0.34, 0.38), (0.5, 0.22), (0.66, 0.38)], 0.09)
    pen.bar(0.04, 0.04, 0.32, 0.09)
    pen.bar(0.64, 0.04, 0.32, 0.09)


def _take_back(pen: Pen) -> None:
    pen.stroke([(0.34, 0.92), (0.10, 0.70), (0.34, 0.48)], 0.11)
    pen.stroke([(0.12, 0.70), (0.60, 0.70)], 0.11, "none")
    pen.arc(0.58, 0.42, 0.28, 94, -94, 0.11)
    pen.stroke([(0.61, 0.14), (0.30, 0.14)], 0.11, "none")


def _leave(pen: Pen) -> None:
    pen.stroke([(0.66, 0.90), (0.26, 0.5), (0.66, 0.10)], 0.15)


def _go(pen: Pen) -> None:
    pen.stroke([(0.34, 0.90), (0.74, 0.5), (0.34, 0.10)], 0.15)


def _more(pen: Pen) -> None:
    pen.stroke([(0.10, 0.70), (0.5, 0.30), (0.90, 0.70)], 0.15)


def _chosen(pen: Pen) -> None:
    pen.open_bar(0.04, 0.04, 0.92, 0.92, 0.10)
    pen.bar(0.42, 0.20, 0.16, 0.60)
    pen.stroke([(0.22, 0.34), (0.78, 0.66)], 0.12)


def _unchosen(pen: Pen) -> None:
    pen.open_bar(0.04, 0.04, 0.92, 0.92, 0.10)


def _refused(pen: Pen) -> None:
    pen.open_bar(0.10, 0.06, 0.18, 0.88, 0.07)
    pen.open_bar(0.72, 0.06, 0.18, 0.88, 0.07)
    pen.bar(0.0, 0.40, 1.0, 0.20)


def _seat(pen: Pen) -> None:
    pen.bar(0.04, 0.06, 0.92, 0.22)


def _fitted(pen: Pen) -> None:
    _seat(pen)
    pen.bar(0.04, 0.32, 0.92, 0.22)
    for left in (0.14, 0.42, 0.70):
        pen.bar(left, 0.58, 0.16, 0.20)


def _loosened(pen: Pen) -> None:
    _seat(pen)
    pen.bar(0.04, 0.32, 0.92, 0.22)
    for left, low in ((0.14, 0.76), (0.42, 0.66), (0.70, 0.76)):
        pen.open_bar(left, low, 0.16, 0.22, 0.06)


def _lifted(pen: Pen) -> None:
    _seat(pen)
    pen.open_bar(0.04, 0.70, 0.92, 0.24, 0.08)
    pen.stroke([(0.5, 0.32), (0.5, 0.62)], 0.08, "none")
    pen.stroke([(0.36, 0.48), (0.5, 0.62), (0.64, 0.48)], 0.08)


def _set_down(pen: Pen) -> None:
    _seat(pen)
    pen.open_bar(0.04, 0.32, 0.92, 0.24, 0.08)
    pen.stroke([(0.5, 0.96), (0.5, 0.64)], 0.08, "none")
    pen.stroke([(0.36, 0.78), (0.5, 0.64), (0.64, 0.78)], 0.08)


def _signed(pen: Pen) -> None:
    _seat(pen)
    pen.stroke(
        [(0.08, 0.42), (0.24, 0.88), (0.34, 0.46), (0.48, 0.76), (0.58, 0.48), (0.70, 0.66), (0.94, 0.52)], 0.09
    )


def _recalled(pen: Pen) -> None:
    _seat(pen)
    pen.arc(0.52, 0.62, 0.25, -60, 200, 0.11)
    pen.solid([(0.10, 0.60), (0.28, 0.38), (0.46, 0.60)])


def _uncovered(pen: Pen) -> None:
    pen.ring(0.5, 0.5, 0.40, 0.12)


def _covered(pen: Pen) -> None:
    pen.ring(0.5, 0.5, 0.40, 0.12)
    pen.bar(0.0, 0.40, 1.0, 0.20)


def _sealed(pen: Pen) -> None:
    pen.disc(0.5, 0.5, 0.46)


SHAPES: dict[str, Callable[[Pen], None]] = {
    "out": _out,
    "back": _back,
    "engine": _engine,
    "missing": _missing,
    "own": _own,
    "look": _look,
    "drop": _drop,
    "take back": _take_back,
    "leave": _leave,
    "go": _go,
    "more": _more,
    "chosen": _chosen,
    "unchosen": _unchosen,
    "refused": _refused,
    "gate": _gate,
    "fitted": _fitted,
    "loosened": _loosened,
    "lifted": _lifted,
    "cleared": _gate,
    "set down": _set_down,
    "signed": _signed,
    "recalled": _recalled,
    "uncovered": _uncovered,
    "covered": _covered,
    "sealed": _sealed,
}
