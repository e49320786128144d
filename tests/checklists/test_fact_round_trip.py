"""Every fact goes to canonical JSON (RFC 8785) and comes back the same; nothing else is read as a fact."""

import json
from dataclasses import fields
from decimal import Decimal

import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st
from workboat_model import SHEET

from checklists.fact_codec import UnreadableFact, fact_from_plain, fact_to_plain
from checklists.facts import FACT_TYPES, Move, Person, Seen
from checklists.facts_measured import Gauge
from checklists.sheet import Caution, Closure, Fastener, Line, Opening, Part, Passage, Shape, Sheet, Space
from mobileapp.journal.canonical import canonical
from mobileapp.shelf import load_sheet, shipped_sheets

# Everything Unicode that is text: lone surrogates are not, and the journal refuses them by its own test.
words = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
# Whole numbers that JSON carries exactly everywhere: RFC 8785 sends doubles, 53 bits.
whole = st.integers(-(2**53) + 1, 2**53 - 1)
sizes = st.decimals(Decimal("0.001"), Decimal(99999), allow_nan=False, places=3)


def rows(strategy, most: int = 3):
    return st.lists(strategy, max_size=most).map(tuple)


shapes = st.builds(Shape, words, rows(sizes, 2))
lines = st.builds(Line, words, words, words, whole, words)
sheets = st.builds(
    Sheet,
    words,
    words,
    rows(st.builds(Caution, words, words)),
    rows(st.builds(Space, words, words, words)),
    rows(st.builds(Passage, words, words, st.none() | shapes, words)),
    rows(st.builds(Opening, words, words, words, shapes, words, words)),
    rows(
        st.builds(
            Closure,
            words,
            words,
            rows(st.builds(Fastener, words, words, whole)),
            rows(st.builds(Part, words, words, whole)),
            words,
            rows(words),
            st.booleans(),
        ),
        2,
    ),
    rows(st.builds(Line, words, words, words, whole, st.just("stores"))),
)
moves, people, seen = (
    st.builds(Move, words, whole, words, words),
    st.builds(Person, words, words),
    st.builds(Seen, words, words, whole),
)
BY_TYPE = {
    "str": words,
    "int": whole,
    "bool": st.booleans(),
    "Sheet": st.sampled_from([SHEET, *[load_sheet(name) for name in shipped_sheets()]]) | sheets,
    "Person": people,
    "Seen": seen,
    "Gauge": st.builds(Gauge, words, words, words),
    "tuple[Move, ...]": rows(moves),
    "tuple[Person, ...]": rows(people),
    "tuple[Seen, ...]": rows(seen),
    "tuple[Line, ...]": rows(lines),
    "tuple[str, ...]": rows(words),
    "tuple[int, ...]": rows(whole),
    "tuple[tuple[str, str], ...]": rows(st.tuples(words, words)),
    "Strokes": rows(rows(whole, 6)),
}


def any_fact(kind: str):
    return st.builds(FACT_TYPES[kind], *[BY_TYPE[field.type] for field in fields(FACT_TYPES[kind])])


@pytest.mark.parametrize("kind", sorted(FACT_TYPES))
@settings(max_examples=30, deadline=None, derandomize=True)  # no day of its own, no clock: as in test_random_stories
@given(data=st.data())
def test_a_fact_comes_back_from_canonical_json_as_it_was(kind, data):
    fact = data.draw(any_fact(kind))
    text = rfc8785.dumps(fact_to_plain(fact))
    again = fact_from_plain(kind, json.loads(text))
    assert again == fact
    assert type(again) is type(fact)
    assert rfc8785.dumps(fact_to_plain(again)) == text == canonical(fact_to_plain(fact)).encode()
    assert hash(again) == hash(fact)


@pytest.mark.parametrize("kind", sorted(kind for kind, fact in FACT_TYPES.items() if fields(fact)))
@settings(max_examples=5, deadline=None, derandomize=True)
@given(data=st.data())
def test_a_body_with_a_key_too_many_or_too_few_is_not_read(kind, data):
    body = fact_to_plain(data.draw(any_fact(kind)))
    needed = [f.name for f in fields(FACT_TYPES[kind]) if f.name != "signature"]
    fewer = {key: value for key, value in body.items() if key != needed[0]}
    for wrong in (fewer, body | {"since": "ever"}):
        with pytest.raises(UnreadableFact):
            fact_from_plain(kind, wrong)


def test_a_kind_nobody_knows_is_said():
    with pytest.raises(UnreadableFact, match="made by a newer Countback"):
        fact_from_plain("weighed", {})
