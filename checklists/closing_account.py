"""The whole account of a teardown, ready to print: what the closing sheet says, as plain frozen records.

Pure: the same entries and heads give the same account. It reads no clock; a teardown still open is accounted for up to
its last entry. A further section is a function (walk, album) -> Section | None in `SECTIONS`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from checklists.account import closures, evidence, items, measured, people, proof, searching
from checklists.account.album import Album
from checklists.account.parts import (
    CLOSED,
    DRAFT,
    NOT_CLEAR,
    Account,
    Block,
    Heading,
    Marks,
    Pairs,
    Section,
    Table,
    Words,
)
from checklists.account.walk import Walk
from checklists.account.writing import when, when_cell
from checklists.closing import why_not_close
from checklists.facts import Closed, Entry, HandTurned, Photographed, Released, Signed, WorkDone
from checklists.residual import risk_of
from checklists.sheet import Closure, Line, Opening
from checklists.state import CLOSED as IS_CLOSED
from checklists.state import RELEASED, Teardown
from checklists.words import how_many, listing

__all__ = ["SECTIONS", "make_account"]

Maker = Callable[[Walk, Album], Section | None]

_STATES = {IS_CLOSED: CLOSED, RELEASED: NOT_CLEAR}
_CIMA_2008 = (
    "Of objects left behind after operations, 62 % were left although a count had been called correct "
    "(Cima et al. 2008, J Am Coll Surg 207(1):80-7). "
    "Published sensitivity of such counts: 77.2 % (Egorova et al. 2008)."
)


def make_account(teardown: str, entries: Iterable[Entry], heads: Mapping[str, str]) -> Account:
    """The account of these entries; `heads` are the hashes of each device's last one."""
    walk = Walk(entries)
    t = walk.teardown
    state = _STATES.get(t.ended, DRAFT)
    album = Album(t)
    made = [make(walk, album) for make in _FIRST]
    made += closures.sections(walk, album)
    made += [make(walk, album) for make in SECTIONS]
    tally = _tally(walk)
    return Account(
        teardown, state, _state_words(t, state), t.machine, t.sheet.name,
        listing([f"{person.name} ({person.role})" for person in dict.fromkeys(walk.everybody)]),
        when(t.started.at), when(t.end.at) if t.ended else "", t.history[-1].at if t.history else "", len(t.history),
        tuple(sorted(heads.items())), tally, _tally_words(t, tally), tuple(section for section in made if section),
    )  # fmt: skip


def _state_words(t: Teardown, state: str) -> str:
    if state == CLOSED:
        return f"Every opened closure is signed and every item is counted back. Closed by {t.end.who}."
    if state == NOT_CLEAR:
        return f"Released, not clear, by {t.end.who}. This is not a closure. Read why on this page."
    return f"A draft: the teardown is still open. It stands as of its last entry. {t.remark}".strip()


def _tally(walk: Walk) -> Marks:
    t = walk.teardown
    return Marks(sum(flow.out for flow in walk.flows.values()), sum(closures.away(t, line) for line in t.lines))


def _tally_words(t: Teardown, tally: Marks) -> str:
    missing = sum(item.quantity for item in t.missing)
    return f"{tally.out} counted out; {tally.away or 'none'} still away; {missing or 'none'} missing"


# --- the first page


def _ending(walk: Walk, album: Album) -> Section | None:
    """How it ended, or what still stands against closing."""
    t = walk.teardown
    blocks: list[Block] = []
    for mark, released in walk.of(Released):
        blocks += [
            Words(f"Why it was released: {released.reason}", True),
            Words(f"Search made: {released.search}", True),
            Words(f"Released by {mark.who}, {when(mark.at)}. What was not settled stays not settled, for good.", True),
            closures.signature(walk, mark, "Released, not clear", released.head, released.signature),
            *searching.searched_places(walk),
        ]
    if t.ended == IS_CLOSED:
        mark, closed = walk.of(Closed)[-1]
        signed = closures.signature(walk, mark, closed.statement, closed.head, closed.signature)
        return Section("Closing", (signed,))
    reasons = tuple((why.words, when(why.since) if why.since else "", why.who) for why in why_not_close(t))
    if reasons:
        title = "What was not settled" if t.ended else "What stands against closing"
        blocks.append(Heading(title, how_many(len(reasons), "reason")))
        blocks.append(Table(("what", "since", "by"), (57, 28, 15), reasons))
    elif not t.ended:
        blocks.append(Words("Nothing stands against closing; nobody has closed it yet."))
    return Section("NOT CLEAR" if t.ended else "Not closed yet", tuple(blocks))


def _closures(walk: Walk, album: Album) -> Section | None:
    blocks = closures.summary(walk)
    return Section("Closures in one look", blocks) if blocks else None


def _why(walk: Walk, album: Album) -> Section:
    t = walk.teardown
    rows = [("Why it was opened", t.reason or "not said"), ("Found so far, at the start", t.found or "nothing said")]
    rows += [("Work inside done", f"{when(mark.at)}, {mark.who}: {fact.note}") for mark, fact in walk.of(WorkDone)]
    return Section("Why it was opened", (Pairs(tuple(rows)),))


# --- the later pages


def _turned(walk: Walk, album: Album) -> Section | None:
    """Each time the engine was turned by hand, signed for."""
    words = "The engine was turned by hand, two full turns, before anything else turned it"
    signed = [
        closures.signature(walk, mark, f"{words}: {fact.statement}", fact.head, fact.signature)
        for mark, fact in walk.of(HandTurned)
    ]
    return Section("Turned by hand", tuple(signed)) if signed else None


def _torques(walk: Walk, album: Album) -> Section | None:
    """Torques as signed for; those of sign-offs that were recalled are named as such."""
    t = walk.teardown
    rows = []
    for mark, fact in walk.of(Signed):
        state = t.closure_states[fact.closure]
        stands = "stands" if state.signed and state.signed.n == mark.n else "no longer stands"
        known = t.closures[fact.closure]
        rows.append((known.name, known.torque or "none on the sheet", fact.torque or "none said",
                     f"{when_cell(mark.at)}\n{mark.who}", stands))  # fmt: skip
    blocks: list[Block] = []
    if rows:
        heads = ("closure", "maker's figure", "used", "signed", "sign-off")
        blocks.append(Table(heads, (28, 18, 18, 24, 12), tuple(rows)))
    blocks += measured.tightening(walk, album)
    return Section("Torques", tuple(blocks)) if blocks else None


def _baseline(walk: Walk, album: Album) -> Section | None:
    """Photos taken before anything was opened."""
    t = walk.teardown
    for mark, fact in walk.of(Photographed):
        if fact.moment == "baseline" and t.photos[fact.photo][1] == mark:
            album.name(fact.photo, f"Before opening: {_about(t, fact.about)}")
    shown = album.shown()
    return Section("Before it was opened", shown) if shown else None


def _other_photos(walk: Walk, album: Album) -> Section | None:
    t = walk.teardown
    for sha in album.unnamed():
        fact = t.photos[sha][0]
        album.name(sha, f"{fact.moment.capitalize()}: {_about(t, fact.about)}")
    shown = album.shown()
    return Section("Other photos", shown) if shown else None


_UNNAMED = {"teardown": "the machine as a whole", "handover": "the handover", "piece": "a broken piece"}


def _about(t: Teardown, about: str) -> str:
    kind, _, name = about.partition(":")
    known: dict[str, Mapping[str, Opening | Closure | Line]] = {
        "opening": t.openings, "closure": t.closures, "line": t.lines
    }  # fmt: skip
    if kind == "find" and name in t.finds:
        return t.finds[name].logged.what
    named = known.get(kind, {}).get(name)
    return named.name if named else _UNNAMED.get(kind, kind or "nothing said")


def _residual(walk: Walk, album: Album) -> Section:
    """What a count that agrees still leaves; never a certificate."""
    risk = risk_of(walk.teardown)
    return Section("What a correct count does not show", (*map(Words, risk.words), Words(_CIMA_2008)))


_FIRST: tuple[Maker, ...] = (_ending, _closures, _why, people.people, people.cautions, _baseline)
#: The sections after the closures, in order.
SECTIONS: tuple[Maker, ...] = (
    _turned,
    items.other_items,
    evidence.openings,
    evidence.finds,
    items.losses,
    items.changed_items,
    measured.broken,
    measured.limits,
    _torques,
    measured.by_weight,
    evidence.differences,
    evidence.fallen,
    items.taken_back,
    people.handovers,
    _other_photos,  # whatever no section before has shown
    _residual,
    proof.times_and_proof,
)
