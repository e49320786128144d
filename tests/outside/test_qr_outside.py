"""The closing sheet's QR code is as large as ISO/IEC 18004 asks for what it carries at level M, and no larger."""

import csv
from hashlib import sha256
from pathlib import Path

import pytest

from mobileapp.paper.code import MOST_HEADS, CodeSays, code_text, heads_together, modules, read_code

_LINES = (Path(__file__).parent / "data" / "qr_byte_capacity.csv").read_text(encoding="utf-8").splitlines()
CAPACITY = {int(row["version"]): int(row["M"]) for row in csv.DictReader(_LINES[1:])}


def version_of(text: str) -> int:
    return (len(modules(text)) - 17) // 4


@pytest.mark.parametrize("phones", [1, 2, 3])
@pytest.mark.parametrize("state", ["CLOSED", "NOT CLEAR"])
def test_the_code_of_a_closing_sheet_is_the_smallest_that_holds_it(phones: int, state: str):
    heads = tuple((f"phone-{n}", sha256(bytes([n])).hexdigest()) for n in range(phones))
    text = code_text(CodeSays("workboat-2026-03", state, heads))
    size, version = len(text.encode()), version_of(text)
    held = [known for known in sorted(CAPACITY) if known <= version]
    over = [known for known in sorted(CAPACITY) if known >= version]
    assert all(CAPACITY[known] < size for known in held if known < version)
    assert over
    assert size <= CAPACITY[over[0]]


@pytest.mark.parametrize("phones", [MOST_HEADS, MOST_HEADS + 1, 40])
def test_the_code_of_a_job_of_many_phones_still_fits_and_binds_every_head(phones: int):
    """36 mm across: squares of 0.39 mm at least, which a phone's camera reads (common practice, no source)."""
    heads = tuple((f"{n:016x}", sha256(bytes([n])).hexdigest()) for n in range(phones))
    text = code_text(CodeSays("0123456789abcdef", "NOT CLEAR", heads))
    assert 36 / len(modules(text)) >= 0.39
    says = read_code(text)
    assert says.heads == (heads if phones <= MOST_HEADS else ())
    assert says.together == ("" if phones <= MOST_HEADS else heads_together(heads))
    assert heads_together(heads) != heads_together((*heads[:-1], (heads[-1][0], "0" * 64)))


@pytest.mark.parametrize("version", [1, 2, 3, 4, 10])
def test_one_byte_more_than_a_version_holds_takes_the_next(version: int):
    full = "é" + "a" * (CAPACITY[version] - 2)
    assert version_of(full) == version
    assert version_of(full + "a") == version + 1
