"""A torque figure as a maker writes it: "24 N.m", "8 to 10 lbf.ft", "20 Nm (15 lbf.ft)", "30 N.m + 90 deg".

Stages in a row ("30 Nm, 60 Nm, 90 Nm") are one figure too: the last one counts, the others are the passes before it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from checklists.sheet_fault import shown
from checklists.workshop.torque_angle import angle_hint, is_by_angle
from checklists.workshop.torque_said import what_is_said
from checklists.workshop.units import (
    NUMBER,
    Figure,
    NotUnderstood,
    Unit,
    plain_fractions,
    read_figure,
    read_number,
)

#: Three stages in two units each are longer than one figure ever is.
LONGEST = 120
#: Two units agree where half a unit in the last place of both covers the difference, or where it is no more than
#: this: makers round the second figure to fives and tens. Common practice, no source.
_ROUNDED = Fraction(1, 50)


@dataclass(frozen=True, slots=True)
class TorqueFigure:
    """A torque as typed: `low` and `high` in N.m, exact, equal where it is one number; `step` its last place in N.m.

    `stages` are all the stages where the maker gives several, the last being this figure itself. `beside` is the same
    torque again in other units, as typed. `said` is what the maker says beside it (dry, oiled, at most), and
    `lubrication` what of that is a preparation of the thread, by its name in `torque.LUBRICATION`.
    """

    text: str
    number_text: str
    unit: Unit
    low: Fraction
    high: Fraction
    step: Fraction = Fraction(0)
    stages: tuple[TorqueFigure, ...] = ()
    beside: tuple[TorqueFigure, ...] = ()
    said: str = ""
    lubrication: str = ""

    @property
    def alone(self) -> str:
        """What counts of it, in its own unit alone: the last stage, without what stands beside it."""
        return f"{self.number_text} {self.unit.name}"

    @property
    def pairs(self) -> tuple[tuple[TorqueFigure, TorqueFigure], ...]:
        """Each stage with each figure in another unit that stands beside it."""
        return tuple((stage, other) for stage in (self.stages or (self,)) for other in stage.beside)


@dataclass(frozen=True, slots=True)
class AngleFigure:
    """Tightening by angle: kept word for word."""

    text: str


Read = TorqueFigure | NotUnderstood
#: Two figures with one stroke between them, and the whole number before them, if there is one.
_SLASHED = re.compile(
    r"(?:(?<![0-9.,])(?P<whole>[0-9]+)[ -])?(?<![0-9.,/])(?P<over>[0-9]+) ?/ ?(?P<under>[0-9]+)(?![0-9.,]*[0-9]| ?/)"
)
#: Into so many parts a scale is divided; 3/5 is no figure that stands on one.
_PARTS = (2, 4, 8, 16)
#: Something is added that is no torque: a turn whose sign was left out.
_BARE_TURN = re.compile(r"\+\s*[0-9]+\s*(?:\+\s*[0-9]+\s*)*$")
#: What stands between stages: "30, 60, 90 Nm", "30 Nm then 60 Nm". A comma between two digits is a decimal one.
_NEXT_STAGE = re.compile(r"\s*(?:;|→|->|,?\s*\b(?:and then|then|and)\b|,(?![0-9])|(?<=[^0-9\s])\s*,)\s*", re.IGNORECASE)
_LABEL = re.compile(r"(?:(?:stage|step|pass) ?\d|\d(?:st|nd|rd|th)(?: ?(?:stage|step|pass))?) ?[:.)=]? ?(?=\d)", re.I)
_IN_BRACKETS = re.compile(r"(.*[^\s(\[])\s*[(\[]\s*(?!±|\+)([^()\[\]]+?)\s*[)\]]")
_EQUALS = re.compile(r"\s*=\s*|(?<=[^0-9\s/])\s*/\s*(?=[0-9])|(?<=[^0-9\s/])\s+/\s+")
_WORD = r"[^0-9(\[±%]*?"
_FROM_TO = re.compile(
    rf"({NUMBER})\s*({_WORD})\s*(-|–|—|\bto\b|\.\.\.?|…)\s*({NUMBER})\s*([^0-9(\[±%][^(\[±%]*)", re.IGNORECASE
)
#: A tolerance that is not the same both ways: +3/-0, +3 -1.
_UNEVEN = re.compile(rf"\(?\s*\+\s*({NUMBER})\s*[/,]?\s*[-−–]\s*({NUMBER})\s*\)?")
_WITHIN_UNEVEN = re.compile(rf"({NUMBER})\s*({_WORD})\s*{_UNEVEN.pattern}\s*(\D*)")
_WITHIN = re.compile(rf"({NUMBER})\s*({_WORD})\s*\(?\s*(?:±|\+/-|\+-)\s*({NUMBER})\s*(%|{_WORD})\s*\)?\s*(\D*)")


#: 1,200 is one and a fifth to some, and twelve hundred to others.
_THOUSANDS = re.compile(r"(?<![0-9.,])[1-9][0-9]{0,2},[0-9]{3}(?![0-9])")


def read_torque(text: str) -> TorqueFigure | AngleFigure | NotUnderstood:
    """Read a torque figure as typed; one by angle is kept as it is."""
    if len(text) > LONGEST:
        return NotUnderstood(text, f"{shown(text)} is too long for a torque; write it like 24 N.m.")
    if is_by_angle(text):
        return AngleFigure(text.strip())
    said = what_is_said(text)
    if _no_fraction(plain_fractions(_UNEVEN.sub(" ", said.torque))):
        several = "two stages like 30 N.m then 60 N.m, two units like 20 N.m = 15 lbf.ft, a fraction like 0.75 N.m"
        return NotUnderstood(text, f"{shown(text)} can mean two stages, two units or a fraction; write {several}.")
    read = _read(" ".join(plain_fractions(said.torque).replace("±", " ± ").strip(" ,;").split()))
    if isinstance(read, NotUnderstood):
        return NotUnderstood(text, _turn_hint(text) or " ".join(filter(None, (read.words, angle_hint(text)))))
    return replace(read, text=" ".join(text.split()), said=said.words, lubrication=said.lubrication)


def _no_fraction(text: str) -> bool:
    """Whether there is an a/b in it that no rule or scale has: 20/15, 30/60."""
    for found in _SLASHED.finditer(text):
        over, under = int(found["over"]), int(found["under"])
        if over >= under or (not found["whole"] and under not in _PARTS):
            return True
    return False


def agree(one: TorqueFigure, other: TorqueFigure) -> bool:
    """Whether two figures in different units are the same torque within rounding, at both of their ends."""
    slack = (one.step + other.step) / 2
    ends = ((one.low, other.low), (one.high, other.high))
    return all(abs(a - b) <= max(slack, _ROUNDED * max(a, b)) for a, b in ends)


def stage_percents(figure: TorqueFigure | AngleFigure | NotUnderstood | None) -> tuple[int, ...]:
    """The stages as passes in percent of the last, for 30, 60 and 90 N.m 33, 67 and 100; none without stages."""
    if not isinstance(figure, TorqueFigure) or not figure.stages:
        return ()
    return tuple(_percent(stage, figure) for stage in figure.stages)


def stage_at(figure: TorqueFigure, percent: int) -> TorqueFigure | None:
    """The stage that is this pass, if the maker gives one."""
    return next((stage for stage in figure.stages if _percent(stage, figure) == percent), None)


def _percent(stage: TorqueFigure, last: TorqueFigure) -> int:
    return max(1, round((stage.low + stage.high) / (last.low + last.high) * 100))


def _turn_hint(text: str) -> str:
    if not _BARE_TURN.search(text):
        return ""
    return f"{shown(text)}: what is added has no unit. If it is an angle, write it like 30 N.m + 90 deg."


# ---- stages and units side by side


def _read(text: str) -> Read:
    parts = _stages(text)
    if len(parts) == 1:
        return _with_beside(parts[0])
    last = _with_beside(parts[-1])
    if isinstance(last, NotUnderstood):
        return last
    read: list[TorqueFigure] = []
    for part in parts[:-1]:
        each = _with_beside(f"{part} {last.unit.name}" if _is_bare(part) else part)
        if isinstance(each, NotUnderstood):
            return each
        read.append(each)
    return _together(text, (*read, last))


def _is_bare(text: str) -> bool:
    """A number, or a range of them, without its unit: the last stage's is meant."""
    return re.fullmatch(rf"(?:{NUMBER})(?:\s*(?:-|to)\s*(?:{NUMBER}))?", text) is not None


def _stages(text: str) -> list[str]:
    """The stages as they are written, without their labels; brackets stay whole."""
    if found := re.fullmatch(r"([0-9]+(?:([,/-])[0-9]+)(?:\2[0-9]+)+)\s*(\D+)", text):  # 30/60/90 Nm, and with , or -
        return [f"{number} {found[3]}" for number in found[1].split(found[2])]
    parts, depth, start = [], 0, 0
    for found in re.finditer(rf"[(\[]|[)\]]|{_NEXT_STAGE.pattern}", text, re.IGNORECASE):
        mark = found[0].strip()
        if mark in ("(", "["):
            depth += 1
        elif mark in (")", "]"):
            depth -= 1
        elif depth <= 0:
            parts.append(text[start : found.start()])
            start = found.end()
    return [_LABEL.sub("", part.strip(), count=1) for part in (*parts, text[start:])]


def _together(text: str, read: tuple[TorqueFigure, ...]) -> Read:
    """Several figures in a row: stages where the unit is the same, else one torque in several units."""
    first, *rest = read
    units = {each.unit for each in read}
    if 1 < len(units) < len(read):
        return NotUnderstood(text, f"{shown(text)} gives its stages in different units; write them in one.")
    if len(units) > 1:
        return replace(first, beside=(*first.beside, *rest))
    for before, after in zip(read, rest, strict=False):
        if before.low >= after.low or before.high >= after.high:
            fall = f"{shown(text)} does not rise from stage to stage"
            return NotUnderstood(text, f"{fall}; write the last stage alone, the rest as a caution.")
    staged = replace(read[-1], text=text, stages=read)
    if len(set(stage_percents(staged))) < len(read):
        return NotUnderstood(text, f"{shown(text)} has two stages that are all but alike; leave one out.")
    return replace(staged, beside=())


def _with_beside(text: str) -> Read:
    """One torque, with the same in other units in brackets, or after = or /."""
    found = _IN_BRACKETS.fullmatch(text)
    if not found:
        parts = _EQUALS.split(text)
        if len(parts) == 1:
            return _one(text)
        read = [_one(part) for part in parts]
        bad = next((each for each in read if isinstance(each, NotUnderstood)), None)
        return bad or _together(text, tuple(each for each in read if isinstance(each, TorqueFigure)))
    main, other = _read(found[1]), _read(found[2])
    if isinstance(main, NotUnderstood) or isinstance(other, NotUnderstood):
        return main if isinstance(main, NotUnderstood) else other
    if main.stages or other.stages:
        return _stages_beside(text, main, other)
    others = (replace(other, beside=()), *other.beside)
    if any(each.unit == main.unit for each in others):
        return NotUnderstood(text, f"{shown(text)} says {main.unit.name} twice; write the figure that counts alone.")
    return replace(main, text=text, beside=others)


def _stages_beside(text: str, main: TorqueFigure, other: TorqueFigure) -> Read:
    if len(main.stages) != len(other.stages) or other.unit == main.unit:
        return NotUnderstood(text, f"{shown(text)} does not give every stage in both units; write it in one of them.")
    stages = tuple(replace(one, beside=(same,)) for one, same in zip(main.stages, other.stages, strict=True))
    return replace(main, text=text, stages=stages)


# ---- one torque in one unit


def _one(text: str) -> Read:
    if found := _THOUSANDS.search(text):
        point, none = found[0].replace(",", "."), found[0].replace(",", "")
        return NotUnderstood(text, f"{shown(text)} can mean {point} or {none}; write the one you mean.")
    if found := _WITHIN.fullmatch(text):
        return _tolerance(text, found)
    if found := _WITHIN_UNEVEN.fullmatch(text):
        return _uneven(text, found)
    if (found := _FROM_TO.fullmatch(text)) and not _is_fraction(found):
        return _range(text, found)
    figure = read_figure(text, "torque")
    if isinstance(figure, NotUnderstood):
        return figure
    if figure.number <= 0:
        return NotUnderstood(text, f"{shown(text)} tightens nothing; write it like 24 N.m.")
    return TorqueFigure(figure.text, _number_text(figure), figure.unit, figure.si, figure.si, figure.step_si)


def _is_fraction(found: re.Match[str]) -> bool:
    """1-1/2 is one and a half, not a range."""
    return found[3] == "-" and not found[2] and "/" in found[4] and "/" not in found[1]


def _range(text: str, found: re.Match[str]) -> Read:
    """8 to 10 lbf.ft, or with the unit at both."""
    unit = read_figure(f"1 {found[5]}", "torque")
    other = read_figure(f"1 {found[2]}", "torque") if found[2] else unit
    for each in (unit, other):
        if isinstance(each, NotUnderstood):
            return NotUnderstood(text, each.words)
    assert isinstance(unit, Figure)
    assert isinstance(other, Figure)
    if unit.unit != other.unit:
        return NotUnderstood(
            text, f"{shown(text)} runs from {other.unit.name} to {unit.unit.name}; write both ends in one unit."
        )
    (low, step), (high, _) = read_number(found[1]), read_number(found[4])
    return _between(text, f"{found[1]} {found[3]} {found[4]}", unit.unit, low, high, step)


def _tolerance(text: str, found: re.Match[str]) -> Read:
    """24 ± 3 N.m, 24 N.m ± 3, 24 N.m ± 3 N.m, 24 N.m ± 10 %."""
    unit = _one_unit(text, found[2], found[4], found[5])
    if isinstance(unit, NotUnderstood):
        return unit
    (middle, step), (off, _) = read_number(found[1]), read_number(found[3])
    if found[4] == "%":
        off = middle * off / 100
    number = f"{found[1]} ± {found[3]}{' %' if found[4] == '%' else ''}"
    return _between(text, number, unit, middle - off, middle + off, step)


def _uneven(text: str, found: re.Match[str]) -> Read:
    """24 N.m +3/-0, 24 +3/-0 N.m: as much more and as much less as is written."""
    unit = _one_unit(text, found[2], found[5])
    if isinstance(unit, NotUnderstood):
        return unit
    (middle, step), (more, _), (less, _) = (read_number(found[group]) for group in (1, 3, 4))
    return _between(text, f"{found[1]} +{found[3]}/-{found[4]}", unit, middle - less, middle + more, step)


def _one_unit(text: str, *words: str) -> Unit | NotUnderstood:
    """The unit that stands once or several times beside the numbers."""
    names = [word.strip() for word in words if word.strip() not in ("", "%")]
    units = [read_figure(f"1 {name}", "torque") for name in names or [""]]
    for each in units:
        if isinstance(each, NotUnderstood):
            return NotUnderstood(text, each.words)
    known = list(dict.fromkeys(each.unit for each in units if isinstance(each, Figure)))
    if len(known) > 1:
        return NotUnderstood(text, f"{shown(text)} has two units; write both in one of them.")
    return known[0]


def _between(text: str, number: str, unit: Unit, low: Fraction, high: Fraction, step: Fraction) -> Read:
    if not 0 < low <= high:
        return NotUnderstood(
            text, f"{shown(text)} does not run from small to large; write it like 8 to 10 lbf.ft."
        )
    return TorqueFigure(text, number, unit, low * unit.factor, high * unit.factor, step * unit.factor)


def _number_text(figure: Figure) -> str:
    """The number alone, as typed."""
    found = re.search(NUMBER, figure.text)
    return found[0] if found else ""
