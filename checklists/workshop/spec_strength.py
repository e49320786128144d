"""The class or grade in a specification string: "8.8", "class 10.9", "gr 5", "A2-70", "A4", a nut's "8"."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from checklists.sheet_fault import choices, near_miss, shown
from checklists.workshop.fasteners import Tables

_STAINLESS = r"\ba(\d)(?:[ -]?(\d{2,3}))?(?![\d.])"
_GRADE = r"\b(?:grade|gr|g)[. ]*(\d+(?:\.\d)?)(?![\d.])"
_CLASS = r"\b(?:property class|class|cl|kl)[. ]*(\d+(?:\.\d)?)(?![\d.])"
_BARE = r"(?<![\d./x#-])-?\s*(\d{1,2}\.\d)(?![\d.])"
#: A nut's class is the first figure of the strongest bolt's that it can hold; 04 and 05 are those of thin nuts.
#: ISO 898-2, from memory, to be confirmed.
NUT_CLASSES = ("4", "5", "6", "8", "9", "10", "12", "04", "05")
_BARE_NUT = r"(?<![\d./x#a-z-])\|?(\d{1,2})\|?(?![\d./\w\"])(?! ?(?:mm|in|inch|long)\b)"
#: The bolt that somebody means who gives it a nut's class.
_BOLT_OF_NUT = {"4": "4.8", "5": "5.8", "6": "6.8", "8": "8.8", "9": "9.8", "10": "10.9", "12": "12.9"}
#: ISO 3506: A1 to A5 name the steel, 50, 70 and 80 how strong it is; 025, 035 and 040 are thin nuts.
STEELS = ("A1", "A2", "A3", "A4", "A5")
STAINLESS_CLASSES = ("50", "70", "80")
_THIN_STAINLESS = ("025", "035", "040")


class SaidStrength(NamedTuple):
    """The class or grade as the tables name it, the text without it, what is wrong with it, and what is not known."""

    name: str
    rest: str
    faults: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def take_strength(text: str, system: str, of: Literal["nut", "bolt", ""], tables: Tables) -> SaidStrength:
    """The class or grade in a tidied text. `system` is that of the thread, metric or inch; `of` what is known to have
    it: a bare 8 is a class only where it is said that this is a nut."""
    said = _one(text, of == "nut")
    if said is None:
        return SaidStrength("", text)
    pattern, name, rest = said
    faults, notes = _judged(pattern, name, system, of, tables)
    second = _one(rest, nut=False)
    if second and second[1] != name:
        words = f"{shown(name)} and {shown(second[1])} are two strengths; write the one that is marked on it."
        return SaidStrength(name, second[2], (words,), notes)
    return SaidStrength(name, rest, faults, notes)


def _one(text: str, nut: bool) -> tuple[str, str, str] | None:
    """The first strength that is said: by which pattern, its name, and the text without it."""
    for pattern in (_STAINLESS, _GRADE, _CLASS, _BARE, *((_BARE_NUT,) if nut else ())):
        found = re.search(pattern, text)
        if found:
            return pattern, _name(pattern, found), f"{text[: found.start()]} {text[found.end() :]}"
    return None


def _name(pattern: str, found: re.Match[str]) -> str:
    if pattern == _STAINLESS:
        return f"A{found[1]}-{found[2]}" if found[2] else f"A{found[1]}"
    # "Grade 8.8" is said of metric bolts too; no inch grade has a point here.
    return f"gr {found[1]}" if pattern == _GRADE and "." not in found[1] else found[1]


def _judged(
    pattern: str, name: str, system: str, of: Literal["nut", "bolt", ""], tables: Tables
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is wrong with a strength, and what is not known about it."""
    if pattern == _STAINLESS:
        return _stainless(name, of == "nut")
    known = {strength.name for strength in tables.strengths}
    if pattern == _BARE_NUT or (pattern == _CLASS and "." not in name):
        return _whole_class(name, system, of), ()
    if name not in known:
        return (f"{shown(name)} is no class or grade known here{near_miss(name, sorted(known)) or '.'}",), ()
    if name.startswith("gr ") and system == "metric":
        return (f"{shown(name)} is an inch grade; a metric bolt has a class such as 8.8.",), ()
    if "." in name and system == "inch":
        return (f"{shown(name)} is a metric class; an inch bolt has a grade such as gr 5.",), ()
    return (), ()


def _whole_class(name: str, system: str, of: Literal["nut", "bolt", ""]) -> tuple[str, ...]:
    """A class without a point is a nut's. A thread alone, of which nobody said that it is a nut, may have one too."""
    if system == "inch":
        near = min(("2", "5", "8"), key=lambda each: abs(int(each) - int(name)))
        return (f"{shown(name)} is a metric nut's class; an inch one has a grade: did you mean {shown('gr ' + near)}?",)
    if of == "bolt":
        meant = _BOLT_OF_NUT.get(name, "8.8")
        return (f"{shown(name)} is a nut's class; a bolt's has a point: did you mean {shown(meant)}?",)
    if name in NUT_CLASSES:
        return ()
    near = min(NUT_CLASSES, key=lambda each: (abs(int(each) - int(name)), int(each)))
    return (f"{shown(name)} is no class of a nut ({choices(NUT_CLASSES)}); did you mean {shown(near)}?",)


def _stainless(name: str, nut: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    steel, _, strength = name.partition("-")
    like = f"{steel}-50, {steel}-70 or {steel}-80"
    if steel not in STEELS:
        return (f"{shown(name)} is no stainless steel known here; did you mean {shown(f'A2-{strength or 70}')}?",), ()
    if not strength:
        note = f"{steel} says the steel, not how strong it is: its proof strength is not known. The head says {like}."
        return (), () if nut else (note,)
    if strength not in STAINLESS_CLASSES + (_THIN_STAINLESS if nut else ()):
        near = min(STAINLESS_CLASSES, key=lambda each: abs(int(each) - int(strength)))
        return (f"{shown(name)} is no class of stainless ({like}); did you mean {shown(f'{steel}-{near}')}?",), ()
    return (), ()
