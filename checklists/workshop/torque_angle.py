"""Whether a torque as typed is tightened by angle: "30 N.m + 90 deg", "40 lbf.ft then 1/4 turn", "angle 120".

Only an angle with its figure is one. A word of turning alone ("degreased", "angled flange", "turn evenly") is not: the
torque beside it would be judged by nobody.
"""

from __future__ import annotations

import re

from checklists.workshop.units import NUMBER, plain_fractions

_DEGREES = r"(?<=[0-9])\s*-?\s*(?:[°º˚]|degrees?\b|degs?\b)(?!\.?\s*(?:[CF]|celsius|fahrenheit)\b)"
_NAMED = r"\bangles?\b[\s:=]*(?:(?:of|by|to|is)\s+)?[0-9]|(?<=[0-9])\s*-?\s*angle\b"
_SHARE = r"\b(?:one|two|three|four|half|third|quarter|sixth|eighth|twelfth|full)(?:[- ](?:thirds|quarters|half))?"
_OF = r"(?:[- ]+(?:of|an?|full|more|further|complete|additional|extra))*"
#: Not "in three turns": those are passes.
_TURNS = rf"(?<!\bin\s)(?<![0-9./])(?:{NUMBER}|{_SHARE}){_OF}[- ]*turns?\b"
#: A sixth of a turn of a hexagon; seven and more are a size across them.
_FLATS = r"(?:(?<![\w./])[1-6]|\b(?:half a|one|two|three|four|five|six))[- ]+flats?\b"
_ANGLE = re.compile("|".join((_DEGREES, _NAMED, _TURNS, _FLATS)), re.IGNORECASE)
_TURNING = re.compile(r"[°º˚]|\bdeg|\bangle|\bturns?\b", re.IGNORECASE)


def is_by_angle(text: str) -> bool:
    """Whether an angle is said, with its figure."""
    return any(_ANGLE.search(" ".join(each.split())) for each in (text, plain_fractions(text)))


def angle_hint(text: str) -> str:
    """What to do about a word of turning that says no angle; nothing where there is none."""
    if not _TURNING.search(text):
        return ""
    return (
        "If it is tightened by angle, write the angle, like 30 N.m + 90 deg or 1/4 turn; else leave such words out."
    )
