"""The closing sheet's QR code is as large as ISO/IEC 18004 asks for what it carries at level M, and no larger."""

import csv
from hashlib import sha256
from pathlib import Path

import pytest

from mobileapp.paper.code import CodeSays, code_text, modules

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


@pytest.mark.parametrize("version", [1, 2, 3, 4, 10])
def test_one_byte_more_than_a_version_holds_takes_the_next(version: int):
    full = "é" + "a" * (CAPACITY[version] - 2)
    assert version_of(full) == version
    assert version_of(full + "a") == version + 1
