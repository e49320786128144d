"""`countback pieces`: whether the pieces of a broken part add up, by figures typed in or on a teardown."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import asdict

from checklists import broken_parts
from checklists.gauges import grams_of, instrument_of
from checklists.words import how_many
from checklists.workshop.pieces import (
    LengthAccount,
    account_for,
    account_for_length,
    expected_from_twin,
    sum_of_pieces,
    weighed,
)
from checklists.workshop.uncertainty import Estimate
from mobileapp.cli_commands import Trouble
from mobileapp.workshop_answers import gauge_said, length_typed, needed, teardown_said, tell, understood


def pieces(said: Namespace) -> int:
    """Whether the pieces of a broken part add up: by figures, or every broken part of a teardown."""
    if said.whole or said.piece:
        return _pieces_by_figures(said)
    t = teardown_said(said)
    rows, lines, good = [], [], True
    for part in t.broken:
        account, words = broken_parts.account_of(t, part), broken_parts.account_words(t, part)
        length = broken_parts.length_account_of(t, part)
        good = good and broken_parts.adds_up(t, part)
        rows.append({"part": part, **(asdict(account) if account else {"verdict": "nothing weighed"}), "words": words,
                     "length": asdict(length) if length else None})  # fmt: skip
        lines += [f"{t.lines[part].name}:", *(f"  {each}" for each in words)]
    return tell(said, {"broken": rows}, lines or ["Nothing is known to be broken on this teardown."], good)


def _pieces_by_figures(said: Namespace) -> int:
    needed(said, "whole", "piece")
    scale = understood(instrument_of(gauge_said(said), "mass"), "--reads-to")
    mass = understood(grams_of(said.whole), "--whole")
    likeness = understood(grams_of(said.likeness), "--likeness")
    if not mass:
        raise Trouble("--whole: the whole part weighs more than nothing.")
    expected = (
        Estimate(mass, likeness / 3**0.5) if said.from_size
        else expected_from_twin(weighed(scale, mass), likeness / mass)
    )  # fmt: skip
    found = sum_of_pieces(scale, [understood(grams_of(each), "--piece") for each in said.piece])
    account = account_for(expected, found, float(length_typed(said.smallest, "--smallest").si))
    length = _by_length(said)
    answer = {**asdict(account), "length": asdict(length) if length else None}
    good = account.verdict == "adds up" and (length is None or length.verdict != "short")
    return tell(said, answer, (*account.words, *([length.words] if length else [])), good)


def _by_length(said: Namespace) -> LengthAccount | None:
    """The lengths added up; None where none is given."""
    if not (said.length or said.piece_length):
        return None
    needed(said, "length", "piece_length")
    if len(said.piece_length) != len(said.piece):
        raise Trouble(f"--piece-length: {len(said.piece_length)} lengths for {how_many(len(said.piece), 'piece')}; say "
                      "each piece's length, or none.")  # fmt: skip
    typed = [(said.length, "--length"), *((each, "--piece-length") for each in said.piece_length)]
    read = [_length_within(text, option, said.length_within) for text, option in typed]
    return account_for_length(read[0], read[1:])


def _length_within(text: str, option: str, off: str) -> Estimate:
    length_typed(text, option)
    length_typed(off or broken_parts.LENGTH_WITHIN, "--length-within")
    read = broken_parts.length_of(text, off)
    if read is None:
        raise Trouble(f"{option}: a length and how far it can be off are more than 0 mm.")
    return read
