"""Canonical JSON (RFC 8785) and the hash that chains the entries.

An entry's hash is the SHA-256 of its whole envelope as canonical JSON: teardown, device, seq, tick, at, who,
kind, body, seen and prev. So every column is covered but the local `id` and `arrival`, which belong to this
file alone; `arrival` in its turn seals the order in which entries came into this file.
"""

from __future__ import annotations

import json
import re
from hashlib import sha256
from json.encoder import encode_basestring as quoted
from typing import Any, NamedTuple

import rfc8785

from checklists.fact_codec import fact_to_plain
from checklists.facts import Counted, Fact

#: The `prev` of a chain's first entry, and the `arrival` before the file's first row.
NOTHING_BEFORE = "0" * 64

#: The largest whole number that JSON's readers all hold exactly.
_LARGEST = 2**53 - 1


class Envelope(NamedTuple):
    """What is hashed, with body and seen as canonical text already."""

    teardown: str
    device: str
    seq: int
    tick: int
    at: str
    who: str
    kind: str
    body: str
    seen: str
    prev: str


class NotCanonical(ValueError):
    """A value that canonical JSON, or this journal, cannot hold."""


def canonical(value: Any) -> str:
    """RFC 8785 text of plain data. Raises NotCanonical on anything it has no form for."""
    try:
        return rfc8785.dumps(value).decode()
    except (rfc8785.CanonicalizationError, RecursionError) as fault:
        raise NotCanonical(str(fault)) from fault


#: A whole number this long may be one that canonical JSON cannot hold.
_LONG_NUMBER = re.compile(r"[0-9]{16}")
#: From here on Python and JSON put the letters of names in different orders.
_SURROGATES = "\ud800"


def read_canonical(text: str) -> Any:
    """The plain data of text that is canonical JSON without fractions. Raises NotCanonical on any other.

    The standard library writes nearly everything as RFC 8785 does, and ten times as fast as doing it step by step;
    what it may write otherwise goes the long way.
    """
    try:
        plain = json.loads(text, parse_float=_no_fraction, parse_constant=_no_fraction)
        written = json.dumps(plain, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
        if _LONG_NUMBER.search(text) or not (text.isascii() or max(text) < _SURROGATES):
            written = canonical(plain)
    except (ValueError, RecursionError) as fault:
        raise NotCanonical(str(fault)) from fault
    if written != text:
        raise NotCanonical("it is not written in the canonical way")
    return plain


def _no_fraction(text: str) -> Any:
    raise NotCanonical(f"the number {text} is not whole")


def body_of(fact: Fact) -> str:
    """The body of a fact as canonical JSON.

    A count is nearly always a few movements and nothing else, and every tap waits for it, so that one form is
    written straight out. A test holds it against canonicalising the same.
    """
    if type(fact) is Counted:
        try:
            return f'{{"moves":[{",".join([_move_text(*move) for move in fact.moves])}]}}'
        except TypeError:
            pass  # something in it is not what it should be: let the general way say what
    return canonical(fact_to_plain(fact))


def _move_text(line: str, quantity: int, source: str, target: str) -> str:
    if type(quantity) is not int or not -_LARGEST <= quantity <= _LARGEST:
        raise TypeError
    return f"[{quoted(line)},{quantity},{quoted(source)},{quoted(target)}]"


def envelope_text(e: Envelope) -> str:
    """The envelope as canonical JSON, put together from parts that are canonical already.

    RFC 8785 is compositional, so the members in the order of their names make the same text as canonicalising
    the whole; it saves doing the body twice for every count. A test holds the two against each other.
    """
    return (
        f'{{"at":{quoted(e.at)},"body":{e.body},"device":{quoted(e.device)},"kind":{quoted(e.kind)},'
        f'"prev":{quoted(e.prev)},"seen":{e.seen},"seq":{e.seq:d},"teardown":{quoted(e.teardown)},'
        f'"tick":{e.tick:d},"who":{quoted(e.who)}}}'
    )


def envelope_hash(envelope: Envelope) -> str:
    """The entry's own hash, in hex. Raises NotCanonical on text that is not Unicode."""
    try:
        return sha256(envelope_text(envelope).encode()).hexdigest()
    except (UnicodeEncodeError, TypeError, ValueError) as fault:
        raise NotCanonical(str(fault)) from fault


def arrival_after(arrival: str, entry_hash: str) -> str:
    """The seal of the file's order after one more entry came in."""
    return sha256((arrival + entry_hash).encode()).hexdigest()
