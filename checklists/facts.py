"""What can happen in a teardown, as frozen facts. The state of a teardown is folded from these and nothing else.

A fact that moves items carries its movements itself, so that the count can be recomputed by anybody who can
read the journal, without knowing the rules. A fact is made by a function in `builders`, judged by `judge`,
written to the journal, and only then applied.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from checklists.facts_evidence import FindLogged as FindLogged
from checklists.facts_evidence import FindMatched as FindMatched
from checklists.facts_evidence import FindRemoved as FindRemoved
from checklists.facts_evidence import Looked as Looked
from checklists.facts_evidence import Photographed as Photographed
from checklists.facts_measured import Measured, PartBroken, PieceWeighed, Searched, Tightened, WeighCounted
from checklists.facts_signed import Cleared as Cleared
from checklists.facts_signed import Closed as Closed
from checklists.facts_signed import HandTurned as HandTurned
from checklists.facts_signed import Released as Released
from checklists.facts_signed import Signed as Signed
from checklists.facts_signed import Strokes as Strokes
from checklists.movement import Move as Move
from checklists.sheet import Line, Sheet


class Person(NamedTuple):
    """Somebody at work on the teardown, and in what role."""

    name: str
    role: str


class Seen(NamedTuple):
    """What a counter saw: `quantity` of `line` at `place`."""

    line: str
    place: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Started:
    """A teardown is opened: the machine, the people, why it is opened and what was found so far."""

    kind: ClassVar[str] = "started"
    sheet: Sheet
    machine: str
    people: tuple[Person, ...]
    reason: str
    found: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Joined:
    """Another person comes to work on the teardown."""

    kind: ClassVar[str] = "joined"
    person: Person


@dataclass(frozen=True, slots=True)
class Left:
    """A person goes off the job and is no longer there for a second count."""

    kind: ClassVar[str] = "left"
    name: str


@dataclass(frozen=True, slots=True)
class Grown:
    """The sheet gains spaces, passages, openings, closures, lines or cautions as the work goes.

    `over` are pairs (above, beneath): a closure known before lies over one that is new, as it comes to light.
    """

    kind: ClassVar[str] = "sheet grown"
    part: Sheet
    moves: tuple[Move, ...]
    over: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """What two phones each wrote onto the sheet, though it is there once, comes off the tally again."""

    kind: ClassVar[str] = "doubled line withdrawn"
    why: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class WrittenTooHigh:
    """More of a line was written down than is there: `counted` were there, and the rest comes off the tally again.

    Of fasteners and parts `photo` shows that there is no hole for it.
    """

    kind: ClassVar[str] = "written too high"
    why: str
    counted: int
    moves: tuple[Move, ...]
    photo: str = ""


@dataclass(frozen=True, slots=True)
class SheetSettled:
    """Which of two ways is right in which two phones wrote one thing onto the sheet: `part` is that thing alone.

    `what` is one of `two_ways.KINDS`.
    """

    kind: ClassVar[str] = "sheet settled"
    what: str
    part: Sheet


@dataclass(frozen=True, slots=True)
class Added:
    """More of a line than was known comes onto the tally before it is used."""

    kind: ClassVar[str] = "added"
    why: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Acknowledged:
    """One caution was read and acknowledged."""

    kind: ClassVar[str] = "caution acknowledged"
    caution: str


@dataclass(frozen=True, slots=True)
class Counted:
    """Items counted from one place to another: out, back, into the engine, out of it, to scrap."""

    kind: ClassVar[str] = "counted"
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Reversed:
    """An earlier fact's movements taken back, by movements the other way; or a tick of the tightening, without any."""

    kind: ClassVar[str] = "reversed"
    device: str
    seq: int
    why: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Short:
    """Fewer were fitted at the start than belong there. The rest may already be inside."""

    kind: ClassVar[str] = "short at the start"
    closure: str
    photo: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Dropped:
    """An item is known to have fallen: the drop log. Its movement goes to the space, or to missing.

    `earlier` says that it fell some time before this was logged, so that what stood open then may be covered by now.
    """

    kind: ClassVar[str] = "dropped"
    near: str
    moves: tuple[Move, ...]
    earlier: bool = False


@dataclass(frozen=True, slots=True)
class Missed:
    """An item that should be at a place is not there."""

    kind: ClassVar[str] = "missing"
    note: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """A missing item turned up; `where` says at which spot, and its movement where it was put."""

    kind: ClassVar[str] = "found"
    where: str
    moves: tuple[Move, ...]


#: How a part is converted that broke: an account of its pieces (`PartBroken`) is due from then on.
TO_BE_WEIGHED = "broken, its pieces to be weighed"


@dataclass(frozen=True, slots=True)
class Converted:
    """Something became something else: a torn rag, an opened pack, a broken part. `lines` are the new lines."""

    kind: ClassVar[str] = "converted"
    how: str
    lines: tuple[Line, ...]
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Renewed:
    """Old ones go to scrap, new ones come from new stock; both sides on record."""

    kind: ClassVar[str] = "renewed"
    why: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Checked:
    """Somebody counted what lies at a place. It agrees with the ledger or it is a discrepancy."""

    kind: ClassVar[str] = "checked"
    seen: Seen


@dataclass(frozen=True, slots=True)
class Lifted:
    """A closure came off after its lift check; `photo` shows it clear of loose items."""

    kind: ClassVar[str] = "closure lifted"
    closure: str
    photo: str


@dataclass(frozen=True, slots=True)
class Covered:
    """A cover was counted into an opening."""

    kind: ClassVar[str] = "opening covered"
    opening: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Uncovered:
    """Every cover of an opening was counted out of it."""

    kind: ClassVar[str] = "opening uncovered"
    opening: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Secured:
    """The machine is left: every opening covered or sealed, and the tally taken: out, in the engine, missing."""

    kind: ClassVar[str] = "machine secured"
    note: str
    tally: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class HandedOver:
    """The person who holds the job offers it to another, with notes and photos (by their hashes)."""

    kind: ClassVar[str] = "handed over"
    to: str
    notes: str
    photos: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TookOver:
    """The other person's own act: a relief count of everything away from home, and the signature, bound to `head`.

    `places` are those that were walked, as for a second count.
    """

    kind: ClassVar[str] = "took over"
    entries: tuple[Seen, ...]
    notes: str
    signature: Strokes = ()
    head: str = ""
    places: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SecondCounted:
    """A blind second count before a closure goes back; `alone` marks a re-inspection by the same person.

    `places` are those that were walked, each ended by the counter's own "that is all here": whatever has no figure
    there was not seen there. Empty in a count made before whole places were walked.
    """

    kind: ClassVar[str] = "second count"
    closure: str
    alone: bool
    entries: tuple[Seen, ...]
    places: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WorkDone:
    """The work inside is finished; from here on the machine is being closed."""

    kind: ClassVar[str] = "work done"
    note: str


@dataclass(frozen=True, slots=True)
class Refitted:
    """A cleared closure was set down in its place. Its openings are sealed; its fasteners are to be counted home."""

    kind: ClassVar[str] = "closure set down"
    closure: str


Fact = (
    Started
    | Joined
    | Left
    | Grown
    | Withdrawn
    | WrittenTooHigh
    | SheetSettled
    | Added
    | Acknowledged
    | Counted
    | Reversed
    | Short
    | Dropped
    | Missed
    | Found
    | Converted
    | Renewed
    | Checked
    | Lifted
    | Covered
    | Uncovered
    | FindLogged
    | FindRemoved
    | Looked
    | SecondCounted
    | WorkDone
    | Cleared
    | Refitted
    | Signed
    | HandTurned
    | Closed
    | Released
    | FindMatched
    | Photographed
    | Secured
    | HandedOver
    | TookOver
    | Searched
    | PartBroken
    | PieceWeighed
    | WeighCounted
    | Measured
    | Tightened
)

FACT_TYPES: dict[str, type[Fact]] = {t.kind: t for t in Fact.__args__}


class Entry(NamedTuple):
    """A fact as the journal holds it: when (ISO 8601 with offset), by whom, on which device, in which order.

    `seq` counts on that device and teardown from 1. `tick` is one more than every tick the device had seen, so
    that (tick, device) is one order on every phone that holds the same entries. `seen` is, for each other device, the
    last seq of it that this device had seen when it made the entry; empty while one phone works alone.
    """

    fact: Fact
    at: str
    who: str
    device: str
    seq: int
    tick: int
    seen: tuple[tuple[str, int], ...] = ()


def moves_of(fact: Fact) -> tuple[Move, ...]:
    """The movements a fact carries; empty for one that moves nothing."""
    return getattr(fact, "moves", ())
