"""What a count pad counts: from where to where, how many of how many, and how that is said. Pure, no widgets."""

from __future__ import annotations

from dataclasses import dataclass

from checklists import builders, places
from checklists.facts import Counted, Entry, Move
from checklists.judge import judge
from checklists.state import FITTED, IN_PLACE, LOOSENED, Teardown
from checklists.words import how_many, listing, within

_OVER = (places.CONVERTED, places.SCRAP)
_AWAY = places.OUT_FAMILIES | places.ENGINE_FAMILIES


@dataclass(frozen=True, slots=True)
class PadFigures:
    """`counted` of `total` of `line` went from `source` to `target`; `here` more can still be taken from `source`."""

    line: str
    source: str
    target: str
    direction: str
    counted: int
    total: int
    here: int

    @property
    def left(self) -> int:
        """How many are still to be counted."""
        return max(0, self.total - self.counted)

    @property
    def done(self) -> bool:
        """Whether nothing more is to be counted from this source."""
        return self.here == 0 or self.left == 0

    @property
    def verb(self) -> str:
        """The word after the figure: out, back or taken away."""
        if self.direction == "out":
            return "out"
        return "back" if places.family(self.target) in places.RESTING_FAMILIES else "taken away"

    def spoken(self) -> str:
        """What is said after a count: "7 out, 3 left"."""
        return f"{self.counted} {self.verb}, {self.left} left" if self.left else f"all {self.counted} {self.verb}"


def resolve(t: Teardown, line: str, source: str, target: str, now: str, who: str) -> tuple[str, str]:
    """Source and target of a pad, worked out where they are not said."""
    home = builders.home_of(t, line)
    if not source:
        source = home if t.quantity(line, home) and not _anything_away(t, line) else builders.where_away(t, line)
    return source, target or _target(t, line, source, home, now, who)


def _anything_away(t: Teardown, line: str) -> bool:
    return any(places.family(place) in _AWAY for place in t.places_of(line))


def _target(t: Teardown, line: str, source: str, home: str, now: str, who: str) -> str:
    """Home if it can be taken there now; else off the machine. What is off the machine already is meant to go home.

    What lies on the floor is picked up first: it goes to the tray until it can go home.
    """
    fastened = places.family(home) == "fitted"
    if source == home:
        return places.TRAY if fastened else places.BENCH
    if places.family(source) in places.OUT_FAMILIES and source != places.FLOOR:
        return home
    if not judge(t, builders.move(line, 1, source, home), now, who):
        return home
    return places.TRAY if fastened else places.STORES


def figures(t: Teardown, line: str, source: str, target: str, had: int) -> PadFigures:
    """The figures of a pad now. `had` is how many lay at the source when the pad was opened."""
    home, here = builders.home_of(t, line), t.quantity(line, source)
    if source == home:
        total = _all(t, line) - _short(t, line)
        return PadFigures(line, source, target, "out", total - here, total, here)
    if target == home:
        total = _all(t, line)
        return PadFigures(line, source, target, "back", min(t.quantity(line, home), total), total, here)
    total = max(had, here)
    outward = places.family(source) in places.RESTING_FAMILIES
    return PadFigures(line, source, target, "out" if outward else "back", total - here, total, here)


def _short(t: Teardown, line: str) -> int:
    return sum(item.quantity for item in t.missing if item.line == line and item.cause == "short at the start")


def _all(t: Teardown, line: str) -> int:
    """How many belong on the closure; of anything else, how many are on the tally and not used up."""
    if line in t.required:
        return t.required[line]
    return sum(quantity for place, quantity in t.places_of(line).items() if place not in _OVER)


def statement(t: Teardown, pad: PadFigures) -> str:
    """What is done, in figures, and what is not: "10 of 10 bolts out"."""
    said = f"{pad.counted} of {how_many(pad.total, t.lines[pad.line].name)} {pad.verb}"
    if not pad.left:
        return said
    done_with = {builders.home_of(t, pad.line), pad.source, pad.target, *_OVER, places.NEW_STOCK}
    rest = [f"{quantity} {t.say_place(place)}" for place, quantity in t.places_of(pad.line).items()
            if place not in done_with and quantity > 0]
    return f"{said}, none left {t.say_place(pad.source)}" + (f"; {listing(rest)}" if rest else "")


def what_and_where(t: Teardown, pad: PadFigures) -> str:
    """What is counted, from where and to where: "M8 bolt, inlet manifold to the tray"."""
    to = {places.TRAY: "to the tray", places.BENCH: "to the bench", places.STORES: "put away",
          places.SCRAP: "to scrap", places.FLOOR: "to the floor"}.get(pad.target)
    if to is None:
        at_home = places.family(pad.target) == "fitted"
        to = f"to {_spot(t, pad.target)}" if at_home else t.say_place(pad.target)
    origin = _spot(t, pad.source)
    return f"{t.lines[pad.line].name}, {origin + ' ' if origin else ''}{to}"


def _spot(t: Teardown, place: str) -> str:
    """A place in as few words as will do; empty where it need not be said."""
    family, name = places.family(place), places.named(place)
    if family in (places.TRAY, places.BENCH, places.FLOOR):
        return family
    named = t.closures.get(name) or t.spaces.get(name)
    return within(named.name) if named is not None else ""


def to_take_back(t: Teardown, line: str, since: int) -> Entry | None:
    """The newest count of one item of `line` after the first `since` entries that was not taken back yet."""
    for entry in reversed(t.history[since:]):
        fact = entry.fact
        if isinstance(fact, Counted) and (entry.device, entry.seq) not in t.reversed and _one_of(fact.moves, line):
            return entry
    return None


def _one_of(moves: tuple[Move, ...], line: str) -> bool:
    return len(moves) == 1 and moves[0].line == line and moves[0].quantity == 1


def others_due(t: Teardown, pad: PadFigures) -> list[PadFigures]:
    """The other lines of the same closure that wait for the same: to come off, or to go home."""
    home = builders.home_of(t, pad.line)
    if places.family(home) != "fitted":
        return []
    closure = places.named(home)
    lines = [line for line in t.lines_of(closure) if line != pad.line]
    if pad.source == home and t.closure_states[closure].stage in IN_PLACE:
        lines = [line for line in lines if t.lines[line].kind == "fastener"]  # parts come off with the closure
    if pad.source == home:
        due = [(line, home) for line in lines if t.quantity(line, home)]
        return [figures(t, line, place, pad.target, 0) for line, place in due]
    if pad.target == home:
        away = [(line, builders.where_away(t, line)) for line in lines]
        return [figures(t, line, place, home, 0) for line, place in away if t.quantity(line, place)]
    return []


def elsewhere(t: Teardown, pad: PadFigures) -> str:
    """The other place where it may be laid: a large part on the bench, what comes out of the engine too; else empty."""
    home = builders.home_of(t, pad.line)
    off = pad.source == home and places.family(home) == "fitted" and t.lines[pad.line].kind == "part"
    if not off and places.family(pad.source) not in (places.ENGINE, "on"):
        return ""
    usual = places.TRAY if places.family(home) == "fitted" else places.STORES
    return places.BENCH if pad.target == usual else usual


def may_be_short(t: Teardown, line: str) -> bool:
    """Whether it can still be said that fewer were fitted than belong there: it is in place and was never off."""
    home = builders.home_of(t, line)
    if places.family(home) != "fitted" or not t.quantity(line, home):
        return False
    closure = t.closure_states[places.named(home)]
    return closure.stage in (FITTED, LOOSENED) and not closure.was_lifted
