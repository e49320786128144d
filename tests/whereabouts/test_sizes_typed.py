"""Sizes of a simple body as people type them, in mm or in inches, on a screen and on the command line."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.whereabouts.sizes_typed import sizes_typed


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("6 mm", "6"), ("6", "6"), ("3mm", "3"), ("1/4 in", "6.35"), ('1/4"', "6.35"), ("0.25 inch", "6.35"),
        ("8 x 30 mm", "8 30"), ("8 mm x 30 mm", "8 30"), ("8mm×30", "8 30"), ("1/4 x 1 1/2 in", "6.35 38.1"),
        ("1/4 in x 30 mm", "6.35 30"), ("16 x 1,5 mm", "16 1.5"), ("1.2 cm x 3 mm", "12 3"), (".5 x ½ in", "12.7 12.7"),
        ("1/3 in", "8.4666"),  # rounded down: never larger than it is
    ],
)  # fmt: skip
def test_sizes_are_read_with_their_unit_one_at_the_end_for_all(typed: str, mm: str):
    assert sizes_typed([typed]) == tuple(map(Decimal, mm.split()))


@pytest.mark.parametrize(
    ("words", "mm"),
    [
        (["10", "5.2"], "10 5.2"), (["3mm"], "3"), (["1/4in"], "6.35"), (["1/4", "in"], "6.35"),
        (["1/4", "1", "in"], "6.35 25.4"), (["8x30mm"], "8 30"), (["8", "x", "30", "mm"], "8 30"),
    ],
)  # fmt: skip
def test_so_are_the_words_of_a_command_line(words: list[str], mm: str):
    assert sizes_typed(words) == tuple(map(Decimal, mm.split()))


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("wide", "'wide' is not a number with a unit; write it like 0.525 in or 13.3 mm."),
        ("3 g", "g measures mass, and a length is wanted here; write it like 0.525 in or 13.3 mm."),
        ("0 mm", "A size is more than 0 mm."),
        ("-5.2", "A size is more than 0 mm."),
        ("0.00001 mm", "A size is more than 0 mm."),
        ("1/4", "'1/4' can hardly be in mm; write it like 1/4 in."),
        ("1/4 x 30 mm", "'1/4' can hardly be in mm; write it like 1/4 in."),
        ("200000 mm", "'200000 mm' is not a size of this world."),
        ("", "No size is said."),
    ],
)
def test_what_is_no_size_is_said(typed: str, why: str):
    assert sizes_typed([typed]) == why


@given(st.lists(st.text(max_size=20) | st.text(alphabet="0123456789 ./,x×mincm\"-", max_size=20), max_size=4))
def test_anything_typed_is_sizes_or_a_sentence(words: list[str]):
    read = sizes_typed(words)
    assert read[-1] in ".?" if isinstance(read, str) else all(size > 0 for size in read)
