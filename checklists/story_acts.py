"""From a step of a story to the facts it makes, built as the screens build them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from checklists import baseline, builders, places, second_count
from checklists.facts import (
    Acknowledged,
    Fact,
    FindLogged,
    FindRemoved,
    HandedOver,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Person,
    Photographed,
    Refitted,
    SecondCounted,
    Seen,
    WorkDone,
)
from checklists.facts_measured import Gauge, Measured, PartBroken, PieceWeighed, Tightened, WeighCounted
from checklists.reasons import Reason
from checklists.sheet import Line
from checklists.slips import slips
from checklists.state import Teardown
from checklists.story import Step
from checklists.story_places import read_place
from checklists.story_signature import drawn_name
from checklists.tightening_plan import steps_left

#: Makes one fact when its turn comes: the state then, and the journal's head for what is signed.
Act = Callable[[Teardown, str], Fact | Reason]

_TEARING = {"tear": "torn", "break": "broken", "open the pack": "pack opened", "convert": "made into something else"}


def acts_of(teardown: Teardown, step: Step) -> Iterator[Act]:
    """The acts of a step, one after another: as many single counts as its quantity, unless counted at once."""
    if step.do == "acknowledge":
        for caution in [step.caution] if step.caution else [caution.id for caution in teardown.sheet.cautions]:
            yield partial(_acknowledge, caution)
    elif step.do in _COUNTS:
        for number in [step.quantity] if step.at_once else [1] * step.quantity:
            yield partial(_count, step, number)
    elif step.do == "tighten":
        yield from _tighten(teardown, step)
    else:
        yield lambda t, head: _OTHERS[step.do](t, step, head)


def _tighten(t: Teardown, step: Step) -> Iterator[Act]:
    """Every step that is left, or only those of one pass or one fastener."""
    left = [
        Tightened(step.closure, each.bolt, each.percent)
        for each in steps_left(t, step.closure)
        if step.percent in (0, each.percent) and step.number_on_map in (0, each.bolt)
    ]
    for fact in left or [Tightened(step.closure, step.number_on_map, step.percent)]:
        yield partial(_tick, fact)


def _tick(fact: Fact, t: Teardown, head: str) -> Fact:
    return fact


def _acknowledge(caution: str, t: Teardown, head: str) -> Fact:
    return Acknowledged(caution)


def _count(step: Step, number: int, t: Teardown, head: str) -> Fact:
    return _COUNTS[step.do](t, step, number)


def unknown_to(teardown: Teardown, step: Step) -> Reason | None:
    """Why a step cannot even be tried: it names something that an earlier step failed to bring."""
    for key, name, known in (
        ("line", step.line, teardown.lines),
        ("closure", step.closure, teardown.closures),
        ("opening", step.opening, teardown.openings),
    ):
        if name and name not in known:
            return Reason(f"unknown {key}", f"There is no {key} {name!r} on this teardown.", "Add it first.")
    return None


def _place(t: Teardown, words: str) -> str:
    """The place in words; one that was never brought stays as it is, for `judge` to refuse."""
    return read_place(words, t) or words


# ---- counting, one or several of a line


def _count_out(t: Teardown, step: Step, number: int) -> Fact:
    return builders.count_out(t, step.line, number, _place(t, step.target))


def _count_back(t: Teardown, step: Step, number: int) -> Fact:
    return builders.count_back(t, step.line, number, _place(t, step.source))


def _put_in(t: Teardown, step: Step, number: int) -> Fact:
    target = places.inside(step.space) if step.space else places.ENGINE
    return builders.move(step.line, number, _place(t, step.source) or _at_hand(t, step.line), target)


def _take_out(t: Teardown, step: Step, number: int) -> Fact:
    source = places.inside(step.space) if step.space else _in_engine(t, step.line)
    fitted = places.family(builders.home_of(t, step.line)) == "fitted"
    target = _place(t, step.target) or (places.TRAY if fitted else places.BENCH)
    return builders.move(step.line, number, source, target)


def _move(t: Teardown, step: Step, number: int) -> Fact:
    return builders.move(step.line, number, _place(t, step.source), _place(t, step.target))


def _at_hand(t: Teardown, line: str) -> str:
    """Where an item is taken from to go into the engine: the tray or the bench, else its home."""
    off = [place for place in t.places_of(line) if places.family(place) in places.OUT_FAMILIES]
    return off[0] if off else builders.home_of(t, line)


def _in_engine(t: Teardown, line: str) -> str:
    inside = [place for place in t.places_of(line) if places.family(place) in (places.ENGINE, "on")]
    return inside[0] if inside else places.ENGINE


_COUNTS: dict[str, Callable[[Teardown, Step, int], Fact]] = {
    "count out": _count_out,
    "count back": _count_back,
    "put in the engine": _put_in,
    "take out of the engine": _take_out,
    "move": _move,
}


# ---- everything else


def _undo(t: Teardown, step: Step, head: str) -> Fact | Reason:
    entry = builders.last_undoable(t)
    if entry is None:
        return Reason("nothing to undo", "The last thing done was not a count.", "Put it right by a new count.")
    return builders.undo(entry, step.words or "counted by mistake")


def _take_back(t: Teardown, step: Step, head: str) -> Fact | Reason:
    """The newest count that could be wrong where the line does not agree."""
    wrong = slips(t, step.line, _place(t, step.at))
    if not wrong:
        return Reason("nothing to undo", "No count there could be wrong.", "Count there first, and see what differs.")
    return builders.undo(wrong[0], step.words)


def _convert(t: Teardown, step: Step, head: str) -> Fact:
    into = [(Line(p.id, p.name, p.kind, p.quantity, places.STORES), p.quantity) for p in step.into]
    return builders.convert(step.line, step.quantity, _place(t, step.source), into, step.words or _TEARING[step.do])


def _second_count(t: Teardown, step: Step, head: str) -> SecondCounted:
    return builders.counted_blind(t, step.closure, _seen(t, step, second_count.count_list(t, step.closure)))


def _seen(t: Teardown, step: Step, pairs: Iterable[tuple[str, str]]) -> list[Seen]:
    """As it is on the tally, but for the figures the step says; those may be of any line at any place."""
    said = {(figure.line, _place(t, figure.at)): figure.quantity for figure in step.counted}
    return [Seen(*pair, quantity) for pair, quantity in ({pair: t.quantity(*pair) for pair in pairs} | said).items()]


def _take_over(t: Teardown, step: Step, head: str) -> Fact:
    return builders.taken_blind(t, _seen(t, step, second_count.relief_list(t)), step.words, drawn_name(step.who))


def _drop(t: Teardown, step: Step, head: str) -> Fact:
    return builders.drop(t, step.line, step.quantity, step.near, _place(t, step.source), step.space, step.earlier)


def _missing(t: Teardown, step: Step, head: str) -> Fact:
    return builders.miss(t, step.line, step.quantity, _place(t, step.source), step.words)


def _photograph(t: Teardown, step: Step, head: str) -> Fact:
    """The file is whoever plays the story's affair: here are its name, what it shows and the moment."""
    named = (("opening", step.opening), ("closure", step.closure), ("line", step.line))
    about = next((f"{kind}:{name}" for kind, name in named if name), baseline.WHOLE)
    moment = baseline.MOMENT if baseline.in_time(t) else "other"
    return Photographed("", about, moment, step.photo, "", "", "", 0, 0, 0)


def _sign(t: Teardown, step: Step, head: str) -> Fact:
    return builders.sign(t, step.closure, step.torque or t.closures[step.closure].torque, head, drawn_name(step.who))


_OTHERS: dict[str, Callable[[Teardown, Step, str], Fact | Reason]] = {
    "secure": lambda t, step, head: builders.secure(t, step.words),
    "hand over": lambda t, step, head: HandedOver(step.name, step.words, ()),
    "take over": _take_over,
    "match find": lambda t, step, head: builders.match_find(t, step.find, step.line),
    "photograph": _photograph,
    "lift": lambda t, step, head: Lifted(step.closure, step.photo),
    "cover": lambda t, step, head: builders.cover(t, step.opening, step.line, _place(t, step.source)),
    "uncover": lambda t, step, head: builders.uncover(t, step.opening, _place(t, step.target) or places.STORES),
    "drop": _drop,
    "say missing": _missing,
    "found": lambda t, step, head: builders.find_again(
        t, step.line, step.quantity, step.where, _place(t, step.target)),
    "short at the start": lambda t, step, head: builders.short_at_start(t, step.line, step.quantity, step.photo),
    **dict.fromkeys(_TEARING, _convert),
    "renew": lambda t, step, head: builders.renew(step.line, step.quantity, _place(t, step.source), step.words),
    "add": lambda t, step, head: builders.add(step.line, step.quantity, _place(t, step.target), step.words),
    "grow": lambda t, step, head: builders.grow(step.sheet) if step.sheet else _nothing_said(),
    "check": lambda t, step, head: builders.check(step.line, _place(t, step.at), step.quantity),
    "undo": _undo,
    "take back": _take_back,
    "log find": lambda t, step, head: FindLogged(
        step.find, step.words, step.space, step.photo, step.size, step.opening),
    "remove find": lambda t, step, head: FindRemoved(step.find, step.words, step.photo, step.kept),
    "look": lambda t, step, head: Looked(step.opening, step.clear, step.words, step.photo),
    "second count": _second_count,
    "work done": lambda t, step, head: WorkDone(step.words),
    "clear": lambda t, step, head: builders.clear_to_refit(t, step.closure, head, drawn_name(step.who)),
    "set down": lambda t, step, head: Refitted(step.closure),
    "sign": _sign,
    "turn by hand": lambda t, step, head: HandTurned(step.words, head, drawn_name(step.who)),
    "close": lambda t, step, head: builders.close(t, head, drawn_name(step.who)),
    "release": lambda t, step, head: builders.released(
        t, step.words, step.search, head, drawn_name(step.who)),
    "search": lambda t, step, head: builders.search(
        t, step.line, step.space or step.where, step.method, step.words, photo=step.photo,
        found=step.quantity if step.found else 0, to=_place(t, step.target), reached=step.reached),
    "part broken": lambda t, step, head: PartBroken(
        step.line, step.before, step.basis, step.mass, step.likeness, step.smallest, _gauge(step), step.length,
        step.length_within, another=step.another),
    "weigh piece": lambda t, step, head: PieceWeighed(
        step.line, step.name, step.mass, step.length, _gauge(step), step.photo, step.length_within),
    "weigh count": lambda t, step, head: WeighCounted(
        step.line, _place(t, step.at), step.quantity, step.gross, step.tare, step.sample, step.pieces, step.scatter,
        _gauge(step)),
    "measure": lambda t, step, head: Measured(step.closure, step.limit, step.reading, _gauge(step)),
    "join": lambda t, step, head: Joined(Person(step.name, step.role)),
    "leave": lambda t, step, head: Left(step.name),
}  # fmt: skip


def _gauge(step: Step) -> Gauge:
    return Gauge(step.instrument, step.reads_to, step.error)


def _nothing_said() -> Reason:
    return Reason("nothing said", "It is not said what the sheet gains.", "Name a space, a closure or a line.")
