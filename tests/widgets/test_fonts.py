"""Our font, what it has, what it lacks, and its licence beside it."""

from __future__ import annotations

from typing import Any

import pytest
from PIL import Image, ImageFont
from screens import touch

from mobileapp import look
from mobileapp.right_to_left import joined, laid_out
from mobileapp.widgets.field import Field
from mobileapp.widgets.text import Body, right_to_left, size_for
from mobileapp.writing import parts

FILES = ("B612-Regular.otf", "B612-Bold.otf")
SIGNS = "– · × ° ± µ é ø ß å ö ü æ ñ Š ″ ′ “ ” ’ … ≤ ≥ ≈ − ½ ² € ← → ↑ ↓ Ω"
NAMES = "Łukasz Żak, Jiří Dvořák, Ömer Şahin, Ждан"


def has(font: ImageFont.FreeTypeFont, letter: str) -> bool:
    """Whether a font draws a letter as something other than its box for what it lacks."""
    nothing, mask = font.getmask("\ufffe"), font.getmask(letter)
    return (mask.size, bytes(mask)) != (nothing.size, bytes(nothing))


@pytest.fixture(params=FILES)
def font(request: pytest.FixtureRequest) -> ImageFont.FreeTypeFont:
    path = look.assets_dir() / "fonts" / request.param
    return ImageFont.truetype(str(path), 40, layout_engine=ImageFont.Layout.BASIC)


def test_the_list_of_what_the_font_has_is_true(font: ImageFont.FreeTypeFont) -> None:
    """Every letter the look claims is in the file; of the Latin letters, no other is."""
    claimed = [chr(code) for code in range(0x20, 0x2300) if look.in_b612(chr(code))]
    blank = {" ", "\u00a0", "\u00ad"}
    assert [letter for letter in claimed if letter not in blank and not has(font, letter)] == []
    unclaimed = [chr(code) for code in range(0x100, 0x180) if not look.in_b612(chr(code))]
    assert [letter for letter in unclaimed if has(font, letter)] == []


def test_the_signs_a_sheet_needs_are_there() -> None:
    assert look.font_for(SIGNS) == look.FONT


@pytest.mark.parametrize(("name", "font"), [
    *((name, look.WIDE_FONT) for name in NAMES.split(", ")),
    ("محمد علی", look.WIDE_FONT), ("משה לוי", look.WIDE_FONT),
    ("张伟", look.WORLD_FONT), ("田中さくら", look.WORLD_FONT), ("김민준", look.WORLD_FONT),
    ("Łucja 王", look.WORLD_FONT),
])  # fmt: skip
def test_a_name_our_font_cannot_write_is_set_in_one_that_can(kivy_window: Any, name: str, font: str) -> None:
    from kivy.core.text import LabelBase

    label = touch.show(Body(text=name))
    assert label.font_name == font
    file = ImageFont.truetype(LabelBase._fonts[font][0], 40, layout_engine=ImageFont.Layout.BASIC)
    assert all(has(file, letter) for letter in joined(name).replace(" ", ""))


def test_arabic_is_drawn_joined_from_the_right_and_broken_into_lines_in_reading_order(kivy_window: Any) -> None:
    name = "سامي الحداد"
    label = touch.show(Body(text=f"3 by {name}"))
    assert label.text == f"3 by {name}", "what is asked for stays as it was typed"
    assert label._label.text == laid_out(joined(label.text))
    first, second = right_to_left(name, look.WIDE_FONT, False, 20, 70).split("\n")
    assert (first, second) == tuple(laid_out(joined(word)) for word in name.split())


@pytest.mark.parametrize("name", ["Ines सुनीता", "শ্রীকান্ত, 张伟", "ወንድሙ"])
def test_a_name_that_needs_several_fonts_is_drawn_in_them_and_typed_in_them(kivy_window: Any, name: str) -> None:
    """No box for any letter: it is as wide as its parts in their own fonts, in a label and while it is typed."""
    label = touch.show(Body(text=name))
    wide = sum(_width(part.drawn, part.font, label.font_size) for part in parts(name))
    assert label.text == name
    assert abs(_ink_right(label.texture) - wide) <= 0.2 * label.font_size
    field = touch.show(Field(label="Name", text=name))
    line = field.entry._lines_labels[0]
    wide = sum(_width(part.drawn, part.font, field.entry.font_size) for part in parts(name))
    assert abs(_ink_right(line) - wide) <= 0.2 * field.entry.font_size
    assert abs(field.entry.cursor_offset() - wide) <= 0.2 * field.entry.font_size


def _width(text: str, font: str, size: float) -> float:
    """As Pillow measures it."""
    return ImageFont.truetype(str(look.font_file(font)), size, layout_engine=ImageFont.Layout.BASIC).getlength(text)


def _ink_right(texture: Any) -> int:
    """Where what is drawn on a texture ends."""
    return Image.frombytes("RGBA", texture.size, texture.pixels).getchannel("A").getbbox()[2]


@pytest.mark.parametrize("said", [
    "张伟说这个螺母掉进了第二气缸的进气口请再检查一遍每一个开口",
    "น็อตตกลงไปในช่องไอดีของกระบอกสูบที่สองช่วยตรวจดูทุกช่องอีกครั้งก่อนประกอบกลับ",
])  # fmt: skip
def test_a_sentence_without_spaces_is_broken_between_letters_not_made_small(kivy_window: Any, said: str) -> None:
    label = touch.show(Body(text=said))
    assert label.font_size == label.letters
    assert label.height > 1.5 * label.font_size


def test_every_text_is_in_our_font_without_asking(kivy_window: Any) -> None:
    from kivy.core.text import DEFAULT_FONT, LabelBase

    assert LabelBase._fonts[DEFAULT_FONT] == LabelBase._fonts[look.FONT]
    assert LabelBase._fonts[look.FONT][0].endswith("B612-Regular.otf")


def test_all_digits_are_of_one_width(font: ImageFont.FreeTypeFont) -> None:
    assert len({font.getlength(digit) for digit in "0123456789"}) == 1


def test_the_licence_lies_beside_the_font() -> None:
    licence = (look.assets_dir() / "fonts" / "OFL.txt").read_text(encoding="utf-8")
    assert licence.startswith("Copyright (c) 2012")
    for part in ("SIL OPEN FONT LICENSE Version 1.1", "PERMISSION & CONDITIONS", "TERMINATION", "DISCLAIMER"):
        assert part in licence


def test_a_long_word_in_a_narrow_place_becomes_smaller_not_broken(kivy_window: Any) -> None:
    wanted = 40.0
    assert size_for("nut", look.FONT, True, wanted, 300) == wanted
    assert 0 < size_for("crankcase-ventilation", look.FONT, True, wanted, 300) < wanted
