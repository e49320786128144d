"""What a steel fastener should weigh, from its standard's sizes, with the error that this can have.

The mass is taken at the middle of every size's span. The stated error is what the smallest and the largest sizes
allow, and 3 % more for what the shapes leave out (chamfers, fillets, plating, density).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from math import pi, sqrt

from checklists.workshop.fasteners import Hexagon, SocketHead, Span, Thread, Washer

#: g/mm3: 7.85 kg/dm3, as the suppliers' tables take it.
STEEL = 0.00785
MODEL_ERROR = 0.03
_HEXAGON_AREA = sqrt(3) / 2  # of the square of the flats
_CHAMFERS = 0.985  # what the chamfers leave of a hexagon
_SHANK = 0.985  # a plain shank's middle diameter over the nominal one (tolerance h13)
_DEEPER = 1.1  # a socket is about this much deeper than its least engagement, and ends in a drilled cone

#: Picks the smallest (-1), middle (0) or largest (+1) of a span, each for the heaviest outcome.
Pick = Callable[[Span], float]


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass in g, with the relative error it can have: 0.05 says 5 % either way."""

    grams: float
    error: float


def either(*masses: Mass) -> Mass:
    """The mass that covers each of these."""
    if len(masses) == 1:
        return masses[0]
    low = min(each.grams * (1 - each.error) for each in masses)
    high = max(each.grams * (1 + each.error) for each in masses)
    return Mass((low + high) / 2, (high - low) / (high + low))


def mass_per_mm(thread: Thread) -> tuple[float, float]:
    """Mass in g of one mm of the thread, and of one mm of plain shank of the nominal diameter: no bolt leaves these."""
    return STEEL * _disc(thread.pitch_diameter), STEEL * _disc(float(thread.diameter))


def bolt_mass(head: Hexagon, thread: Thread, length: Decimal, standard: str) -> Mass:
    """A hex bolt's mass. Where the standard does not say how far it is threaded, both ways are allowed for."""
    threaded = _thread_length(thread, float(length), Decimal(6), Decimal("6.35"))
    if standard in ("ISO 4017", "DIN 933"):
        lengths = [float(length)]
    elif standard in ("ISO 4014", "DIN 931", "ASME B18.2.1"):
        lengths = [threaded]
    else:
        lengths = [threaded, float(length)]
    low, middle, high = (_hexagon(head, pick) for pick in _PICKS)
    shanks = [_shank(thread, float(length), each) for each in lengths]
    return either(*(_mass(low + shank, middle + shank, high + shank) for shank in shanks))


def socket_mass(socket: SocketHead, thread: Thread, length: Decimal) -> Mass:
    """A socket head cap screw's mass."""
    threaded = _thread_length(thread, float(length), Decimal(12), Decimal("12.7"))
    shank = _shank(thread, float(length), threaded)
    low, middle, high = (_socket_head(socket, pick) + shank for pick in _PICKS)
    return _mass(low, middle, high)


def stud_mass(thread: Thread, length: Decimal) -> Mass:
    """A stud's mass: between threaded all along and threaded for 2d + 6 mm at its two ends together."""
    thread_only = _shank(thread, float(length), float(length))
    ends = min(2 * float(thread.diameter) + 6, float(length))
    part_plain = _shank(thread, float(length), ends)
    return _mass(thread_only, (thread_only + part_plain) / 2, part_plain)


def nut_mass(nut: Hexagon, thread: Thread) -> Mass:
    """A hex nut's mass."""
    bore = _disc(thread.pitch_diameter)
    low, middle, high = (_hexagon(nut, pick) - bore * pick(nut.height) for pick in _PICKS)
    return _mass(low, middle, high)


def washer_mass(washer: Washer) -> Mass:
    """A plain washer's mass."""
    low, middle, high = (
        (_disc(pick(washer.outside)) - _disc(against(washer.hole))) * pick(washer.height)
        for pick, against in zip(_PICKS, reversed(_PICKS), strict=True)
    )
    return _mass(low, middle, high)


_PICKS: tuple[Pick, Pick, Pick] = (
    lambda span: float(span.low),
    lambda span: span.middle,
    lambda span: float(span.high),
)


def _mass(low: float, middle: float, high: float) -> Mass:
    """A mass from volumes in mm3: smallest, middle, largest."""
    return Mass(STEEL * middle, max(high - middle, middle - low) / middle + MODEL_ERROR)


def _disc(diameter: float) -> float:
    return pi / 4 * diameter**2


def _hexagon(row: Hexagon, pick: Pick) -> float:
    return _HEXAGON_AREA * pick(row.flats) ** 2 * pick(row.height) * _CHAMFERS


def _socket_head(row: SocketHead, pick: Pick) -> float:
    key = float(row.key)
    hole = _HEXAGON_AREA * key**2 * float(row.engagement) * _DEEPER + _disc(key) * key / (2 * sqrt(3)) / 3
    return _disc(pick(Span(row.head.low, row.plain))) * pick(row.height) - hole


def _thread_length(thread: Thread, length: float, metric: Decimal, inch: Decimal) -> float:
    """How far a part-threaded screw is threaded: twice its diameter and a bit; a short one all along."""
    usual = 2 * float(thread.diameter) + float(inch if thread.per_inch else metric)
    return length if length <= usual + 3 * float(thread.pitch) else usual


def _shank(thread: Thread, length: float, threaded: float) -> float:
    return _disc(thread.pitch_diameter) * threaded + _disc(_SHANK * float(thread.diameter)) * (
        length - threaded
    )
