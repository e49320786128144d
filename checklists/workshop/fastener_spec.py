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
from checklists.workshop.spec_no_size import no_size
from checklists.workshop.spec_standards import FLANGED, STANDARDS, not_held, take_standard
from checklists.workshop.spec_strength import take_strength
from checklists.workshop.spec_thread import Asked, asked_thread, length_faults, thread_for
from checklists.workshop.spec_words import KINDS, NEUTRAL, OTHER_SHAPES, tidy

Kind = Literal["hex bolt", "hex nut", "washer", "socket head", "stud", ""]
LONGEST = 120
TAKEN_FOR_HEX = "Taken for a hex bolt."
#: "M8 socket screw" says two kinds; the first of these is meant.
_FIRST_SAID: tuple[Kind, ...] = ("washer", "hex nut", "stud", "socket head", "hex bolt")


@dataclass(frozen=True, slots=True)
class Spec:
    """A specification: `size` as in the tables, `thread` where it is settled, `length` in mm (0: not said).

    `thin` is a thin nut, `flange` a flanged head or nut, `series` that of an inch washer, SAE or USS. `other_shape`
    names a shape that the tables do not hold (a countersunk head, DIN 985): its size must be measured.
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
    series: str = ""
    other_shape: str = ""
    #: Every kind that a bolt can be whose head is not said for sure; empty where it is.
    could_be: tuple[Kind, ...] = ()

    @property
    def bolt_strength(self) -> str:
        """The class or grade of the bolt or stud; a nut's or washer's says nothing of what goes through it."""
        return "" if self.kind in ("hex nut", "washer") else self.strength


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


#: A thread's tolerance class, as in M8-6g or UNC-2A (ISO 965-1, ASME B1.1): it changes no size that counts here.
_TOLERANCE = re.compile(r"(?<=[a-z0-9])(?:\s*-\s*|\s+)(?:[1-3][ab]|[4-8][egh](?:[4-8][gh])?)(?=\s|x|,|$)")


def read_spec(text: str, tables: Tables) -> SpecReading:
    """Read a specification as typed."""
    if len(text) > LONGEST:
        return SpecReading(
            None, (f"{shown(text)} is too long for a specification; write it like M8x25 8.8.",)
        )
    standard, rest = take_standard(_TOLERANCE.sub(" ", tidy(text)))
    asked, rest = asked_thread(rest)
    if asked is None:
        return SpecReading(None, (no_size(text, rest, tables),))
    size_faults = asked.size_faults(tables)
    if size_faults:
        return SpecReading(None, size_faults)
    by_standard = STANDARDS.get(standard, "")
    said = take_strength(rest, asked.system, _what_takes_it(rest, by_standard, asked), tables)
    words, word_faults = _words(said.rest, asked, tables)
    thread, thread_notes, thread_faults = thread_for(asked, tables, words)
    spec = _spec(text, asked, thread, said.name, standard, words)
    faults = thread_faults + said.faults + word_faults + length_faults(asked, spec.kind, tables)
    if spec.kind == "washer":
        thread_notes = ()  # any thread of the size goes through it
    strength_notes = () if spec.kind == "washer" else said.notes
    return SpecReading(spec, faults, thread_notes + _notes(spec, words) + strength_notes)


def _what_takes_it(text: str, by_standard: str, asked: Asked) -> Literal["nut", "bolt", ""]:
    """Whether the strength is a nut's or a bolt's, as far as is said before the words are read."""
    if by_standard == "hex nut" or re.search(r"\bnuts?\b", text):
        return "nut"
    return "bolt" if asked.length else ""


def _spec(
    text: str, asked: Asked, thread: Thread | None, strength: str, standard: str, words: frozenset[str]
) -> Spec:
    kind = _kind(words, STANDARDS.get(standard, ""), asked.length)
    return Spec(
        text, kind, asked.size, thread, asked.length, strength, standard,
        flange="flange" in words or standard in FLANGED,
        thin="thin" in words or standard in ("ISO 4035", "DIN 439"),
        series="USS" if "uss" in words else "SAE" if "sae" in words else "",
        other_shape=" ".join(filter(None, (not_held(standard), *sorted(words & OTHER_SHAPES)))),
        could_be=_could_be(kind, text, standard, words),
    )  # fmt: skip


def _kind(words: frozenset[str], by_standard: str, length: Decimal) -> Kind:
    """The kind that is said by a word, else by the standard, else, with a length, a hex bolt."""
    for kind in _FIRST_SAID:
        if kind in words or kind == by_standard:
            return kind
    return "hex bolt" if length or words & _SCREWS else ""


#: What people call a hex bolt and a socket head alike; a setscrew may have no head at all.
_SCREWS = frozenset(("screw", "setscrew"))


def _could_be(kind: Kind, text: str, standard: str, words: frozenset[str]) -> tuple[Kind, ...]:
    """Only a standard or the word hex says the head: bolt and screw do not, nor does a word of its thread or flange."""
    if kind != "hex bolt" or STANDARDS.get(standard) == "hex bolt":
        return ()
    if "setscrew" in words:  # a hex socket in its end, or a hex head
        return ("hex bolt", "socket head", "stud")
    return () if re.search(r"\bhex(?:agon(?:al)?)?\b", tidy(text)) else ("hex bolt", "socket head")


def _notes(spec: Spec, words: frozenset[str]) -> tuple[str, ...]:
    notes = []
    if not spec.kind:
        notes.append("Say what it is: bolt, socket screw, nut, washer or stud.")
    elif spec.kind == "hex bolt" and spec.could_be and "hex bolt" not in words:
        notes.append(TAKEN_FOR_HEX)
    if spec.kind in ("hex bolt", "socket head", "stud") and not spec.length:
        notes.append("The length is not said.")
    if spec.other_shape:
        notes.append(f"The tables do not hold this shape ({spec.other_shape}): measure it.")
    return tuple(notes)


def _words(rest: str, asked: Asked, tables: Tables) -> tuple[frozenset[str], tuple[str, ...]]:
    """The words that say something, and a fault for each that is not understood."""
    said, faults = set(), []
    for phrase, meaning in KINDS.items():
        if " " in phrase and (found := re.search(rf"\b{phrase}s?\b", rest)):
            said.update(meaning.split("+"))
            rest = rest.replace(found[0], " ")
    for word in re.split(r"[\s,;:()/|]+", rest):
        bare = word.strip(".-\"'")
        if not bare or bare in NEUTRAL:
            continue
        if bare in KINDS or bare in OTHER_SHAPES:
            said.add(KINDS.get(bare, bare))
        else:
            faults.append(f"{shown(bare)} is not understood{_hint(bare, asked, tables)}")
    return frozenset(said), tuple(faults)


def _hint(word: str, asked: Asked, tables: Tables) -> str:
    if word.isdigit() and not asked.length_text:
        return f"; did you mean {shown('x' + word)}? A length is written after x."
    if word[0].isdigit() and not asked.length_text:
        return "; a length is written after x, like M8x25."
    if word.isdigit() and (pointed := f"{word[:-1]}.{word[-1]}") in {each.name for each in tables.strengths}:
        return f"; did you mean {shown(pointed)}?"  # 88, 109
    if re.fullmatch(r"x?\d+x?", word):
        classes = [each.name for each in tables.strengths if each.name.startswith(f"{word}.")]
        if classes and asked.system == "metric":
            return f"; did you mean {shown(classes[-1])}?"
        return "; a length is said already, and how many there are is said apart."
    return _or_stop(word, {*KINDS, *OTHER_SHAPES, *(each for each in NEUTRAL if len(each) > 3)})


def _or_stop(word: str, known: Iterable[str]) -> str:
    """The near miss as the end of a sentence, or a full stop."""
    return near_miss(word, sorted(known)) or "."
