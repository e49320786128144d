"""The thread and length part of a specification string: "M8x1.25x30", "1/4-28 x 1", "#10-24 x 1/2", "5/16 UNC"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from checklists.workshop.fasteners import Tables, Thread
from checklists.workshop.units import INCH, NUMBER, decimal_text, read_number

INCH_DECIMAL = Decimal("25.4")
_NUM = r"\d+(?:\.\d+)?"
#: A pitch may be written with nothing before its point: M5x.8.
_SHORT = rf"(?:{_NUM}|\.\d+)"
_METRIC = re.compile(
    rf"(?<![a-z\d])m ?(?P<size>{_NUM})"
    r"(?: ?- ?(?P<dashed>0?\.\d+|[12](?:\.\d+)?)(?![\d.]))?"
    rf"(?: ?x ?(?P<first>{_SHORT}))?(?: ?x ?(?P<second>{_SHORT}))?(?: ?(?P<unit>mm|in\b|\"))?"
)
_INCH = re.compile(
    r"(?:(?:#|\bno\.?|\bnr\.?) ?(?P<number>\d+)|(?<![\d/.])(?P<part>\d+/\d+)|(?<![\d/.x])(?P<point>0?\.\d+)"
    r"|(?<![\d/.x#-])(?P<bare>1[0-2]|[1-9])(?=-(?:24|28|32|36|40|44|48|56|64|72)(?!\d)))"
    r"(?: ?(?:\"|in\b|inch\b))?"
    r"(?:(?: ?- ?| (?=\d+ ?(?:unc|unf|unef|x)))(?P<per>\d+)(?![\d/]))?(?: ?(?P<series>unc|unf|unef)\b)?"
    rf"(?: ?x ?(?P<length>{NUMBER})(?! ?-? ?\d*/)(?: ?(?P<unit>mm|\"|in\b|inch\b))?)?"
)
#: A length after the words: "M8 stud x 60", "1/4 in bolt 1 in long", "M8 bolt 25 mm".
_LATE_LENGTH = re.compile(
    rf"\bx ?(?P<length>{NUMBER})(?: ?(?P<unit>mm|\"|in\b|inch\b))?"
    rf"|(?<![\d./a-z#-])(?P<plain>{NUMBER})"
    r"(?: ?(?P<named>mm\b|\"|in\b|inch\b|inches\b)(?: ?(?:long|lg)\b)?| ?(?:long|lg)\b)"
)


#: No screw that has a length is shorter or longer than this, in mm. Common practice, no source.
_SHORTEST, _LONGEST = 2, 1000


#: A figure from here on is no mistyped pitch, in mm.
_NO_PITCH = 5


@dataclass(frozen=True, slots=True)
class Asked:
    """What a string asks for: size, pitch (mm, or threads per inch), series, and length in mm, 0 where not said."""

    system: str
    size: str
    pitch: Decimal = Decimal(0)
    series: str = ""
    length: Decimal = Decimal(0)
    length_text: str = ""
    unit_said: bool = False

    def size_faults(self, tables: Tables) -> tuple[str, ...]:
        """Why no table holds this size, with the nearest that one does."""
        if tables.threads_of(self.size):
            return ()
        sizes = {t.size: float(t.diameter) for t in tables.threads if t.system == self.system}
        wanted = _diameter(self.size)
        near = sorted(sizes, key=lambda size: abs(sizes[size] - wanted))[:2]
        held = list(sizes)
        return (
            f"{self.size} is not in the tables ({held[0]} to {held[-1]}); did you mean {' or '.join(near)}?",
        )


def asked_thread(text: str) -> tuple[Asked | None, str]:
    """What a tidied string asks for, and the rest of the string."""
    found = _METRIC.search(text)
    asked = _metric(found) if found else None
    if not found:
        found = _INCH.search(text)
        asked = _inch(found) if found else None
    if not found or not asked:
        return None, text
    rest = f"{text[: found.start()]} {_left_over(found)} {text[found.end() :]}"
    late = None if asked.length_text else _LATE_LENGTH.search(rest)
    if late:
        asked = _with_late(asked, late)
        rest = f"{rest[: late.start()]} {rest[late.end() :]}"
    return asked, rest


def _with_late(asked: Asked, late: re.Match[str]) -> Asked:
    """The same with what stands after the words: a length, or the pitch of a metric thread (M5 bolt x .8)."""
    written, unit = late["length"] or late["plain"], late["unit"] or late["named"] or ""
    plain_number = late["length"] and not unit and "/" not in written
    if asked.system == "metric" and not asked.pitch and plain_number and _is_pitch(written.replace(",", ".")):
        return replace(asked, pitch=Decimal(written.replace(",", ".")))
    length = _millimetres(written, unit, asked.system)
    return replace(asked, length=length, length_text=written, unit_said=bool(unit))


def _metric(found: re.Match[str]) -> Asked:
    size = f"M{Decimal(found['size']).normalize():f}"
    first, second = found["first"], "" if _left_over(found) else found["second"]
    in_inches = found["unit"] in ("in", '"')
    pitch, length = found["dashed"] or "", second or first or ""
    if not pitch and first and second and _is_pitch(second) and not _is_pitch(first):  # M8x25x1.25: the other way round
        pitch, length = second, first
    elif not pitch and first and (second or (_is_pitch(first) and not in_inches)):  # M8x1: no bolt is 1 mm long
        pitch, length = first, second or ""
    factor = INCH_DECIMAL if in_inches else Decimal(1)
    return Asked("metric", size, Decimal(pitch or 0), "", Decimal(length or 0) * factor, length)


def _left_over(found: re.Match[str]) -> str:
    """Of M8x25x10 the x10, for neither figure is a pitch: how many there are, most likely."""
    first, second = found.groupdict().get("first"), found.groupdict().get("second")
    if not first or not second or any(Decimal(each) < _NO_PITCH for each in (first, second)):
        return ""
    return f"x{second}"


def _is_pitch(text: str) -> bool:
    """Whether a figure after x can be a pitch: coarse and fine ones from M3 to M20 are below 3 mm."""
    return 0 < Decimal(text) < 3


def _inch(found: re.Match[str]) -> Asked:
    if found["number"] or found["bare"]:
        size = f"No.{int(found['number'] or found['bare'])}"
    else:
        size = _fraction_name(found["part"] or found["point"])
    per, series = Decimal(found["per"] or 0), (found["series"] or "").upper()
    length = found["length"] or ""
    unit = found["unit"] or ""
    return Asked("inch", size, per, series, _millimetres(length, unit, "inch"), length, bool(unit))


def _millimetres(text: str, unit: str, system: str) -> Decimal:
    """A length in mm: in inches where that is written, or where the thread is one and nothing is written."""
    length = read_number(text)[0] if text else Fraction(0)
    inches = unit != "mm" if system == "inch" else unit in ("in", "inch", "inches", '"')
    return Decimal(f"{Decimal(decimal_text(length * (INCH if inches else 1), 6)).normalize():f}")


def _fraction_name(text: str) -> str:
    """A size as the tables write it: "0.25" is 1/4, "4/16" is 1/4; what is no such fraction stays."""
    over, _, under = text.partition("/")
    if under and not int(under):
        return text
    value = (
        Fraction(int(over), int(under)) if under else Fraction("0" + text if text.startswith(".") else text)
    )
    return f"{value.numerator}/{value.denominator}" if value.denominator in (2, 4, 8, 16) else text


def _diameter(size: str) -> float:
    """A size's diameter in mm, for finding the nearest."""
    if size.startswith("M"):
        return float(size[1:])
    if size.startswith("No."):
        return (0.06 + 0.013 * int(size[3:])) * 25.4
    over, _, under = size.partition("/")
    return float(over) / (float(under or 1) or 1) * 25.4


def thread_for(
    asked: Asked, tables: Tables, words: frozenset[str]
) -> tuple[Thread | None, tuple[str, ...], tuple[str, ...]]:
    """The thread that is asked for, what was assumed, and what is wrong with it."""
    threads = tables.threads_of(asked.size)
    if asked.pitch:
        return _by_pitch(asked, threads)
    series = _series(asked, words)
    fitting = [t for t in threads if t.series == series] if series else list(threads)
    if len(fitting) == 1:
        return fitting[0], (), ()
    if series and not fitting:
        return None, (), (f"{asked.size} has no {series} thread in the tables: {_names(threads)}.",)
    if series or asked.system == "inch":
        return None, (f"The thread is not settled: {_names(fitting)}.",), ()
    return threads[0], (), ()  # a metric size with no pitch said is coarse, by ISO 261 and by custom


def _by_pitch(
    asked: Asked, threads: Iterable[Thread]
) -> tuple[Thread | None, tuple[str, ...], tuple[str, ...]]:
    held = tuple(threads)
    for thread in held:
        if asked.pitch == (thread.per_inch or thread.pitch):
            if asked.series and thread.series != asked.series:
                return (
                    thread,
                    (),
                    (f"{thread.name} is {thread.series}, not {asked.series}; check which it is.",),
                )
            return thread, (), ()
    wanted = f"{asked.size}-{asked.pitch}" if asked.system == "inch" else f"{asked.size}x{asked.pitch}"
    return None, (), (f"{wanted} is not in the tables; did you mean {_names(held)}?",)


def _series(asked: Asked, words: frozenset[str]) -> str:
    coarse, fine = ("UNC", "UNF") if asked.system == "inch" else ("coarse", "fine")
    if "coarse" in words:
        return coarse
    return fine if "fine" in words else asked.series


def _names(threads: Iterable[Thread]) -> str:
    return " or ".join(thread.name for thread in threads)


def length_faults(asked: Asked, kind: str, tables: Tables) -> tuple[str, ...]:
    """Why a length cannot be right: far too small or large, a washer's or nut's, or the thread's pitch."""
    if thread := _meant_for_pitch(asked, tables):
        by_unit = f"write {asked.length_text} in or {asked.length_text} mm if it is a length"
        return (f"{asked.size} x {asked.length_text} can be a thread: did you mean {thread.name}? Else {by_unit}.",)
    if asked.length and kind in ("washer", "hex nut"):
        return (f"A {kind} has no length; {asked.length_text} is not understood.",)
    if asked.length_text and not asked.length:
        return (f"A length of {asked.length_text} is nothing; write it like M8x25.",)
    if asked.length and not _SHORTEST <= asked.length <= _LONGEST:
        return (f"A length of {asked.length:f} mm is not a fastener's; check the unit.",)
    return ()


def _meant_for_pitch(asked: Asked, tables: Tables) -> Thread | None:
    """The thread of an inch size whose threads per inch stand where a length does, with no unit: 1/4 x 28."""
    if asked.system != "inch" or asked.pitch or asked.unit_said or not asked.length_text.isdigit():
        return None
    held = tables.threads_of(asked.size)
    return next((thread for thread in held if thread.per_inch == int(asked.length_text)), None)
