"""Folding what two phones wrote onto the sheet: nothing is dropped, and what was signed on less of it falls."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TypeVar

from checklists import places
from checklists.facts import Grown, SheetSettled
from checklists.fold_standing import clear_again, sign_again
from checklists.merging import had_seen
from checklists.sheet import Caution, Closure, Line, Opening, Part, Sheet, Space, closure_lines
from checklists.sheet_loops import loops
from checklists.state import Mark, Teardown
from checklists.two_ways import Thing, TwoWays, Way, alike, chosen

T = TypeVar("T", Caution, Space, Opening, Closure)


def meet(t: Teardown, part: Sheet, mark: Mark) -> Sheet:
    """What a part adds that is not on the sheet yet. What is there in another way is noted in the state.

    A closure that both wrote keeps the fasteners and parts of both, and lies over what either said.
    """
    entry = t.history[-1]
    for what, known, told in _both(t, part):
        two = t.two_ways.get((what, known.id))
        ways = two.ways if two else (_standing(t, what, known),)
        if not any(alike(way.thing, told) for way in ways):
            t.two_ways[what, known.id] = TwoWays(what, (*ways, Way(told, mark, entry.device, entry.seq)))
    _widen(t, part, mark)
    cautions = {caution.id for caution in t.sheet.cautions}
    return replace(
        part,
        cautions=tuple(caution for caution in part.cautions if caution.id not in cautions),
        spaces=tuple(space for space in part.spaces if space.id not in t.spaces),
        passages=tuple(passage for passage in part.passages if passage not in t.sheet.passages),
        openings=tuple(opening for opening in part.openings if opening.id not in t.openings),
        closures=tuple(closure for closure in part.closures if closure.id not in t.closures),
        items=tuple(line for line in part.items if line.id not in t.lines),
    )


def _both(t: Teardown, part: Sheet) -> Iterator[tuple[str, Thing, Thing]]:
    cautions = {caution.id: caution for caution in t.sheet.cautions}
    lines = [line for closure in part.closures for line in closure_lines(closure)] + list(part.items)
    groups: tuple[tuple[str, dict[str, Thing], tuple[Thing, ...]], ...] = (
        ("caution", {**cautions}, part.cautions),
        ("space", {**t.spaces}, part.spaces),
        ("opening", {**t.openings}, part.openings),
        ("closure", {**t.closures}, part.closures),
        ("line", {**t.lines}, tuple(lines)),
    )
    for what, known, told in groups:
        for thing in told:
            if thing.id in known:
                yield what, known[thing.id], thing


def _widen(t: Teardown, part: Sheet, mark: Mark) -> None:
    told = {closure.id: closure for closure in part.closures}
    wider = tuple(_with_both(one, told.get(one.id)) for one in t.sheet.closures)
    if any(loops({one.id: one.lies_over for one in wider})):
        # Each says of the other closure that it lies beneath: what was known first stands.
        wider = tuple(replace(one, lies_over=was.lies_over) for one, was in zip(wider, t.sheet.closures, strict=True))
    for one, was in zip(wider, t.sheet.closures, strict=True):
        if (one.fasteners, one.parts) != (was.fasteners, was.parts):
            sign_again(t, one.id, mark, f"{mark.who} had written down more of it on another phone")
    t.sheet = replace(t.sheet, closures=wider)


def _with_both(known: Closure, told: Closure | None) -> Closure:
    if told is None:
        return known
    known_fasteners = {one.id for one in known.fasteners}
    more = tuple(one for one in told.fasteners if one.id not in known_fasteners)
    known_parts = {one.id for one in known.parts}
    parts = (*known.parts, *(one for one in told.parts if one.id not in known_parts))
    over = tuple(dict.fromkeys((*known.lies_over, *told.lies_over)))
    return _mapped(replace(known, fasteners=(*known.fasteners, *more), parts=parts, lies_over=over))


def _mapped(closure: Closure) -> Closure:
    """Without a map that lacks fasteners: it would leave some untightened."""
    whole = len(closure.positions) in (0, sum(one.quantity for one in closure.fasteners))
    return closure if whole else replace(closure, positions=(), passes=())


def _standing(t: Teardown, what: str, known: Thing) -> Way:
    """What stands, by whoever wrote it so last: the start, an addition, or a settling."""
    for number, entry in reversed(list(enumerate(t.history[:-1], 1))):
        fact = entry.fact
        settled = isinstance(fact, SheetSettled) and fact.what == what and _ids(fact.part, what) == {known.id}
        if settled or (isinstance(fact, Grown) and known.id in _ids(fact.part, what)):
            return Way(known, Mark(number, entry.at, entry.who), entry.device, entry.seq)
    return Way(known, t.started, t.history[0].device, t.history[0].seq)


def _ids(part: Sheet, what: str) -> set[str]:
    if what == "line":
        return {line.id for closure in part.closures for line in closure_lines(closure)} | {i.id for i in part.items}
    groups: dict[str, tuple[Thing, ...]] = {
        "caution": part.cautions, "space": part.spaces, "opening": part.openings, "closure": part.closures
    }  # fmt: skip
    return {thing.id for thing in groups[what]}


def settle(t: Teardown, fact: SheetSettled, mark: Mark) -> None:
    """Let what was chosen stand. A way that whoever chose had not seen stays beside it, to be chosen between again."""
    thing, entry = chosen(fact.part), t.history[-1]
    if thing is None:
        return
    key = fact.what, thing.id
    stands = _thing(t, fact.what, thing.id)
    if stands is None:
        return
    two = t.two_ways.pop(key, None)
    ways = two.ways if two else (_standing(t, fact.what, stands),)
    left = [way for way in ways if not alike(way.thing, thing) and not had_seen(entry, way.device, way.seq)]
    if left:
        t.two_ways[key] = TwoWays(fact.what, (Way(thing, mark, entry.device, entry.seq), *left))
    if not alike(stands, thing):
        _put(t, thing)
        _falls(t, stands, thing, mark)


def _thing(t: Teardown, what: str, name: str) -> Thing | None:
    known: dict[str, dict[str, Thing]] = {
        "caution": {caution.id: caution for caution in t.sheet.cautions},
        "space": {**t.spaces}, "opening": {**t.openings}, "closure": {**t.closures}, "line": {**t.lines},
    }  # fmt: skip
    return known.get(what, {}).get(name)


def _put(t: Teardown, thing: Thing) -> None:
    """Onto the sheet, in the place of what stood."""
    if isinstance(thing, Line):
        known = t.lines[thing.id]
        t.lines[thing.id] = replace(known, name=thing.name, kind=thing.kind, shape=thing.shape)
        t.sheet = _with_line(t.sheet, t.lines[thing.id])
        return
    if isinstance(thing, Closure):
        was = t.closures[thing.id]
        thing = _mapped(replace(thing, fasteners=was.fasteners, parts=was.parts, lies_over=was.lies_over))
    t.sheet = replace(
        t.sheet,
        cautions=_exchanged(t.sheet.cautions, thing),
        spaces=_exchanged(t.sheet.spaces, thing),
        openings=_exchanged(t.sheet.openings, thing),
        closures=_exchanged(t.sheet.closures, thing),
    )


def _falls(t: Teardown, stood: Thing, thing: Thing, mark: Mark) -> None:
    """What was signed, looked at or read on the strength of what stood does not stand any more."""
    why = "what it was signed on was settled otherwise"
    if isinstance(thing, Caution):
        t.acknowledged.pop(thing.id, None)
    elif isinstance(thing, Opening):
        for closure in {thing.closure, getattr(stood, "closure", thing.closure)} & t.closures.keys():
            clear_again(t, closure, mark, why)
    elif isinstance(thing, Closure) and isinstance(stood, Closure):
        asks_more = (stood.second_count, stood.limits) != (thing.second_count, thing.limits)
        (clear_again if asks_more else sign_again)(t, thing.id, mark, why)
    elif isinstance(thing, Line) and places.family(t.lines[thing.id].home) == "fitted":
        sign_again(t, places.named(t.lines[thing.id].home), mark, why)


def _exchanged(things: tuple[T, ...], thing: Thing) -> tuple[T, ...]:
    return tuple(
        thing if isinstance(thing, type(one)) and one.id == thing.id else one
        for one in things
    )


def _with_line(sheet: Sheet, line: Line) -> Sheet:
    def as_part_of(closure: Closure) -> Closure:
        own = f"{closure.id}."
        fasteners = tuple(
            replace(f, spec=line.name, shape=line.shape) if own + f.id == line.id else f for f in closure.fasteners
        )
        parts: tuple[Part, ...] = tuple(
            replace(p, name=line.name, shape=line.shape) if own + p.id == line.id else p for p in closure.parts
        )
        return replace(closure, fasteners=fasteners, parts=parts)

    items = tuple(line if item.id == line.id else item for item in sheet.items)
    return replace(sheet, closures=tuple(map(as_part_of, sheet.closures)), items=items)
