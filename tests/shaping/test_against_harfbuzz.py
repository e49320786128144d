"""Our shaping held against HarfBuzz (through uharfbuzz), which knows nothing of ours, on the very rules we ship."""

from __future__ import annotations

import unicodedata

import pytest
import uharfbuzz as hb
from shaping.words import names, rows

from mobileapp.look import SCRIPTS, assets_dir
from mobileapp.shaping import pieces, rules_of, signs_of
from mobileapp.shaping.placing import placed

FONTS = {
    script: hb.Font(hb.Face(hb.Blob((assets_dir() / "fonts" / f"{script}-Rules.ttf").read_bytes())))
    for script in SCRIPTS
}
Drawn = list[tuple[int, int, int]]


def by_harfbuzz(text: str, script: str) -> Drawn:
    """Each shape with its place from the left and from the line."""
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.script, buffer.direction, buffer.language = script, "ltr", "en"
    buffer.flags = hb.BufferFlags.REMOVE_DEFAULT_IGNORABLES
    hb.shape(FONTS[script], buffer)
    found, x = [], 0
    for shape, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        found.append((shape.codepoint, x + place.x_offset, place.y_offset))
        x += place.x_advance
    return found


def our_shapes(text: str, script: str) -> list[int]:
    return [sign.shape for _, signs in signs_of(text, script) for sign in signs]


def our_places(text: str, script: str) -> Drawn:
    """As the copies of the marks stand, told apart from what they are copies of."""
    rules = rules_of(script)
    step = rules.height / 50
    copies = {number: (shape, aside, up) for shape, known in rules.places.items() for aside, up, _, number in known}
    found, x = [], 0
    for _, signs in signs_of(text, script):
        for _, number in placed(rules, signs):
            shape, aside, up = copies.get(number, (number, 0, 0))
            found.append((shape, x + round(aside * step), round(up * step)))
            x += rules.widths[number]
    return found


@pytest.mark.parametrize("script", SCRIPTS)
def test_names_and_words_take_the_shapes_that_harfbuzz_gives_them(script: str) -> None:
    for word in names(script):
        assert our_shapes(word, script) == [shape for shape, _, _ in by_harfbuzz(word, script)], word


@pytest.mark.parametrize("script", SCRIPTS)
def test_any_row_of_syllables_takes_the_shapes_that_harfbuzz_gives_it(script: str) -> None:
    for row in rows(script, 200):
        assert our_shapes(row, script) == [shape for shape, _, _ in by_harfbuzz(row, script)], row


@pytest.mark.slow
@pytest.mark.parametrize("script", SCRIPTS)
def test_very_many_rows_take_the_shapes_that_harfbuzz_gives_them(script: str) -> None:
    for row in rows(script, 20_000, seed=8):
        assert our_shapes(row, script) == [shape for shape, _, _ in by_harfbuzz(row, script)], row


@pytest.mark.parametrize("script", SCRIPTS)
def test_every_mark_stands_where_harfbuzz_puts_it(script: str) -> None:
    """To a fiftieth of the letter's height, the step of the copies; letters of a word stand where theirs do."""
    near = rules_of(script).height / 50
    for word in names(script):
        ours, theirs = sorted(our_places(word, script)), sorted(by_harfbuzz(word, script))
        assert [one[0] for one in ours] == [one[0] for one in theirs], word
        for one, other in zip(ours, theirs, strict=True):
            assert max(abs(one[1] - other[1]), abs(one[2] - other[2])) <= near, (word, one, other)


@pytest.mark.parametrize("script", SCRIPTS)
def test_what_the_pieces_say_is_the_text(script: str) -> None:
    for word in (*names(script), *rows(script, 50)):
        said = "".join(piece.said for piece in pieces(word, script))
        assert unicodedata.normalize("NFC", said) == unicodedata.normalize("NFC", word)
