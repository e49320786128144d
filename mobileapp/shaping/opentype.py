"""Reads the tables by which a font's letters become shapes: cmap, hmtx, GDEF, GSUB, GPOS, as the OpenType specification
lays them out, and our own `Plcd` (see assets/fonts/make_indic_fonts.py). A lookup is read when it is first asked for.

Shapes are known by their numbers. A file has one script and its default language; what these tables do not use
(ligature carets, marks on parts of ligatures, alternatives, devices) is not read.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from struct import unpack_from
from typing import Any

#: What a place in a context may be: some shapes, or all but some.
Fits = Container[int]


@dataclass(frozen=True, slots=True)
class Swaps:
    """One shape becomes another (GSUB 1) or several (GSUB 2)."""

    by: Mapping[int, tuple[int, ...]]
    one_for_one: bool


@dataclass(frozen=True, slots=True)
class Ligatures:
    """Several shapes become one (GSUB 4): for the first, what must follow and what comes of it."""

    by: Mapping[int, tuple[tuple[tuple[int, ...], int], ...]]


@dataclass(frozen=True, slots=True)
class InContext:
    """What stands around decides (GSUB 5 and 6, GPOS 7 and 8): before, itself, after, and which lookups act where."""

    before: tuple[Fits, ...]
    itself: tuple[Fits, ...]
    after: tuple[Fits, ...]
    acts: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Contexts:
    """Contexts of which the first that fits acts."""

    rules: tuple[InContext, ...]


@dataclass(frozen=True, slots=True)
class Moves:
    """A shape is moved by itself (GPOS 1): aside, up, and how much wider it becomes."""

    by: Mapping[int, tuple[int, int, int]]


@dataclass(frozen=True, slots=True)
class Pairs:
    """How much wider a shape becomes before another (GPOS 2)."""

    firsts: Fits
    by: Callable[[int, int], int | None]


@dataclass(frozen=True, slots=True)
class Marks:
    """A mark stands on a letter (GPOS 4) or on another mark (GPOS 6), a point of each laid on the other's."""

    marks: Mapping[int, tuple[int, int, int]]
    under: Mapping[int, tuple[tuple[int, int] | None, ...]]
    on_marks: bool


Table = Swaps | Ligatures | Contexts | Moves | Pairs | Marks


@dataclass(frozen=True, slots=True)
class Lookup:
    """Tables of which the first that fits acts, and what they do not see."""

    tables: tuple[Table, ...]
    unseen: frozenset[int]


_Unseen = Callable[[int, int | None], frozenset[int]]


class _AllBut:
    """Every shape that is not among some."""

    def __init__(self, these: Container[int]) -> None:
        self._these = these

    def __contains__(self, shape: object) -> bool:
        return shape not in self._these


class Rules:
    """The rules of one file."""

    def __init__(self, data: bytes) -> None:
        count = unpack_from(">H", data, 4)[0]
        entries = (unpack_from(">4sLLL", data, 12 + 16 * at) for at in range(count))
        self._tables = {tag.decode(): data[start : start + length] for tag, _, start, length in entries}
        self.letters = _letters(self._tables["cmap"])
        self.widths = self._widths()
        self.kinds = _kinds(self._tables["GDEF"], 4) if "GDEF" in self._tables else {}
        self.substitution = Layout(self._tables.get("GSUB"), _GSUB, self._unseen, 7)
        self.positioning = Layout(self._tables.get("GPOS"), _GPOS, self._unseen, 9)

    def _widths(self) -> list[int]:
        given = unpack_from(">H", self._tables["hhea"], 34)[0]
        count = unpack_from(">H", self._tables["maxp"], 4)[0]
        widths = [unpack_from(">H", self._tables["hmtx"], 4 * at)[0] for at in range(given)]
        return widths + widths[-1:] * (count - given)

    def is_mark(self, shape: int) -> bool:
        """Whether a shape stands on another."""
        return self.kinds.get(shape) == 3

    def _unseen(self, flag: int, only_set: int | None) -> frozenset[int]:
        """The shapes that a lookup passes over: letters, ligatures, marks, or marks of all kinds or sets but one."""
        passed = {kind for bit, kind in ((2, 1), (4, 2), (8, 3)) if flag & bit}
        unseen = {shape for shape, kind in self.kinds.items() if kind in passed}
        if only := flag >> 8:
            kinds = _kinds(self._tables["GDEF"], 10)
            unseen |= {shape for shape in self.kinds if self.is_mark(shape) and kinds.get(shape) != only}
        if only_set is not None:
            table = self._tables["GDEF"]
            sets = unpack_from(">H", table, 12)[0]
            seen = set(_covered(table, sets + unpack_from(">L", table, sets + 4 + 4 * only_set)[0]))
            unseen |= {shape for shape in self.kinds if self.is_mark(shape) and shape not in seen}
        return frozenset(unseen)

    @cached_property
    def places(self) -> dict[int, list[tuple[int, int, int, int]]]:
        """For a shape its copies: how many fiftieths of the height aside, up and wider each is, and its number."""
        known: dict[int, list[tuple[int, int, int, int]]] = {}
        table = self._tables["Plcd"]
        for at in range(0, len(table), 10):
            shape, *copy = unpack_from(">HhhhH", table, at)
            known.setdefault(shape, []).append((copy[0], copy[1], copy[2], copy[3]))
        return known

    @cached_property
    def height(self) -> int:
        """The letter's height in the font's own units."""
        return int(unpack_from(">H", self._tables["head"], 18)[0])


class Layout:
    """GSUB or GPOS: the lookups of each feature."""

    def __init__(
        self, data: bytes | None, readers: Mapping[int, Any], unseen: _Unseen, wrapped: int
    ) -> None:
        self._data, self._readers, self._unseen, self._wrapped = data or b"", readers, unseen, wrapped
        self._known: dict[int, Lookup] = {}
        self.features = self._features() if data else {}

    def _features(self) -> dict[str, tuple[int, ...]]:
        data = self._data
        scripts, named, self._lookups = unpack_from(">HHH", data, 4)
        script = scripts + unpack_from(">H", data, scripts + 6)[0]
        language = script + unpack_from(">H", data, script)[0]
        found: dict[str, tuple[int, ...]] = {}
        for number in _numbers(data, language + 4):
            tag, offset = unpack_from(">4sH", data, named + 2 + 6 * number)
            found[tag.decode()] = found.get(tag.decode(), ()) + tuple(_numbers(data, named + offset + 2))
        return found

    def lookup(self, number: int) -> Lookup:
        """One lookup."""
        if number not in self._known:
            at = self._lookups + unpack_from(">H", self._data, self._lookups + 2 + 2 * number)[0]
            kind, flag = unpack_from(">HH", self._data, at)
            offsets = _numbers(self._data, at + 4)
            only_set = unpack_from(">H", self._data, at + 6 + 2 * len(offsets))[0] if flag & 0x10 else None
            tables = tuple(self._table(kind, at + offset) for offset in offsets)
            self._known[number] = Lookup(tables, self._unseen(flag, only_set))
        return self._known[number]

    def _table(self, kind: int, at: int) -> Table:
        if kind == self._wrapped:
            kind, offset = unpack_from(">HL", self._data, at + 2)
            at += offset
        table: Table = self._readers.get(kind, _unread)(self._data, at)
        return table


def _numbers(data: bytes, at: int) -> tuple[int, ...]:
    """A count and as many numbers."""
    count = unpack_from(">H", data, at)[0]
    return unpack_from(f">{count}H", data, at + 2)


def _letters(data: bytes) -> dict[int, int]:
    """The shape of each code point (cmap, format 4)."""
    at = unpack_from(">L", data, 8)[0]
    count = unpack_from(">H", data, at + 6)[0] // 2
    ends = unpack_from(f">{count}H", data, at + 14)
    starts = unpack_from(f">{count}H", data, at + 16 + 2 * count)
    steps = unpack_from(f">{count}H", data, at + 16 + 4 * count)
    offsets = unpack_from(f">{count}H", data, at + 16 + 6 * count)
    known = {}
    for part in range(count):
        for code in range(starts[part], min(ends[part], 0xFFFE) + 1):
            if offsets[part]:
                where = at + 16 + 6 * count + 2 * part + offsets[part] + 2 * (code - starts[part])
                shape = unpack_from(">H", data, where)[0]
            else:
                shape = code + steps[part] & 0xFFFF
            if shape:
                known[code] = shape
    return known


def _kinds(data: bytes, at: int) -> dict[int, int]:
    """The classes that the offset at `at` points to."""
    offset = unpack_from(">H", data, at)[0]
    return _classes(data, offset) if offset else {}


def _classes(data: bytes, at: int) -> dict[int, int]:
    if unpack_from(">H", data, at)[0] == 1:
        first = unpack_from(">H", data, at + 2)[0]
        return dict(enumerate(_numbers(data, at + 4), first))
    known = {}
    for part in range(unpack_from(">H", data, at + 2)[0]):
        first, last, kind = unpack_from(">HHH", data, at + 4 + 6 * part)
        known.update(dict.fromkeys(range(first, last + 1), kind))
    return known


def _covered(data: bytes, at: int) -> list[int]:
    """The shapes of a coverage, in its order."""
    if unpack_from(">H", data, at)[0] == 1:
        return list(_numbers(data, at + 2))
    shapes: list[int] = []
    for part in range(unpack_from(">H", data, at + 2)[0]):
        first, last = unpack_from(">HH", data, at + 4 + 6 * part)
        shapes += range(first, last + 1)
    return shapes


def _coverage(data: bytes, at: int) -> list[int]:
    """The coverage of the table at `at`."""
    return _covered(data, at + unpack_from(">H", data, at + 2)[0])


def _swaps(data: bytes, at: int) -> Swaps:
    shapes = _coverage(data, at)
    if unpack_from(">H", data, at)[0] == 1:
        step = unpack_from(">h", data, at + 4)[0]
        return Swaps({shape: (shape + step & 0xFFFF,) for shape in shapes}, True)
    return Swaps({shape: (to,) for shape, to in zip(shapes, _numbers(data, at + 4), strict=True)}, True)


def _several(data: bytes, at: int) -> Swaps:
    rows = [_numbers(data, at + offset) for offset in _numbers(data, at + 4)]
    return Swaps(dict(zip(_coverage(data, at), rows, strict=True)), False)


def _ligatures(data: bytes, at: int) -> Ligatures:
    known = {}
    for shape, offset in zip(_coverage(data, at), _numbers(data, at + 4), strict=True):
        found = []
        for one in _numbers(data, at + offset):
            made, count = unpack_from(">HH", data, at + offset + one)
            found.append((unpack_from(f">{count - 1}H", data, at + offset + one + 4), made))
        known[shape] = tuple(found)
    return Ligatures(known)


def _contexts(data: bytes, at: int) -> Contexts:
    """Contexts without and with what stands before and after (types 5 and 6 of GSUB, 7 and 8 of GPOS)."""
    return Contexts(tuple(_plain(data, at)))


def _chained(data: bytes, at: int) -> Contexts:
    return Contexts(tuple(_chain(data, at)))


def _acts(data: bytes, at: int, count: int) -> tuple[tuple[int, int], ...]:
    numbers = unpack_from(f">{2 * count}H", data, at)
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


def _plain(data: bytes, at: int) -> Iterator[InContext]:
    form = unpack_from(">H", data, at)[0]
    if form == 3:
        count, acts = unpack_from(">HH", data, at + 2)
        offsets = unpack_from(f">{count}H", data, at + 6)
        itself = tuple(frozenset(_covered(data, at + offset)) for offset in offsets)
        yield InContext((), itself, (), _acts(data, at + 6 + 2 * count, acts))
        return
    fits, firsts, sets = _fitting(data, at, form, 1)
    for first, offset in zip(firsts, sets, strict=True):
        for one in _numbers(data, at + offset) if offset else ():
            rule = at + offset + one
            count, acts = unpack_from(">HH", data, rule)
            rest = unpack_from(f">{count - 1}H", data, rule + 4)
            itself = (first, *(fits[0](number) for number in rest))
            yield InContext((), itself, (), _acts(data, rule + 2 + 2 * count, acts))


def _chain(data: bytes, at: int) -> Iterator[InContext]:
    form = unpack_from(">H", data, at)[0]
    if form == 3:
        groups, where = [], at + 2
        for _ in range(3):
            offsets = _numbers(data, where)
            groups.append(tuple(frozenset(_covered(data, at + offset)) for offset in offsets))
            where += 2 + 2 * len(offsets)
        before, itself, after = groups
        yield InContext(before, itself, after, _acts(data, where + 2, unpack_from(">H", data, where)[0]))
        return
    fits, firsts, sets = _fitting(data, at, form, 3)
    for first, offset in zip(firsts, sets, strict=True):
        for one in _numbers(data, at + offset) if offset else ():
            where = at + offset + one
            rows: list[tuple[int, ...]] = []
            for less in (0, 1, 0):
                count = unpack_from(">H", data, where)[0] - less
                rows.append(unpack_from(f">{count}H", data, where + 2))
                where += 2 + 2 * count
            before, rest, after = (
                tuple(fit(number) for number in row) for fit, row in zip(fits, rows, strict=True)
            )
            acts = _acts(data, where + 2, unpack_from(">H", data, where)[0])
            yield InContext(before, (first, *rest), after, acts)


def _fitting(
    data: bytes, at: int, form: int, groups: int
) -> tuple[list[Callable[[int], Fits]], list[Fits], tuple[int, ...]]:
    """For a context by shapes (format 1) or by classes (2): what a number there means, what may be first, the rules."""
    if form == 1:
        return [lambda shape: frozenset((shape,))] * groups, [{s} for s in _coverage(data, at)], _numbers(data, at + 4)
    offsets = unpack_from(f">{groups}H", data, at + 4)
    by_class = [_class_fits(_classes(data, at + offset) if offset else {}) for offset in offsets]
    # Of those for what stands before, itself and after the middle one counts; a context alone has but one.
    own, shapes = by_class[groups // 2], _coverage(data, at)
    sets = _numbers(data, at + 4 + 2 * groups)
    firsts = [frozenset(shape for shape in shapes if shape in own(number)) for number in range(len(sets))]
    return by_class, list(firsts), sets


def _class_fits(classes: Mapping[int, int]) -> Callable[[int], Fits]:
    return lambda kind: frozenset(s for s, own in classes.items() if own == kind) if kind else _AllBut(classes)


def _value(data: bytes, at: int, form: int) -> tuple[int, int, int]:
    """How far aside and up, and how much wider (the first three of a value record)."""
    found = []
    for bit in (1, 2, 4):
        found.append(unpack_from(">h", data, at)[0] if form & bit else 0)
        at += 2 if form & bit else 0
    return found[0], found[1], found[2]


def _moves(data: bytes, at: int) -> Moves:
    form, shapes, kind = unpack_from(">H", data, at + 4)[0], _coverage(data, at), unpack_from(">H", data, at)[0]
    size = 2 * form.bit_count()
    starts = [at + 6] * len(shapes) if kind == 1 else [at + 8 + size * number for number in range(len(shapes))]
    return Moves({shape: _value(data, start, form) for shape, start in zip(shapes, starts, strict=True)})


def _pairs(data: bytes, at: int) -> Pairs:
    kind, _, one, other = unpack_from(">HHHH", data, at)
    size, shapes = 2 * (one.bit_count() + other.bit_count()), _coverage(data, at)
    known: dict[tuple[int, int], int] = {}
    if kind == 1:
        for shape, offset in zip(shapes, _numbers(data, at + 8), strict=True):
            for number in range(unpack_from(">H", data, at + offset)[0]):
                where = at + offset + 2 + (2 + size) * number
                known[shape, unpack_from(">H", data, where)[0]] = _value(data, where + 2, one)[2]
        return Pairs(frozenset(shapes), lambda first, second: known.get((first, second)))
    firsts, seconds, _, count = unpack_from(">HHHH", data, at + 8)
    of_first, of_second = _classes(data, at + firsts), _classes(data, at + seconds)

    def wider(first: int, second: int) -> int | None:
        where = of_first.get(first, 0) * count + of_second.get(second, 0)
        return _value(data, at + 16 + size * where, one)[2]

    return Pairs(frozenset(shapes), wider)


def _on_letters(data: bytes, at: int) -> Marks:
    return _marks(data, at, False)


def _on_marks(data: bytes, at: int) -> Marks:
    return _marks(data, at, True)


def _marks(data: bytes, at: int, on_marks: bool) -> Marks:
    above, below, kinds, records, letters = unpack_from(">HHHHH", data, at + 2)
    marks, under = {}, {}
    for number, shape in enumerate(_covered(data, at + above)):
        kind, offset = unpack_from(">HH", data, at + records + 2 + 4 * number)
        marks[shape] = (kind, *unpack_from(">hh", data, at + records + offset + 2))
    for number, shape in enumerate(_covered(data, at + below)):
        offsets = unpack_from(f">{kinds}H", data, at + letters + 2 + 2 * kinds * number)
        under[shape] = tuple(unpack_from(">hh", data, at + letters + o + 2) if o else None for o in offsets)
    return Marks(marks, under, on_marks)


def _unread(data: bytes, at: int) -> Contexts:
    """What no rule of ours needs (a choice among alternatives, letters in cursive) does nothing."""
    return Contexts(())


_GSUB = {1: _swaps, 2: _several, 4: _ligatures, 5: _contexts, 6: _chained}
_GPOS = {1: _moves, 2: _pairs, 4: _on_letters, 6: _on_marks, 7: _contexts, 8: _chained}
