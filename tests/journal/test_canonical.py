"""Bodies and envelopes are canonical JSON as RFC 8785 says."""

import csv
import hashlib
import json
from pathlib import Path

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from checklists.fact_codec import fact_to_plain
from checklists.facts import Counted, Move
from mobileapp.journal.canonical import Envelope, NotCanonical, body_of, canonical, envelope_hash, envelope_text

DATA = Path(__file__).parent / "data" / "rfc8785"
with (DATA / "output_sha256.csv").open() as rows:
    PUBLISHED = [(row["name"], row["sha256_of_output_json"]) for row in csv.DictReader(rows)]

words = st.text(st.characters(exclude_categories=["Cs"]))
whole = st.integers(-(2**53) + 1, 2**53 - 1)
plain = st.dictionaries(
    words, st.recursive(words | whole | st.booleans(), lambda v: st.lists(v) | st.dictionaries(words, v), max_leaves=8)
)


@pytest.mark.parametrize(("name", "sha256"), PUBLISHED)
def test_published_vectors(name, sha256):
    """The RFC author's own vectors (source: data/rfc8785/SOURCE.txt)."""
    text = canonical(json.loads((DATA / f"{name}.json").read_text(encoding="utf-8")))
    assert hashlib.sha256(text.encode()).hexdigest() == sha256


@given(words, words, whole, whole, words, words, words, plain, st.dictionaries(words, words), words)
def test_the_envelope_put_together_equals_the_envelope_canonicalised(
    teardown, device, seq, tick, at, who, kind, body, seen, prev
):
    put_together = Envelope(teardown, device, seq, tick, at, who, kind, canonical(body), canonical(seen), prev)
    whole_envelope = {**put_together._asdict(), "body": body, "seen": seen}
    assert envelope_text(put_together).encode() == rfc8785.dumps(whole_envelope)
    assert envelope_hash(put_together) == hashlib.sha256(rfc8785.dumps(whole_envelope)).hexdigest()


moves = st.lists(st.builds(Move, words, whole, words, words)).map(tuple)


@given(moves)
def test_the_body_of_a_count_written_straight_out_equals_the_body_canonicalised(moves):
    fact = Counted(moves)
    assert body_of(fact).encode() == rfc8785.dumps(fact_to_plain(fact))


@given(st.tuples(words | whole, whole | st.integers() | st.booleans() | words, words, words))
def test_an_odd_movement_gets_the_canonical_text_or_none(row):
    """Whatever stands in a movement, there is no third way."""
    fact = Counted((Move(*row),))
    try:
        expected = rfc8785.dumps(fact_to_plain(fact)).decode()
    except rfc8785.CanonicalizationError:
        with pytest.raises(NotCanonical):
            body_of(fact)
    else:
        assert body_of(fact) == expected


@pytest.mark.parametrize("value", [2**53, float("nan"), float("inf"), "\ud800", {1: "a"}, {"a": {1, 2}}, b"raw"])
def test_what_canonical_json_cannot_hold_is_refused(value):
    with pytest.raises(NotCanonical):
        canonical({"value": value})
