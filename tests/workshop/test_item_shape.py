"""The body of a fastener by its specification: never larger than what it may turn out to be."""

from decimal import Decimal

import pytest

from checklists.sheet import ItemSize
from checklists.workshop.item_shape import shape_of_spec
from checklists.workshop.mass_of_spec import mass_of_spec
from checklists.workshop.spec_words import KINDS, NEUTRAL
from mobileapp.tables import fastener_tables

TABLES = fastener_tables()
BOLTS = ("M8x25", "M8 x 25 8.8", "1/4 x 1", "1/4-20 x 1", "1/4-28 x 1 bolt", "M10x40 bolt", "3/8 x 2 screw")
#: Words that say the thread, the flange, or nothing: none says which head it is.
THREAD_WORDS = {"coarse", "fine", "unc", "unf"}
MODIFIERS = sorted(
    {word for word, says in KINDS.items() if says in ("flange", "thin", "uss", "sae", "coarse", "fine", "screw")}
    | {word for word in NEUTRAL if not word.startswith("hex") and len(word) > 2}
)


def shape(text: str) -> ItemSize | None:
    return shape_of_spec(text, TABLES)


@pytest.mark.parametrize("bolt", BOLTS)
@pytest.mark.parametrize("word", MODIFIERS)
def test_a_word_that_does_not_say_the_head_never_makes_it_larger(bolt: str, word: str):
    plain, said = shape(bolt), shape(f"{bolt} {word}")
    assert plain
    if said is None:
        return  # not known: it might pass anything
    sizes = 2 if word in THREAD_WORDS else 4  # a fine thread does have a thicker core: its shank is known by that
    assert said.kind == plain.kind
    assert all(a <= b for a, b in zip(said.mm[:sizes], plain.mm[:sizes], strict=True))


@pytest.mark.parametrize(
    "text",
    [
        "1/4 x 1 fine", "1/4 x 1 UNF", "1/4-20 x 1 screw", "1/4-20 x 1 cap screw", "1/4-20 x 1 capscrew",
        "1/4-20 x 1 bolt",
    ],
)  # fmt: skip
def test_what_may_have_a_socket_head_goes_where_one_goes(text: str):
    """The head of a 1/4 in socket head cap screw is 9.5 mm across, of a hex bolt 11.1 mm."""
    found, hexagon = shape(text), shape("1/4-20 x 1 hex cap screw")
    assert found
    assert hexagon
    assert found.mm[0] < Decimal("9.5") < hexagon.mm[0]


@pytest.mark.parametrize("text", ["M8x25 hex bolt", "M8x25 hexagon head bolt", "M8x25 hex head screw", "M8x25 DIN 933"])
def test_only_the_word_hex_or_a_standard_says_the_head(text: str):
    found = shape(text)
    assert found
    assert found.mm[0] > Decimal("12.5")


@pytest.mark.parametrize("text", ["M8x10 setscrew", "1/4-20 x 1/2 setscrew", "M8x10 hex setscrew"])
def test_a_setscrew_may_have_no_head_at_all(text: str):
    found = shape(text)
    assert found
    assert (found.kind, found.mm[0] < 8) == ("rod", True)
    assert shape("M8 setscrew") is None, "of no length said nothing is known"


@pytest.mark.parametrize("kind", ["nut", "thin nut", "x 40 hex bolt"])
@pytest.mark.parametrize("size", ["M5", "M8", "M10", "M12", "M14", "M20"])
def test_where_no_standard_is_said_the_smaller_of_the_iso_and_the_din_one_counts(size: str, kind: str):
    iso, din = {
        "nut": ("ISO 4032", "DIN 934"), "thin nut": ("ISO 4035", "DIN 439"), "x 40 hex bolt": ("ISO 4017", "DIN 933")
    }[kind]  # fmt: skip
    plain, *both = shape(f"{size} {kind}"), shape(f"{size} {kind} {iso}"), shape(f"{size} {kind} {din}")
    assert plain
    assert plain.mm == tuple(map(min, *(each.mm for each in both)))


@pytest.mark.parametrize("typed", ["M8 flange nut EN 1661", "M8 nut EN 1661", "M8x25 EN 1665"])
def test_a_flanged_one_by_its_standard_is_held(typed: str):
    found = shape(typed)
    assert found
    assert found.mm[:1] == (Decimal("12.73"),)


@pytest.mark.parametrize("said", ["ISO 898-1", "ISO 3506", "DIN 267"])
def test_a_standard_of_strength_says_nothing_of_its_shape(said: str):
    assert shape(f"M10 nut {said}") == shape("M10 nut")


def test_a_screw_weighs_what_either_head_weighs():
    plain, screw, set_screw = (mass_of_spec(f"M8x30 {word}", TABLES) for word in ("", "screw", "setscrew"))
    assert plain == screw
    assert set_screw.grams - set_screw.error * set_screw.grams < plain.grams - plain.error * plain.grams
