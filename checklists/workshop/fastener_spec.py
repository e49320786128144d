"""Specification strings as people write them ("M8x25 8.8", "1/4-28 x 1 gr 5", "5/16 UNC nut"), read to records.

What is understood is kept; what is not is said word by word, with the nearest thing known.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from checklists.sheet_fault import near_miss, shown
from checklists.workshop.fasteners import Tables, Thread
from checklists.workshop.spec_thread import Asked, asked_thread, length_faults, thread_for
from checklists.workshop.spec_words import KINDS, NEUTRAL, OTHER_SHAPES, STANDARDS, tidy

Kind = Literal["hex bolt", "hex nut", "washer", "socket head", "stud", ""]
LONGEST = 120
TAKEN_FOR_HEX = "Taken for a hex bolt."
#: "M8 socket screw" says two kinds; the first of these is meant.
_FIRST_SAID: tuple[Kind, ...] = ("washer", "hex nut", "stud", "socket head", "hex bolt")


@dataclass(frozen=True, slots=True)
class Spec:
    """A specification: `size` as in the tables, `thread` where it is settled, `length` in mm (0: not said).

    `thin` is a thin nut, `flange` a flanged head or nut, `wide` the wide washer series. `other_shape` names a shape
    that the tables do not hold (a countersunk head, a sealing washer): its size must be measured.
    """

    text: str
    kind: Kind
    size: str
    thread: Thread | None
    length: Decimal
    strength: str
    standard: str = ""
    flange: bool = False
    thin: bool = False
    wide: bool = False
    other_shape: str = ""


@dataclass(frozen=True, slots=True)
class SpecReading:
    """What was understood (`spec`, None where no size was found), what was not (`faults`), and what was assumed."""

    spec: Spec | None
    faults: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def understood(self) -> bool:
        """Everything was understood."""
        return self.spec is not None and not self.faults


def read_spec(text: str, tables: Tables) -> SpecReading:
    """Read a specification as typed."""
    if len(text) > LONGEST:
        return SpecReading(
            None, (f"{shown(text)} is too long for a specification; write it like M8x25 8.8.",)
        )
    standard, rest = _take_standard(tidy(text))
    asked, rest = asked_thread(rest)
    if asked is None:
        return SpecReading(None, (_no_size(text),))
    size_faults = asked.size_faults(tables)
    if size_faults:
        return SpecReading(None, size_faults)
    strength, rest, strength_faults = _take_strength(rest, asked, tables)
    words, word_faults = _words(rest)
    thread, thread_notes, thread_faults = thread_for(asked, tables, words)
    spec = _spec(text, asked, thread, strength, standard, words)
    faults = thread_faults + strength_faults + word_faults + length_faults(asked, spec.kind)
    if spec.kind == "washer":
        thread_notes = ()  # any thread of the size goes through it
    return SpecReading(spec, faults, thread_notes + _notes(spec, words))


def _no_size(text: str) -> str:
    like = "M8x25 8.8, 1/4-28 x 1 gr 5 or M6 washer"
    return f"{shown(text)} has no thread size that is known here; write it like {like}."


def _spec(
    text: str, asked: Asked, thread: Thread | None, strength: str, standard: str, words: frozenset[str]
) -> Spec:
    kind = _kind(words, STANDARDS.get(standard, ""), asked.length)
    return Spec(
        text, kind, asked.size, thread, asked.length, strength, standard,
        flange="flange" in words,
        thin="thin" in words or standard in ("ISO 4035", "DIN 439"),
        wide="uss" in words,
        other_shape=" ".join(sorted(words & OTHER_SHAPES)),
    )  # fmt: skip


def _kind(words: frozenset[str], by_standard: str, length: Decimal) -> Kind:
    """The kind that is said by a word, else by the standard, else, with a length, a hex bolt."""
    for kind in _FIRST_SAID:
        if kind in words or kind == by_standard:
            return kind
    return "hex bolt" if length else ""


def _notes(spec: Spec, words: frozenset[str]) -> tuple[str, ...]:
    notes = []
    if not spec.kind:
        notes.append("Say what it is: bolt, socket screw, nut, washer or stud.")
    elif spec.kind == "hex bolt" and not words & set(KINDS.values()) and not spec.standard:
        notes.append(TAKEN_FOR_HEX)
    if spec.kind in ("hex bolt", "socket head", "stud") and not spec.length:
        notes.append("The length is not said.")
    if spec.other_shape:
        notes.append(f"The tables do not hold this shape ({spec.other_shape}): measure it.")
    return tuple(notes)


def _take_standard(text: str) -> tuple[str, str]:
    """The standard's name, and the text without it."""
    found = re.search(
        r"\b(iso|din|en|asme|ansi)[ -]?((?:b ?18(?:\.\d+){1,2})|\d{2,5})(?:-\d)?(?![\d.])", text
    )
    if not found:
        return "", text
    number = found[2].replace(" ", "").upper()
    body = "ASME" if found[1] == "ansi" else found[1].upper()
    return f"{body} {number}", f"{text[: found.start()]} {text[found.end() :]}"


_STAINLESS = r"\ba([24])[ -]?(50|70|80)\b"
_GRADE = r"\b(?:grade|gr|g)[. ]*(\d+(?:\.\d)?)(?![\d.])"
_CLASS = r"\b(?:property class|class|cl|kl)[. ]*(\d+(?:\.\d)?)(?![\d.])"
_BARE = r"(?<![\d./x#-])-?\s*(\d{1,2}\.\d)(?![\d.])"


def _take_strength(text: str, asked: Asked, tables: Tables) -> tuple[str, str, tuple[str, ...]]:
    """The class or grade as the tables name it, the text without it, and what is wrong with it."""
    for pattern, form in ((_STAINLESS, "A{}-{}"), (_GRADE, "gr {}"), (_CLASS, "{}"), (_BARE, "{}")):
        found = re.search(pattern, text)
        if found:
            name = form.format(*found.groups())
            rest = f"{text[: found.start()]} {text[found.end() :]}"
            return name, rest, _strength_faults(name, pattern == _CLASS, asked, tables)
    return "", text, ()


def _strength_faults(name: str, as_class: bool, asked: Asked, tables: Tables) -> tuple[str, ...]:
    known = {strength.name for strength in tables.strengths}
    if as_class and name in ("5", "6", "8", "9", "10", "12"):
        return ()  # a nut's class
    if name not in known:
        return (f"{shown(name)} is no class or grade known here{_or_stop(name, known)}",)
    if name.startswith("gr ") and asked.system == "metric":
        return (f"{shown(name)} is an inch grade; a metric bolt has a class such as 8.8.",)
    if "." in name and asked.system == "inch":
        return (f"{shown(name)} is a metric class; an inch bolt has a grade such as gr 5.",)
    return ()


def _words(rest: str) -> tuple[frozenset[str], tuple[str, ...]]:
    """The words that say something, and a fault for each that is not understood."""
    said, faults = set(), []
    for phrase, meaning in KINDS.items():
        if " " in phrase and phrase in rest:
            said.add(meaning)
            rest = rest.replace(phrase, " ")
    for word in re.split(r"[\s,;:()/]+", rest):
        bare = word.strip(".-\"'")
        if not bare or bare in NEUTRAL:
            continue
        if bare in KINDS or bare in OTHER_SHAPES:
            said.add(KINDS.get(bare, bare))
        else:
            faults.append(f"{shown(bare)} is not understood{_hint(bare)}")
    return frozenset(said), tuple(faults)


def _hint(word: str) -> str:
    if word[0].isdigit():
        return "; a length is written after x, like M8x25."
    return _or_stop(word, {*KINDS, *OTHER_SHAPES, *(each for each in NEUTRAL if len(each) > 3)})


def _or_stop(word: str, known: Iterable[str]) -> str:
    """The near miss as the end of a sentence, or a full stop."""
    return near_miss(word, sorted(known)) or "."
