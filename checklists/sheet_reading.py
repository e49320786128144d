"""A teardown sheet from the text of its file, or every fault that stands in the way.

Nothing is given up at the first fault: what can be read is read and checked, what cannot is reported once, and
nothing below it is judged again.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping, Sequence, Set
from decimal import Decimal, DecimalException
from typing import Any, TypeVar

from checklists import places
from checklists.sheet import (
    BEHIND_A_COVER,
    Caution,
    Closure,
    Fastener,
    ItemSize,
    Limit,
    Line,
    Opening,
    Part,
    Passage,
    Shape,
    Sheet,
    Space,
    merge_sheets,
)
from checklists.sheet_check import check_sheet
from checklists.sheet_fault import Fault, near_miss, report, shown

__all__ = ["BLANK", "Fault", "check_sheet", "merge_sheets", "read_part", "read_sheet", "read_toml", "report"]

#: Where a teardown starts that has no sheet: everything is added as the work goes.
BLANK = Sheet(name="Blank sheet", machine="")

_NOT_A_SIZE = Decimal("NaN")
_LINE_OF_FAULT = re.compile(r"\(at line (\d+)")
_STEP = re.compile(r"[.\[]|$")
_Row = TypeVar("_Row")


def read_sheet(text: str, source: str) -> tuple[Sheet | None, tuple[Fault, ...]]:
    """The sheet written in `text`, or None and all its faults. `source` names the file in each fault."""
    reading = _Reading(source)
    data = _toml(text, reading)
    if reading.faults:
        return None, tuple(reading.faults)
    sheet = _sheet(_Table(data, "", reading))
    unread = {fault.path for fault in reading.faults}
    checked = [f for f in check_sheet(sheet, source=source) if not _at_or_below(f.path, unread)]
    faults = (*reading.faults, *checked)
    return (None if faults else sheet), faults


def read_part(data: Mapping[str, Any], source: str, path: str) -> tuple[Sheet, tuple[Fault, ...]]:
    """What a sheet gains, from a table that was read already: a sheet's keys, none of them needed.

    Only the reading is checked here; what the part joins is checked once both are together.
    """
    reading = _Reading(source)
    return _sheet(_Table(data, path, reading), named=False), tuple(reading.faults)


def read_toml(text: str, source: str) -> tuple[dict[str, Any], tuple[Fault, ...]]:
    """The tables of a TOML text, its decimal numbers exact; or nothing and the fault with its line."""
    reading = _Reading(source)
    return _toml(text, reading), tuple(reading.faults)


def _at_or_below(path: str, unread: Set[str]) -> bool:
    return any(path[: step.start()] in unread for step in _STEP.finditer(path))


# ---- TOML


class _Reading:
    """The faults found so far in one source."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.faults: list[Fault] = []

    def fault(self, path: str, message: str) -> None:
        self.faults.append(Fault(self.source, path, message))


def _toml(text: str, reading: _Reading) -> dict[str, Any]:
    try:
        return tomllib.loads(text, parse_float=_decimal)
    except RecursionError:
        reading.fault("", "tables or lists are nested too deep; a sheet needs three levels")
    except ValueError as broken:
        reading.fault(_line_of(broken, text), f"this is not TOML: {_in_one_line(broken)}. Put this right first")
    return {}


def _decimal(digits: str) -> Decimal:
    try:
        return Decimal(digits)
    except DecimalException:
        return _NOT_A_SIZE


def _line_of(broken: ValueError, text: str) -> str:
    at = _LINE_OF_FAULT.search(str(broken))
    return f"line {at[1] if at else text.count(chr(10)) + 1}"


def _in_one_line(broken: ValueError) -> str:
    return "".join(c if c.isprintable() else " " for c in str(broken))[:200]


# ---- one table


class _Table:
    """One table of the file: hands out its values by key and notes what is missing, wrong or not asked for.

    What cannot be read is noted and comes back as an empty value, so that reading goes on.
    """

    def __init__(self, data: Any, path: str, reading: _Reading) -> None:
        self._path = path
        self._reading = reading
        self._readable = isinstance(data, dict)
        self._data: Mapping[str, Any] = data if self._readable else {}
        self._asked: list[str] = []
        if not self._readable:
            reading.fault(path, f"should be a table, this is {_what(data)}")

    def text(self, key: str, default: str | None = None) -> str:
        return self._get(key, str, "text in quotes", "", default)

    def count(self, key: str) -> int:
        return self._get(key, int, "a whole number", 1, None)

    def truth(self, key: str, default: bool) -> bool:
        return self._get(key, bool, "true or false", default, default)

    def has(self, key: str) -> bool:
        return key in self._data

    def known(self, key: str) -> None:
        """A key that may be said here and is not, so that a misspelt one is told what it might have been."""
        self._asked.append(key)

    def table(self, key: str) -> _Table:
        self._asked.append(key)
        if key in self._data:
            return _Table(self._data[key], self._at(key), self._reading)
        self._missing(key)
        nothing = _Table({}, self._at(key), self._reading)
        nothing._readable = False
        return nothing

    def tables(self, key: str, read: Callable[[_Table], _Row], *, needed: bool = False) -> tuple[_Row, ...]:
        rows = self._list(key, f"; where there is none, write {key} = []" if needed else None)
        return tuple(read(_Table(row, f"{self._at(key)}[{i}]", self._reading)) for i, row in enumerate(rows))

    def texts(self, key: str) -> tuple[str, ...]:
        rows = enumerate(self._list(key))
        return tuple(self._typed(row, f"{self._at(key)}[{i}]", str, "text in quotes", "") for i, row in rows)

    def sizes(self, key: str) -> tuple[Decimal, ...]:
        return tuple(self._size(row, f"{self._at(key)}[{i}]") for i, row in enumerate(self._list(key, "")))

    def counts(self, key: str) -> tuple[int, ...]:
        rows = enumerate(self._list(key))
        return tuple(self._typed(row, f"{self._at(key)}[{i}]", int, "a whole number", 1) for i, row in rows)

    def points(self, key: str) -> tuple[tuple[Decimal, Decimal], ...]:
        rows = enumerate(self._list(key))
        return tuple(self._point(row, f"{self._at(key)}[{i}]") for i, row in rows)

    def fault(self, key: str, words: str) -> None:
        """Note what is wrong between this key and another one."""
        self._reading.fault(self._at(key), words)

    def finish(self) -> None:
        """Note every key that nobody asked for."""
        for key in self._data:
            if key not in self._asked:
                known = [k for k in self._asked if k not in self._data] or self._asked
                guess = near_miss(key, known)
                self._reading.fault(self._at(key), f"this key is not known here{guess}")

    def _at(self, key: str) -> str:
        written = key if key.isidentifier() and len(key) < 40 else shown(key)
        return f"{self._path}.{written}" if self._path else written

    def _get(self, key: str, wanted: type[_Row], words: str, unread: _Row, default: _Row | None) -> _Row:
        self._asked.append(key)
        if key in self._data:
            return self._typed(self._data[key], self._at(key), wanted, words, unread)
        if default is not None:
            return default
        self._missing(key)
        return unread

    def _missing(self, key: str, hint: str = "") -> None:
        if self._readable:
            self._reading.fault(self._at(key), f"this key is missing{hint}")

    def _typed(self, value: Any, path: str, wanted: type[_Row], words: str, unread: _Row) -> _Row:
        # type() and not isinstance(): to Python true is also the number 1.
        if type(value) is wanted:
            return value
        self._reading.fault(path, f"should be {words}, this is {_what(value)}")
        return unread

    def _list(self, key: str, needed: str | None = None) -> Sequence[Any]:
        self._asked.append(key)
        if key not in self._data:
            if needed is not None:
                self._missing(key, needed)
            return ()
        return self._typed(self._data[key], self._at(key), list, "a list", [])

    def _size(self, value: Any, path: str, words: str = "a number in mm") -> Decimal:
        if type(value) is int:
            return Decimal(value)
        return self._typed(value, path, Decimal, words, Decimal(1))

    def _point(self, value: Any, path: str) -> tuple[Decimal, Decimal]:
        if type(value) is not list or len(value) != 2:
            self._reading.fault(path, "should be a position [x, y]: how far to the right, and how far up")
            return Decimal(0), Decimal(0)
        x, y = (self._size(each, f"{path}[{i}]", "a number") for i, each in enumerate(value))
        return x, y


def _what(value: Any) -> str:
    """The kind of a TOML value in a person's words."""
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, str):
        return f"the text {shown(value)}"
    words = {int: "a whole number", Decimal: "a number with a decimal point", list: "a list", dict: "a table"}
    return words.get(type(value), "a date or time")


# ---- the records


def _sheet(table: _Table, *, named: bool = True) -> Sheet:
    unsaid = None if named else ""
    sheet = Sheet(
        name=table.text("name", unsaid),
        machine=table.text("machine", unsaid),
        cautions=table.tables("caution", _caution),
        spaces=table.tables("space", _space),
        passages=table.tables("passage", _passage),
        openings=table.tables("opening", _opening),
        closures=table.tables("closure", _closure),
        items=table.tables("line", _item),
    )
    table.finish()
    return sheet


def _caution(table: _Table) -> Caution:
    caution = Caution(table.text("id"), table.text("text"))
    table.finish()
    return caution


def _space(table: _Table) -> Space:
    space = Space(table.text("id"), table.text("name"), table.text("harm"))
    table.finish()
    return space


def _passage(table: _Table) -> Passage:
    clear = _shape(table.table("clear")) if table.has("clear") else None
    passage = Passage(table.text("from"), table.text("to"), clear, table.text("way"))
    table.finish()
    return passage


def _opening(table: _Table) -> Opening:
    opening = Opening(
        id=table.text("id"),
        name=table.text("name"),
        space=table.text("space"),
        clear=_shape(table.table("clear")),
        closure=table.text("closure"),
        cover=table.text("cover"),
    )
    table.finish()
    return opening


def _shape(table: _Table) -> Shape:
    kind = table.text("shape")
    if kind == BEHIND_A_COVER and not table.has("mm"):
        table.known("mm")
        sizes: tuple[Decimal, ...] = ()
    else:
        sizes = table.sizes("mm")
    table.finish()
    return Shape(kind, sizes)


def _closure(table: _Table) -> Closure:
    torque, positions, passes = table.text("torque", default=""), table.points("positions"), table.counts("passes")
    closure = Closure(
        id=table.text("id"),
        name=table.text("name"),
        fasteners=table.tables("fastener", _fastener, needed=True),
        parts=table.tables("part", _part),
        torque=torque,
        lies_over=table.texts("lies_over"),
        second_count=table.truth("second_count", default=True),
        limits=table.tables("limit", _limit),
        positions=positions,
        y_down=table.truth("y_down", default=False),
        passes=passes or (_stages(torque) if positions else ()),
    )
    if passes and (stages := _stages(torque)) not in ((), passes):
        words = f"torque gives stages of {_listed(stages)} %; leave passes out, for the maker's stages are the passes"
        table.fault("passes", words)
    for words in _apart(torque):
        table.fault("torque", words)
    table.finish()
    return closure


def _apart(torque: str) -> tuple[str, ...]:
    """A torque in two units that are not the same: a slip in the sheet itself, which nobody would see later."""
    if not set("([=/,;") & set(torque):
        return ()
    from checklists.workshop.torque import figures_apart  # only for a torque that may be written twice
    from checklists.workshop.torque_figure import read_torque

    return figures_apart(read_torque(torque))


def _stages(torque: str) -> tuple[int, ...]:
    """The passes that the maker's stages are; the sheet says them from here on, so that nothing is reckoned later."""
    if not torque:
        return ()
    from checklists.workshop.torque_figure import read_torque, stage_percents  # only for a sheet with positions

    return stage_percents(read_torque(torque))


def _listed(passes: Sequence[int]) -> str:
    return ", ".join(map(str, passes))


def _fastener(table: _Table) -> Fastener:
    fastener = Fastener(table.text("id"), table.text("spec"), table.count("quantity"), _item_size(table))
    table.finish()
    return fastener


def _part(table: _Table) -> Part:
    part = Part(table.text("id"), table.text("name"), table.count("quantity"), _item_size(table))
    table.finish()
    return part


def _item(table: _Table) -> Line:
    item = Line(
        table.text("id"),
        table.text("name"),
        table.text("kind"),
        table.count("quantity"),
        places.STORES,
        _item_size(table),
    )
    table.finish()
    return item


def _limit(table: _Table) -> Limit:
    limit = Limit(table.text("id"), table.text("name"), table.text("least", ""), table.text("most", ""))
    table.finish()
    return limit


def _item_size(owner: _Table) -> ItemSize | None:
    """The shape of a fastener, part or item, where it says one."""
    if not owner.has("shape"):
        owner.known("shape")
        return None
    table = owner.table("shape")
    size = ItemSize(table.text("kind"), table.sizes("mm"))
    table.finish()
    return size
