"""Measurement uncertainty by the GUM: estimates, how they propagate, and how they are said.

An `Estimate` is a value with its standard uncertainty, in one unit throughout. Propagation takes the law of
propagation of uncertainty for independent inputs, with the second-order terms of GUM 5.1.2, so that a bent function
is not taken for a straight one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import floor, fsum, inf, log10, sqrt

#: The coverage factor used where none is said: about 95 % for a normal error.
USUAL_K = 2.0


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its standard uncertainty `u`, with its degrees of freedom."""

    value: float
    u: float
    freedom: float = inf

    def expanded(self, k: float = USUAL_K) -> float:
        """Expanded uncertainty U = k u."""
        return k * self.u


@dataclass(frozen=True, slots=True)
class Instrument:
    """What a scale or gauge can do, in one unit: its resolution, and the largest error it may have either way."""

    name: str
    resolution: float
    largest_error: float

    @property
    def reading_u(self) -> float:
        """Standard uncertainty of reading it once: half a step either way, all equally likely (GUM 4.3.7, F.2.2.1)."""
        return self.resolution / sqrt(12)

    @property
    def error_u(self) -> float:
        """Standard uncertainty of its own error, the same in every reading: all values up to the largest likely."""
        return self.largest_error / sqrt(3)

    def reads(self, value: float) -> Estimate:
        """One reading."""
        return Estimate(value, sqrt(self.reading_u**2 + self.error_u**2))


def propagate(function: Callable[..., float], inputs: Sequence[Estimate], order: int = 2) -> Estimate:
    """The value of a function of independent inputs, and its combined standard uncertainty.

    `order` 1 keeps the first-order terms only; 2 adds GUM 5.1.2's. Degrees of freedom by Welch-Satterthwaite (G.4.1).
    """
    values = [each.value for each in inputs]
    first = [_first(function, values, i, each.u) for i, each in enumerate(inputs)]
    variance = fsum(term**2 for term in first)
    freedom = _freedom(first, inputs, variance)
    if order == 2:
        variance += _second_order(function, values, inputs, first)
    return Estimate(function(*values), sqrt(max(variance, 0.0)), freedom)


def _first(function: Callable[..., float], values: Sequence[float], i: int, u: float) -> float:
    """First derivative by input i, times its uncertainty: half of what moving it by u either way changes."""
    return (_moved(function, values, {i: u}) - _moved(function, values, {i: -u})) / 2


def _second_order(
    function: Callable[..., float],
    values: Sequence[float],
    inputs: Sequence[Estimate],
    first: Sequence[float],
) -> float:
    """Sum over i, j of (f_ij^2 / 2 + f_i f_ijj) u_i^2 u_j^2, the derivatives by differences over u."""
    terms = []
    for i, one in enumerate(inputs):
        for j, other in enumerate(inputs):
            if not one.u or not other.u:
                continue
            mixed = _mixed(function, values, (i, one.u), (j, other.u))
            terms.append(mixed**2 / 2 + first[i] * _third(function, values, (i, one.u), (j, other.u)))
    return fsum(terms)


Nudge = tuple[int, float]


def _mixed(function: Callable[..., float], values: Sequence[float], one: Nudge, other: Nudge) -> float:
    """Second derivative by two inputs, times both uncertainties."""
    (i, u), (j, v) = one, other
    if i == j:
        middle = function(*values)
        return _moved(function, values, {i: u}) - 2 * middle + _moved(function, values, {i: -u})
    corners = [(_moved(function, values, {i: s * u, j: t * v}), s * t) for s in (1, -1) for t in (1, -1)]
    return fsum(sign * value for value, sign in corners) / 4


def _third(function: Callable[..., float], values: Sequence[float], one: Nudge, other: Nudge) -> float:
    """Third derivative, once by one input and twice by the other, times u and v squared."""
    (i, u), (j, v) = one, other
    if i == j:
        at = {step: _moved(function, values, {i: step * u}) for step in (-2, -1, 1, 2)}
        return (at[2] - 2 * at[1] + 2 * at[-1] - at[-2]) / 2
    ups, downs = (
        [_moved(function, values, {i: s * u, j: step * v}) for step in (-1, 0, 1)] for s in (1, -1)
    )  # fmt: skip
    return ((ups[0] - 2 * ups[1] + ups[2]) - (downs[0] - 2 * downs[1] + downs[2])) / 2


def _moved(function: Callable[..., float], values: Sequence[float], steps: dict[int, float]) -> float:
    return function(*(value + steps.get(i, 0.0) for i, value in enumerate(values)))


def _freedom(first: Sequence[float], inputs: Sequence[Estimate], variance: float) -> float:
    share = fsum(term**4 / each.freedom for term, each in zip(first, inputs, strict=True))
    return variance**2 / share if share else inf


def said(value: float, expanded: float, unit: str) -> str:
    """A value with its expanded uncertainty, both to the uncertainty's two figures: "0.42 ± 0.05 g"."""
    if not expanded:
        return f"{value:g} {unit}"
    places = max(0, 1 - floor(log10(abs(expanded))))
    return f"{value:.{places}f} ± {expanded:.{places}f} {unit}"
