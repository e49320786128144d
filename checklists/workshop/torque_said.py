"""What a maker writes beside a torque that is no torque: "24 N.m (dry)", "max. 24 N.m", "24 N.m with anti-seize"."""

from __future__ import annotations

import re
from typing import NamedTuple

#: How the thread is prepared, by the words for it; the names are those of `torque.LUBRICATION`.
_PREPARED = {
    "dry": "dry", "unlubricated": "dry", "degreased": "dry", "oil": "oiled", "oiled": "oiled", "lubricated": "oiled",
    "grease": "oiled", "greased": "oiled", "anti-seize": "anti-seize", "antiseize": "anti-seize",
}  # fmt: skip
_BOUNDS = {"max", "maximum", "min", "minimum", "most", "least"}
#: Words that say something only beside one of those.
_FILL = {"at", "with", "and", "clean", "lightly", "light", "engine", "thread", "threads", "paste", "compound"}
_TOKEN = re.compile(r"[A-Za-z][A-Za-z-]*\.?")
_GROUP = rf"{_TOKEN.pattern}(?:[ ,]+{_TOKEN.pattern})*"
_BRACKETED = re.compile(rf"\s*[(\[]\s*({_GROUP})\s*[)\]]")
_BEFORE = re.compile(rf"({_GROUP})[ :]*(?=[0-9.,])")


class Said(NamedTuple):
    """A torque without what is said beside it, those words, and how they say the thread is prepared (or nothing)."""

    torque: str
    words: str
    lubrication: str


def what_is_said(text: str) -> Said:
    """Take such words off a torque as typed; anything that is not understood stays where it is."""
    words: list[str] = []

    def taken(found: re.Match[str]) -> str:
        if not _says_something(found[1]):
            return found[0]
        words.append(found[1])
        return " "

    text = _BRACKETED.sub(taken, text.strip())
    text = _BEFORE.sub(taken, text, count=1) if _BEFORE.match(text) else text
    text = _off_the_end(text.strip(), words)
    return Said(text.strip(" ,;"), ", ".join(words), _prepared(words))


def _off_the_end(text: str, words: list[str]) -> str:
    """The longest run of such words at the end; the unit before them stays."""
    tokens = text.split()
    for start in range(1, len(tokens)):
        tail = " ".join(tokens[start:])
        if re.fullmatch(_GROUP, tail) and _says_something(tail):
            words.append(tail)
            return " ".join(tokens[:start])
    return text


def _tokens(words: str) -> list[str]:
    return [token.rstrip(".").casefold() for token in _TOKEN.findall(words)]


def _says_something(words: str) -> bool:
    tokens = _tokens(words)
    known = _BOUNDS | _PREPARED.keys()
    return any(token in known for token in tokens) and all(token in known | _FILL for token in tokens)


def _prepared(words: list[str]) -> str:
    """The one preparation that is named; none where several are, for then a person has to choose."""
    named = {_PREPARED[token] for group in words for token in _tokens(group) if token in _PREPARED}
    return named.pop() if len(named) == 1 else ""
