"""`countback pieces`: whether the pieces of a broken part add up, by figures typed in or on a teardown."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import asdict

from checklists import broken_parts
from checklists.broken_parts import DIMENSIONS, TWIN
from checklists.facts_measured import PartBroken, PieceWeighed
from checklists.gauges import grams_of
from checklists.sheet_fault import near_miss, shown
from checklists.words import how_many
from checklists.workshop.expected_mass import MATERIALS, SHAPES, Shape, WorkedOut, work_out
from checklists.workshop.mass_of_spec import work_out_spec
from checklists.workshop.uncertainty import USUAL_K, Estimate
from checklists.workshop.units import read_figure
from mobileapp.exit_codes import Trouble
from mobileapp.tables import fastener_tables
from mobileapp.workshop_answers import goes_with, instrument_said, length_typed, needed, teardown_said, tell, understood


def pieces(said: Namespace) -> int:
    """Whether the pieces of a broken part add up: by figures, or every broken part of a teardown."""
    if said.shape or said.item:
        return _pieces_by_size(said)
    if said.whole or said.piece:
        return _pieces_by_figures(said)
    goes_with(said, "--whole, --shape or --item", "from_size", "size", "size_within", "material", "density",
              "density_within", "likeness", "length", "piece_length", "length_within", "reads_to", "error")  # fmt: skip
    t = teardown_said(said)
    rows, lines, good = [], [], True
    for part in t.broken:
        account, words = broken_parts.account_of(t, part), broken_parts.account_words(t, part)
        length = broken_parts.length_account_of(t, part)
        good = good and broken_parts.adds_up(t, part)
        rows.append({"part": part, **(asdict(account) if account else {"verdict": "nothing weighed"}), "words": words,
                     "length": asdict(length) if length else None})  # fmt: skip
        lines += [f"{t.lines[part].name}:", *(f"  {each}" for each in words)]
    for reason in broken_parts.not_accounted(t, None):
        good = False
        rows.append({"part": reason.line, "verdict": "not accounted for", "words": [reason.words, reason.do_next]})
        lines += [f"{reason.line_name}:", f"  {reason.words}", f"  {reason.do_next}"]
    return tell(said, {"broken": rows}, lines or ["Nothing is known to be broken on this teardown."], good)


def _pieces_by_figures(said: Namespace) -> int:
    needed(said, "whole", "piece")
    goes_with(said, "--shape", "size", "size_within", "density_within")
    if not understood(grams_of(said.whole), "--whole"):
        raise Trouble("--whole: the whole part weighs more than nothing.")
    instrument_said(said, "mass")
    needed(said, "likeness")  # no two parts weigh quite the same
    understood(broken_parts.likeness_of(DIMENSIONS if said.from_size else TWIN, said.likeness), "--likeness")
    return _tell_account(said, density=_density(said)[0] if said.material or said.density else "")


def _pieces_by_size(said: Namespace) -> int:
    """The whole's mass from its dimensions; and where pieces are weighed, whether they add up to it."""
    if said.whole or (said.shape and said.item):
        raise Trouble("--whole, --shape and --item: say one of them; shape and item work the whole's mass out.")
    goes_with(said, "--whole", "from_size")
    if said.item:
        goes_with(said, "--shape", "size", "size_within", "density_within")
        goes_with(said, "--whole or --shape", "material", "density")
    found = understood(work_out_spec(said.item, fastener_tables()), "--item") if said.item else _from_shape(said)
    likeness = understood(grams_of(said.likeness or "0 g"), "--likeness")
    whole = Estimate(found.estimate.value, (found.estimate.u**2 + likeness**2 / 3) ** 0.5)
    if said.piece:
        return _tell_account(said, whole, found.density, found.words)
    answer = {"mass": whole.value, "u": whole.u, "k": USUAL_K, "worked_out": found.given}
    return tell(said, answer, found.words)


def _from_shape(said: Namespace) -> WorkedOut:
    found = work_out(_shape(said), said.size, said.size_within, *_density(said))
    if not isinstance(found, WorkedOut):
        raise Trouble(" ".join(f"--{_OPTIONS.get(name, 'size')}: {words}" for name, words in found.items()))
    return found


_OPTIONS = {"size within": "size-within", "density": "density", "density within": "density-within"}


def _shape(said: Namespace) -> Shape:
    shape = SHAPES.get(said.shape.replace("-", " "))
    if shape is None:
        known = [name.replace(" ", "-") for name in SHAPES]
        raise Trouble(f"--shape: {shown(said.shape)} is not known here{near_miss(said.shape, known) or '.'} "
                      f"Known: {', '.join(known)}.")  # fmt: skip
    if len(said.size) != len(shape.sizes):
        raise Trouble(f"--size: a {shape.name} is measured by {', '.join(shape.sizes)}; given here: {len(said.size)}.")
    return shape


def _density(said: Namespace) -> tuple[str, str]:
    if said.density and said.material:
        raise Trouble("--material and --density: say one of them.")
    if said.density:
        if understood(read_figure(said.density, "density"), "--density").number <= 0:
            raise Trouble("--density: a density is more than nothing.")
        return said.density, said.density_within
    needed(said, "material")
    goes_with(said, "--density", "density_within")
    material = MATERIALS.get(said.material.replace("-", " "))
    if material is None:
        near = near_miss(said.material, list(MATERIALS)) or "."
        raise Trouble(f"--material: {shown(said.material)} is not known here{near} "
                      f"Known: {', '.join(MATERIALS)}. Or say --density.")  # fmt: skip
    return material.density, material.within


def _tell_account(
    said: Namespace, expected: Estimate | None = None, density: str = "", worked_out: tuple[str, ...] = ()
) -> int:
    """Hold the pieces against the whole, as typed or as `expected`."""
    gauge = instrument_said(said, "mass")
    understood(broken_parts.smallest_of(said.smallest), "--smallest")
    for each in said.piece:
        understood(grams_of(each), "--piece")
    whole = PartBroken("", False, DIMENSIONS if said.from_size else TWIN, said.whole, said.likeness, said.smallest,
                       gauge, said.length, said.length_within, density)  # fmt: skip
    lengths = _lengths(said)
    pieces = [PieceWeighed("", "", mass, length, gauge, "", said.length_within)
              for mass, length in zip(said.piece, lengths, strict=True)]  # fmt: skip
    account, length = broken_parts.account_by(whole, pieces, expected), broken_parts.length_account_by([whole], pieces)
    assert account is not None, "everything it needs was read above"
    answer = {**asdict(account), "length": asdict(length) if length else None}
    good = account.verdict == "adds up" and (length is None or length.verdict != "short")
    words = (*worked_out[:1], *broken_parts.both_words(account, length), *worked_out[1:])
    return tell(said, answer, words, good)


def _lengths(said: Namespace) -> list[str]:
    """The length of each piece as typed, empty where none is given."""
    if not (said.length or said.piece_length):
        return [""] * len(said.piece)
    needed(said, "length", "piece_length")
    if len(said.piece_length) != len(said.piece):
        raise Trouble(f"--piece-length: {len(said.piece_length)} lengths for {how_many(len(said.piece), 'piece')}; say "
                      "each piece's length, or none.")  # fmt: skip
    length_typed(said.length_within or broken_parts.LENGTH_WITHIN, "--length-within")
    for text, option in [(said.length, "--length"), *((each, "--piece-length") for each in said.piece_length)]:
        length_typed(text, option)
        if broken_parts.length_of(text, said.length_within) is None:
            raise Trouble(f"{option}: a length and how far it can be off are more than 0 mm.")
    return list(said.piece_length)
