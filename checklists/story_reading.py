"""A story from the text of its file, or every fault that stands in the way. The form is told in `stories/README.md`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any, NamedTuple

from checklists.facts import Person
from checklists.sheet import Sheet
from checklists.sheet_check import MOST
from checklists.sheet_fault import Fault, near_miss, shown, spoken_path
from checklists.sheet_reading import read_part, read_toml
from checklists.story import VERBS, Expected, Figure, Piece, Step, Story

Table = Mapping[str, Any]


class _Kind(NamedTuple):
    """What a key holds: the type that TOML gives it, and its name for a person."""

    type: type
    words: str


TEXT, COUNT, TRUTH = _Kind(str, "text in quotes"), _Kind(int, "a whole number"), _Kind(bool, "true or false")
LIST, TABLE, TIME = _Kind(list, "a list"), _Kind(dict, "a table"), _Kind(datetime, "a time with its offset")

_STORY = {"sheet": TEXT, "machine": TEXT, "reason": TEXT, "found": TEXT, "people": LIST, "starts": TIME, "step": LIST}
_PERSON = {"name": TEXT, "role": TEXT}
_PIECE = {"id": TEXT, "name": TEXT, "kind": TEXT, "quantity": COUNT}
_FIGURE = {"line": TEXT, "at": TEXT, "quantity": COUNT}
_TALLY = {"out": COUNT, "in_engine": COUNT, "missing": COUNT}
_EXPECTED = {"expect": TEXT, "refused": LIST, "only": TRUTH, "says": LIST, "tally": TABLE, "stage": TABLE,
             "opening_state": TABLE}  # fmt: skip
_ALWAYS = {"do": TEXT, "who": TEXT, "after": TEXT, "label": TEXT, **_EXPECTED}
_OPERANDS = {
    "line": TEXT, "quantity": COUNT, "at_once": TRUTH, "closure": TEXT, "opening": TEXT, "space": TEXT, "from": TEXT,
    "to": TEXT, "at": TEXT, "photo": TEXT, "words": TEXT, "find": TEXT, "caution": TEXT, "name": TEXT, "role": TEXT,
    "size": TEXT, "near": TEXT, "where": TEXT, "kept": TEXT, "search": TEXT, "torque": TEXT, "clear": TRUTH,
    "into": LIST, "counted": LIST, "sheet": TABLE, "method": TEXT, "found": TRUTH, "reached": TRUTH, "before": TRUTH,
    "earlier": TRUTH, "another": TRUTH, "basis": TEXT, "mass": TEXT, "likeness": TEXT, "smallest": TEXT, "length": TEXT,
    "length_within": TEXT, "instrument": TEXT, "reads_to": TEXT,
    "error": TEXT, "gross": TEXT, "tare": TEXT, "sample": TEXT, "pieces": COUNT, "scatter": TEXT, "limit": TEXT,
    "reading": TEXT, "number": COUNT, "percent": COUNT,
}  # fmt: skip
_STEP = {**_ALWAYS, **_OPERANDS}
#: Keys of the file whose record's field has another name, for `from` is a word of Python.
_FIELDS = {"from": "source", "to": "target", "number": "number_on_map"}
#: Keys whose values are read further.
_NESTED = frozenset({"into", "counted", "sheet"})
STAGES = ("fitted", "loosened", "lifted", "cleared", "set down", "signed", "recalled")
OPENING_STATES = ("sealed", "uncovered", "covered")
_NONE_IS_RIGHT = frozenset({"check", "second count"})
MOST_SINGLY = 1_000
LONGEST_SECONDS = 31 * 86_400
_DURATION = re.compile(r"(?:(\d{1,9}) h)? ?(?:(\d{1,9}) min)? ?(?:(\d{1,9}) s)?", re.ASCII)


def read_story(text: str, source: str) -> tuple[Story | None, tuple[Fault, ...]]:
    """The story written in `text`, or None and all its faults. `source` names the file in each fault.

    What the story says about its sheet is checked by `story_check`, once the sheet is at hand.
    """
    data, faults = read_toml(text, source)
    if faults:
        return None, faults
    reading = _Reading(source)
    story = reading.story(data)
    return (None if reading.faults else story), tuple(reading.faults)


def seconds_of(words: str) -> float | None:
    """A duration as people write it ("40 s", "3 min", "1 h 5 min") in seconds; None where it is none."""
    match = _DURATION.fullmatch(words)
    if not words or not match:
        return None
    hours, minutes, seconds = (int(part or 0) for part in match.groups())
    return float(hours * 3600 + minutes * 60 + seconds)


class _Reading:
    """Reads one story and collects the faults found in it."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.faults: list[Fault] = []

    def fault(self, path: str, message: str) -> None:
        self.faults.append(Fault(self.source, path, message))

    # ---- the story

    def story(self, data: Table) -> Story:
        data = self.table(data, "", _STORY, needs=tuple(key for key in _STORY if key != "found"))
        people = tuple(self.person(row, f"people[{i}]") for i, row in enumerate(data.get("people", ())))
        if "people" in data and not people:
            self.fault("people", "names nobody; name at least the person who starts")
        first = people[0].name if people else ""
        steps = tuple(self.step(row, number, first) for number, row in enumerate(data.get("step", ()), start=1))
        self._labels(steps)
        texts = {key: data.get(key, "") for key in ("sheet", "machine", "reason", "found")}
        return Story(source=self.source, people=people, starts=self._starts(data), steps=steps, **texts)

    def _starts(self, data: Table) -> str:
        starts = data.get("starts")
        if starts is None:
            return ""
        if starts.tzinfo is None:
            self.fault("starts", "has no offset; write it like 2026-03-02T08:15:00+01:00")
        elif not 1900 <= starts.year < 3000:
            self.fault("starts", "is not a year in which anybody opens an engine")
        return str(starts.isoformat(timespec="milliseconds"))

    def _labels(self, steps: tuple[Step, ...]) -> None:
        seen: dict[str, str] = {}
        for step in steps:
            if step.label in seen:
                taken = spoken_path(seen[step.label])
                self.fault(f"{step.path}.label", f"{shown(step.label)} is the label of {taken} already")
            if step.label:
                seen.setdefault(step.label, step.path)

    def person(self, row: Any, path: str) -> Person:
        data = self.table(row, path, _PERSON, needs=tuple(_PERSON))
        return Person(data.get("name", ""), data.get("role", ""))

    # ---- a step

    def step(self, row: Any, number: int, first: str) -> Step:
        path = f"step[{number - 1}]"
        data = self.table(row, path, _STEP, needs=("do",))
        do = data.get("do", "")
        if "do" in data:
            self._verb(do, data, path)
        plain = {_FIELDS.get(key, key): data[key] for key in data if key in _OPERANDS and key not in _NESTED}
        return Step(
            number,
            do,
            data.get("who", first),
            self._after(data, path),
            data.get("label", ""),
            into=self._pieces(data, path),
            counted=self._figures(data, path),
            sheet=self._part(data, path),
            expected=self._expected(data, path),
            **plain,
        )

    def _verb(self, do: str, data: Table, path: str) -> None:
        verb = VERBS.get(do)
        if verb is None:
            self.fault(f"{path}.do", f"nobody knows how to {shown(do)}{near_miss(do, VERBS)}")
            return
        for key in verb.needs:
            if key not in data:
                self.fault(f"{path}.{key}", f"this key is missing; {shown(do)} needs it")
        for key in data:
            if key in _OPERANDS and key not in verb.needs + verb.takes:
                self.fault(f"{path}.{key}", f"{shown(do)} does not use this key")
        self._quantity(do, data, path)

    def _quantity(self, do: str, data: Table, path: str) -> None:
        quantity, least = data.get("quantity", 1), 0 if do in _NONE_IS_RIGHT else 1
        most = MOST if data.get("at_once") or "at_once" not in VERBS[do].takes else MOST_SINGLY
        if quantity < least:
            self.fault(f"{path}.quantity", f"{quantity} is too few; the least is {least}")
        elif quantity > most:
            self.fault(f"{path}.quantity", f"is more than anybody counts; the most is {most}")

    def _after(self, data: Table, path: str) -> float | None:
        if "after" not in data:
            return None
        seconds = seconds_of(data["after"])
        if seconds is None:
            self.fault(f"{path}.after", f"{shown(data['after'])} is no duration; write it like '40 s' or '1 h 5 min'")
        elif seconds > LONGEST_SECONDS:
            self.fault(f"{path}.after", "is longer than a month; start another story")
        return seconds

    def _pieces(self, data: Table, path: str) -> tuple[Piece, ...]:
        rows = self._rows(data, "into", path, _PIECE)
        if "into" in data and not rows:
            self.fault(f"{path}.into", "says nothing; name at least one thing it became")
        return tuple(Piece(*(row.get(key, 1 if key == "quantity" else "") for key in _PIECE)) for row in rows)

    def _figures(self, data: Table, path: str) -> tuple[Figure, ...]:
        rows = self._rows(data, "counted", path, _FIGURE)
        return tuple(Figure(row.get("line", ""), row.get("at", ""), row.get("quantity", 0)) for row in rows)

    def _rows(self, data: Table, key: str, path: str, kinds: Mapping[str, _Kind]) -> list[Table]:
        rows = enumerate(data.get(key, ()))
        return [self.table(row, f"{path}.{key}[{i}]", kinds, needs=tuple(kinds)) for i, row in rows]

    def _part(self, data: Table, path: str) -> Sheet | None:
        if "sheet" not in data:
            return None
        part, faults = read_part(data["sheet"], self.source, f"{path}.sheet")
        self.faults += faults
        return part

    # ---- what is expected

    def _expected(self, data: Table, path: str) -> Expected:
        expect = data.get("expect", "")
        refused = self._texts(data, "refused", path)
        if expect and expect not in ("done", "refused"):
            self.fault(f"{path}.expect", f"{shown(expect)} is not known; write 'done', or refused = [...] with codes")
        if (expect == "done" and refused) or (expect == "refused" and not refused):
            self.fault(f"{path}.refused", "goes with expect = 'refused' and names the codes; 'done' has none")
        if "only" in data and not refused:
            self.fault(f"{path}.only", "goes with refused = [...]")
        return Expected(
            refused,
            data.get("only", False),
            self._texts(data, "says", path),
            tuple(self.table(data.get("tally", {}), f"{path}.tally", _TALLY).items()),
            self._states(data, "stage", path, STAGES),
            self._states(data, "opening_state", path, OPENING_STATES),
        )

    def _states(self, data: Table, key: str, path: str, known: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
        states = data.get(key, {})
        for name, state in states.items():
            if state not in known:
                guess = near_miss(state, known) if isinstance(state, str) else ""
                self.fault(f"{path}.{key}.{name}", f"is not one of: {', '.join(known)}{guess}")
        return tuple(states.items())

    def _texts(self, data: Table, key: str, path: str) -> tuple[str, ...]:
        for index, text in enumerate(data.get(key, ())):
            if type(text) is not str or not text:
                self.fault(f"{path}.{key}[{index}]", "should be text in quotes, and not empty")
        return tuple(text for text in data.get(key, ()) if type(text) is str)

    # ---- tables

    def table(self, data: Any, path: str, kinds: Mapping[str, _Kind], needs: tuple[str, ...] = ()) -> dict[str, Any]:
        """Those values of a table that are of their kind. Notes what is unknown, wrong or not there."""
        if type(data) is not dict:
            self.fault(path, f"should be a table, this is {_what(data)}")
            return {}
        self.faults += self._table_faults(data, path, kinds, needs)
        return {key: value for key, value in data.items() if key in kinds and type(value) is kinds[key].type}

    def _table_faults(
        self, data: Table, path: str, kinds: Mapping[str, _Kind], needs: tuple[str, ...]
    ) -> Iterator[Fault]:
        for key, value in data.items():
            at = f"{path}.{_written(key)}".lstrip(".")
            if key not in kinds:
                guess = near_miss(key, [known for known in kinds if known not in data])
                yield Fault(self.source, at, f"this key is not known here{guess}")
            elif type(value) is not kinds[key].type:
                yield Fault(self.source, at, f"should be {kinds[key].words}, this is {_what(value)}")
            elif value == "" and key != "found":
                yield Fault(self.source, at, "is empty; say it in words")
        for key in needs:
            if key not in data:
                yield Fault(self.source, f"{path}.{key}".lstrip("."), "this key is missing")


def _written(key: str) -> str:
    return key if key.isidentifier() and len(key) < 40 else shown(key)


def _what(value: Any) -> str:
    if isinstance(value, str):
        return f"the text {shown(value)}"
    words = {bool: "true or false", int: "a whole number", Decimal: "a number with a decimal point", list: "a list",
             dict: "a table"}  # fmt: skip
    return words.get(type(value), "a date or time")
