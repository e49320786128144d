"""The state of a teardown: what `teardown.fold` derives from the entries. To be read; only the fold writes it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from checklists import places, words
from checklists.exposure import Exposure, OpeningState
from checklists.facts import (
    Entry,
    Fact,
    FindLogged,
    FindRemoved,
    HandedOver,
    Looked,
    Person,
    Photographed,
    SecondCounted,
)
from checklists.facts_measured import Measured, PartBroken, PieceWeighed, Searched, WeighCounted
from checklists.ledger import Balances, total
from checklists.merging import Clash, Merging
from checklists.sheet import Closure, Line, Opening, Sheet, Space
from checklists.ways_in import WaysIn, lay_in

if TYPE_CHECKING:
    from checklists.two_ways import TwoWays

FITTED, LOOSENED, LIFTED, CLEARED = "fitted", "loosened", "lifted", "cleared"
SET_DOWN, SIGNED, RECALLED = "set down", "signed", "recalled"
#: Stages in which the closure sits in its place, so that its openings are sealed.
IN_PLACE = frozenset({FITTED, LOOSENED, SET_DOWN, SIGNED, RECALLED})

CLOSED, RELEASED = "closed", "released, not clear"
#: Why something is missing; what was short may have been inside before anything was opened.
DROPPED, GONE, SHORT_AT_START = "dropped", "missing", "short at the start"


class Mark(NamedTuple):
    """When something happened: the `n`-th entry, at what time, by whom."""

    n: int
    at: str
    who: str


START = Mark(0, "", "")


@dataclass(slots=True)
class ClosureState:
    """How a closure stands. `cleared` and `signed` hold while they stand; `remark` says why one was taken away."""

    stage: str = FITTED
    mark: Mark = START
    was_lifted: bool = False
    cleared: Mark | None = None
    signed: Mark | None = None
    torque: str = ""
    remark: str = ""

    @property
    def since(self) -> str:
        """Time stamp of the last change of stage."""
        return self.mark.at

    @property
    def who(self) -> str:
        """Who last changed the stage."""
        return self.mark.who


class Finding(NamedTuple):
    """So many of a loss turned up: at which entry, and where."""

    quantity: int
    mark: Mark
    where: str


@dataclass(slots=True)
class Loss:
    """Items of a line that fell or went missing at one entry, and what turned up of them since.

    `cause` is "dropped", "missing" or "short at the start"; the drop log is those that dropped. `into` is the place in
    the engine where it was seen to fall, "" where nobody saw it.
    """

    line: str
    quantity: int
    cause: str
    near: str
    source: str
    into: str
    mark: Mark
    findings: list[Finding] = field(default_factory=list)

    @property
    def found(self) -> int:
        """How many turned up."""
        return sum(finding.quantity for finding in self.findings)

    @property
    def ended(self) -> Mark | None:
        """When and by whom the last of it was found; None while some of it is still gone."""
        return self.findings[-1].mark if self.findings and self.found == self.quantity else None

    @property
    def where_found(self) -> str:
        """Where the last of it was found; "" while some of it is still gone."""
        return self.findings[-1].where if self.ended else ""


@dataclass(slots=True)
class MissingItem:
    """Items of a line that nobody can find. They may be in any space that stood open from entry `seen_n` on.

    Where they were last known to lie in spaces themselves, those are `inside`: nothing had to stand open for that.
    `cause` is "dropped", "missing" or "short at the start"; the last may have been inside all along. `loss` is the
    record of it, which stays once it is found.
    """

    line: str
    quantity: int
    source: str
    seen_n: int
    mark: Mark
    cause: str
    near: str
    inside: frozenset[str] = frozenset()
    loss: Loss | None = None


@dataclass(slots=True)
class FindState:
    """A find, how it was removed once it was, and what of ours it turned out to be: (line, quantity)."""

    logged: FindLogged
    mark: Mark
    removed: FindRemoved | None = None
    ours: tuple[tuple[str, int], ...] = ()


@dataclass(slots=True)
class BrokenPart:
    """All broken ones of a line, and their pieces by name, each as last weighed.

    `wholes` is what was said of each that broke. The first of them was last seen whole at entry `seen_n`; in the spaces
    `inside` they lay themselves as they broke.
    """

    wholes: tuple[PartBroken, ...]
    mark: Mark
    seen_n: int
    inside: frozenset[str] = frozenset()
    pieces: dict[str, tuple[PieceWeighed, Mark]] = field(default_factory=dict)

    @property
    def fact(self) -> PartBroken:
        """What was said of the last that broke."""
        return self.wholes[-1]

    @property
    def before(self) -> bool:
        """Whether one of them was broken before anything was opened: its pieces may be anywhere."""
        return any(whole.before for whole in self.wholes)

    @property
    def weighed_n(self) -> int:
        """The last entry that changed what is known of its mass."""
        return max(self.mark.n, *(mark.n for _, mark in self.pieces.values()), 0)


class Unaccounted(NamedTuple):
    """One part that was converted as broken, with no account of its pieces yet: by which entry, last seen whole when,
    and the spaces it lay in."""

    device: str
    seq: int
    mark: Mark
    seen_n: int
    inside: frozenset[str]


class SearchPass(NamedTuple):
    """A search for a missing item, and whether one person alone was on the job when it was made."""

    fact: Searched
    mark: Mark
    alone: bool


class SecondCount(NamedTuple):
    """A second count for a closure, and whether every figure agreed with the ledger when it was made."""

    fact: SecondCounted
    mark: Mark
    agreed: bool


class Discrepancy(NamedTuple):
    """A count that did not agree: `seen` items where the ledger had `had`."""

    seen: int
    had: int
    mark: Mark


@dataclass(slots=True)
class Teardown:
    """One teardown, folded. Times are ISO 8601 text; quantities whole numbers."""

    sheet: Sheet = field(default_factory=lambda: Sheet("", ""))
    machine: str = ""
    people: list[Person] = field(default_factory=list)
    reason: str = ""
    found: str = ""
    started: Mark = START
    history: list[Entry] = field(default_factory=list)
    ended: str = ""
    end: Mark = START

    lines: dict[str, Line] = field(default_factory=dict)
    spaces: dict[str, Space] = field(default_factory=dict)
    openings: dict[str, Opening] = field(default_factory=dict)
    closures: dict[str, Closure] = field(default_factory=dict)
    ways: WaysIn = field(default_factory=WaysIn.empty)

    balances: Balances = field(default_factory=dict)
    #: The lines at home on each closure, and how many of a line belong there.
    at_home_on: dict[str, list[str]] = field(default_factory=dict)
    required: dict[str, int] = field(default_factory=dict)
    #: The last movement into or out of (line, place), and the last of a line apart from counting it home.
    moved: dict[tuple[str, str], Mark] = field(default_factory=dict)
    #: Since when all of a line at a place are only believed to be there: the first to arrive, or a count that agreed.
    sighted: dict[tuple[str, str], Mark] = field(default_factory=dict)
    line_moved: dict[str, Mark] = field(default_factory=dict)
    #: The last movement in a space, or in one from which the space can be reached.
    touched: dict[str, Mark] = field(default_factory=dict)
    #: The last movement in the space itself.
    moved_in: dict[str, Mark] = field(default_factory=dict)

    exposure: Exposure = field(default_factory=Exposure)
    closure_states: dict[str, ClosureState] = field(default_factory=dict)
    acknowledged: dict[str, Mark] = field(default_factory=dict)
    missing: list[MissingItem] = field(default_factory=list)
    #: Everything that fell or went missing, the oldest first; it stays here once it is found.
    losses: list[Loss] = field(default_factory=list)
    finds: dict[str, FindState] = field(default_factory=dict)
    photos: dict[str, tuple[Photographed, Mark]] = field(default_factory=dict)
    #: The act that named each photo last, by the photo's hash.
    named_photos: dict[str, Fact] = field(default_factory=dict)
    #: A handover offered and not yet taken, and when the machine was last left secured.
    offered: tuple[HandedOver, Mark] | None = None
    secured: Mark | None = None
    #: Who answers for the job: whoever started it, then whoever took it over last.
    holder: str = ""
    looks: dict[str, tuple[Looked, Mark]] = field(default_factory=dict)
    second_counts: dict[str, SecondCount] = field(default_factory=dict)
    discrepancies: dict[tuple[str, str], Discrepancy] = field(default_factory=dict)
    #: What two phones contradict each other in, by (kind, line, source, target), until it is counted again.
    clashes: dict[tuple[str, str, str, str], Clash] = field(default_factory=dict)
    #: What two phones wrote onto the sheet by one name, but not alike: by kind and id.
    two_ways: dict[tuple[str, str], TwoWays] = field(default_factory=dict)
    #: Kept only while entries of several devices are folded; `remark` says why a closing does not stand.
    merging: Merging | None = None
    remark: str = ""
    #: How many of each line were withdrawn that two phones had written onto the sheet.
    withdrawn: dict[str, int] = field(default_factory=dict)
    reversed: set[tuple[str, int]] = field(default_factory=set)
    #: What was searched for missing items, what broke, what was counted by weight.
    searches: list[SearchPass] = field(default_factory=list)
    broken: dict[str, BrokenPart] = field(default_factory=dict)
    unaccounted: dict[str, tuple[Unaccounted, ...]] = field(default_factory=dict)
    weigh_counts: list[tuple[WeighCounted, Mark]] = field(default_factory=list)
    #: The last measurement of each (closure, limit) since the closure came off, and the fasteners tightened on each
    #: closure since they went home: (number, percent).
    measured: dict[tuple[str, str], tuple[Measured, Mark]] = field(default_factory=dict)
    tightened: dict[str, dict[tuple[int, int], Mark]] = field(default_factory=dict)
    work_done: Mark | None = None
    hand_turned: Mark | None = None

    @property
    def drops(self) -> list[Loss]:
        """The drop log."""
        return [loss for loss in self.losses if loss.cause == DROPPED]

    @property
    def opening_states(self) -> dict[str, OpeningState]:
        """How each opening stands."""
        return self.exposure.openings

    @property
    def last_entry(self) -> Entry | None:
        """The newest entry; None for a teardown that has not started."""
        return self.history[-1] if self.history else None

    def entry_of(self, device: str, seq: int) -> Entry | None:
        """The entry of that device and number; looked for from the newest."""
        return next((entry for entry in reversed(self.history) if (entry.device, entry.seq) == (device, seq)), None)

    def quantity(self, line: str, place: str) -> int:
        """How many of a line are at a place."""
        return self.balances.get((line, place), 0)

    def places_of(self, line: str) -> dict[str, int]:
        """Where the items of a line are, without their origin."""
        return {p: q for (name, p), q in self.balances.items() if name == line and p != places.ORIGIN}

    def total(self, line: str) -> int:
        """How many of a line ever came onto the tally."""
        return total(self.balances, line)

    def say_place(self, place: str) -> str:
        """Where something is, by the names on the sheet."""
        return words.place_words(place, self.spaces, self.openings, self.closures)

    def say(self, line: str, quantity: int) -> str:
        """So many of a line, in words."""
        return words.how_many(quantity, self.lines[line].name)

    def spaces_of(self, closure: str) -> frozenset[str]:
        """The spaces a closure answers for: those it seals and those reachable from there."""
        return self.ways.sealed_by[closure]

    def lines_of(self, closure: str) -> list[str]:
        """The lines at home on a closure."""
        return self.at_home_on.get(closure, [])

    def could_hold(self, item: MissingItem) -> frozenset[str] | None:
        """The spaces a missing item could be in; None for any space at all (it was short from the start).

        These are the spaces that stood open since it was last seen, and of them those it can reach by its shape; and
        those it lay in, with what they lead on to. Where its shape is not known it may be in any of them: on the safe
        side.
        """
        if item.cause == SHORT_AT_START:
            return None
        shape, opened = self.lines[item.line].shape, self.exposure.openings_since(item.seen_n)
        if shape is None:
            return self.ways.union(opened).union(*(self.ways.from_space[space] for space in item.inside))
        return self.ways.for_shape(shape).by([*opened, *map(lay_in, item.inside)])

    def could_hold_pieces(self, broken: BrokenPart) -> frozenset[str] | None:
        """The spaces that pieces of a broken part could be in; None for any space: it broke before anything was opened.

        A piece has no shape that anybody knows, so none of these is ruled out.
        """
        if broken.before:
            return None
        lay = (self.ways.from_space[space] for space in broken.inside)
        return self.exposure.exposed_since(broken.seen_n).union(*lay)

    def last_seen(self, line: str, place: str) -> int:
        """The entry at which items of a line were last seen at a place; 0 for never: gone since the start, maybe."""
        return self.known_by(self.sighted.get((line, place), START).n)

    def known_by(self, n: int) -> int:
        """Entry `n`, or the first that whoever made the present one had not seen: what was done there came after."""
        unseen = self.merging.first_unseen if self.merging is not None else 0
        return min(n, unseen) if unseen else n

    def mark_at(self, n: int) -> Mark:
        """When and by whom entry `n` was made."""
        return Mark(n, self.history[n - 1].at, self.history[n - 1].who) if n else START

    def inside_of(self, place: str) -> frozenset[str]:
        """The spaces in which something lies that lies at this place."""
        family, _, name = place.partition("/")
        if family == places.ENGINE:
            return frozenset({name}) & self.spaces.keys() if name else self.exposure.not_sealed()
        if family == "cover" and name in self.openings:
            return frozenset({self.openings[name].space})
        if family == "on" and name in self.closure_states and self.closure_states[name].stage not in IN_PLACE:
            return self.spaces_of(name)
        return frozenset()


class Tally(NamedTuple):
    """The running tally: items off the machine, in or over the open engine, and missing."""

    out: int
    in_engine: int
    missing: int


def tally(teardown: Teardown) -> Tally:
    """The three figures that are never off the screen."""
    at: dict[str, int] = {}
    for (_, place), quantity in teardown.balances.items():
        at[place] = at.get(place, 0) + quantity
    out = in_engine = missing = 0
    for place, quantity in at.items():  # there are far fewer places than balances, and every count waits for this
        family = places.family(place)
        if family in places.OUT_FAMILIES:
            out += quantity
        elif family in places.ENGINE_FAMILIES:
            in_engine += quantity
        elif family == places.MISSING:
            missing += quantity
    return Tally(out, in_engine, missing)
