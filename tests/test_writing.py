"""Which font writes which part of a name; that nearly every name is plain, and loads nothing of the rest."""

from __future__ import annotations

import subprocess
import sys
import unicodedata

import pytest
from fontTools.ttLib import TTFont

from mobileapp import look, writing
from mobileapp.look import font_file
from mobileapp.right_to_left import joined, laid_out
from mobileapp.writing import is_plain, parts, plain_font_of, special_font

MIXED = {
    "Ines सुनीता Vardal": ["B612", "Deva", "B612"],
    "सुनीता Żak": ["Deva", "Wide"],
    "शर्मा, সুব্রত": ["Deva", "B612", "Beng"],
    "সুব্রত দাশগুপ্ত": ["Beng"],
    "张伟 3 லட்சுமி": ["World", "Taml"],
    "ወንድሙ Ждан": ["Ethi", "Wide"],
    "ᏣᎳᎩ សុខា 3": ["Last", "B612", "Last", "B612"],
    "राम।": ["Deva"],
    "রাম।": ["Beng"],
    laid_out(joined("3, ہمایوں قریشی")): ["B612", "Arab"],
    joined("سامي"): ["Wide"],
}


def has(font: str) -> set[int]:
    with TTFont(font_file(font), lazy=True) as file:
        return set(file.getBestCmap())


@pytest.mark.parametrize("name", MIXED)
def test_each_part_of_a_name_is_in_a_font_that_has_its_letters(name: str) -> None:
    found = parts(name)
    assert [part.font for part in found] == MIXED[name]
    assert unicodedata.normalize("NFC", "".join(part.said for part in found)) == name
    assert all(set(map(ord, part.drawn)) <= has(part.font) for part in found)


@pytest.mark.parametrize("name", ["Ines Vardal", "M8 × 25, 24 N·m ≥ 3 → 5", "Łukasz Żak", "Ждан", "张伟", "김민준",
                                  "สมชาย", joined("سامي"), laid_out(joined("משה"))])  # fmt: skip
def test_a_name_of_the_houses_own_fonts_is_plain(name: str) -> None:
    assert is_plain(name)
    assert plain_font_of(name) == look.font_for(name)


def test_nothing_is_loaded_for_a_plain_name() -> None:
    """At the app's start and for names in Latin, Greek, Cyrillic, Hebrew, Arabic, Thai, Chinese, Japanese, Korean."""
    tell = """if True:
        import sys
        from mobileapp import writing
        from mobileapp.paper import letters
        from mobileapp.right_to_left import joined
        for name in ("Ines Vardal – 3 × M8 “≥” → ½", "Łucja Żółć", "Γιώργος", "Олександр Ждан", "Nguyễn Thị Hằng",
                     "משה לוי", joined("سامي الحداد"), "สมชาย น้ำผึ้ง", "张伟", "田中さくら", "김민준"):
            assert writing.is_plain(name)
        print([m for m in sys.modules if "shaping" in m], writing._ranges.cache_info().currsize)
    """
    done = subprocess.run([sys.executable, "-c", tell], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[] 0"


def test_a_shaped_name_loads_the_rules_of_its_own_script_alone() -> None:
    tell = """if True:
        from mobileapp import shaping, writing
        writing.parts("Ines लक्ष्मी")
        print(shaping.rules_of.cache_info().currsize, writing._ranges.cache_info().currsize)
    """
    done = subprocess.run([sys.executable, "-c", tell], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "1 0"


def test_the_last_font_has_only_what_the_others_lack_and_is_asked_for_all_of_it() -> None:
    last = has(look.LAST_FONT)
    for font in (look.ARABIC_FONT, look.ETHIOPIC_FONT, look.WIDE_FONT, look.WORLD_FONT, *look.SCRIPTS):
        assert not last & has(font), font
    assert [code for code in last if special_font(chr(code)) != look.LAST_FONT] == []
    firsts, lasts = writing._ranges(look.LAST_FONT)
    assert sum(end - start + 1 for start, end in zip(firsts, lasts, strict=True)) == len(last)


def test_every_letter_of_the_basic_plane_has_a_font() -> None:
    """As Unicode was when the fonts were made (Unifont 15.0.01); not what is never seen by itself."""
    names = (look.WIDE_FONT, look.WORLD_FONT, look.ARABIC_FONT, look.ETHIOPIC_FONT, look.LAST_FONT, *look.SCRIPTS)
    fonts = set().union(*map(has, names))
    seen = [chr(code) for code in range(0x20, 0x10000)
            if unicodedata.category(chr(code)) not in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp")]  # fmt: skip
    assert len(seen) > 55_000
    assert [one for one in seen if ord(one) not in fonts and not 0xFE00 <= ord(one) <= 0xFE0F] == []


@pytest.mark.parametrize("script", look.SCRIPTS)
def test_every_shape_of_a_script_has_a_code_point_of_its_own(script: str) -> None:
    with TTFont(font_file(script), lazy=True) as font:
        letters, order = font.getBestCmap(), font.getGlyphOrder()
    assert [letters[0xE000 + number] for number in range(1, len(order))] == order[1:]
    assert 0xE000 + len(order) <= 0xF8FF, "the private use area of the plane ends there (Unicode code charts)"
