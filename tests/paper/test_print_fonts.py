"""The fonts for print: made from the very fonts of the screen, with the letters that names need, and their licences."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from mobileapp.look import SCRIPTS, assets_dir, is_eastern
from mobileapp.right_to_left import joined

FONTS = assets_dir() / "fonts"
ALPHABETS = {
    "Polish": "ĄĆĘŁŃÓŚŹŻąćęłńóśźż",
    "Czech": "ČĎĚŇŘŠŤŮŽčďěňřšťůž",
    "Hungarian and Romanian": "ŐŰőűĂȘȚășț",
    "Turkish": "ĞİŞğış",
    "Greek": "ΑΆΒΓΔΕΈΖΗΉΘΙΊΪΚΛΜΝΞΟΌΠΡΣΤΥΎΫΦΧΨΩΏαάβγδεέζηήθιίϊΐκλμνξοόπρςστυύϋΰφχψωώ",
    "Russian and Ukrainian": "".join(map(chr, range(0x410, 0x450))) + "ЁёІіЇїЄєҐґ",
    "Serbian and Macedonian": "ЂЈЉЊЋЏђјљњћџЃЅЌѓѕќ",
    "Vietnamese": "ĂÂĐÊÔƠƯăâđêôơư" + "".join(map(chr, range(0x1EA0, 0x1EFA))),
    "Baltic": "ĀČĒĢĪĶĻŅŠŪŽāčēģīķļņšūžĖėĮįŲų",
    "Icelandic": "ÐÞðþ",
    "Armenian": "ԱԲԳաբգ",
    "Georgian": "აბგდე",
    "Thai": "".join(map(chr, (*range(0xE01, 0xE3B), *range(0xE3F, 0xE5C)))),
    "Hebrew": "".join(map(chr, range(0x5D0, 0x5EB))),
    "Arabic": joined("ءآأؤإئابةتثجحخدذرزسشصضطظعغفقكلمنهوىي لا ألا " + " ".join("ابةتثجحخدذرزسشصضطظعغفقكلمنهوي")),
    "Persian and Kurdish": joined("پ چ ژ ک گ ی پپپ چچچ کژ کگک ییی ڤ ۆ ێ"),
    "signs": "–·×°±µ″′“”’…≤≥≈−½²€←→↑↓Ω",
}


@pytest.mark.parametrize("style", ["Regular", "Bold"])
@pytest.mark.parametrize("language", ALPHABETS)
def test_the_wide_font_has_the_letters_of(language: str, style: str) -> None:
    letters = TTFont(FONTS / f"Wide-{style}.ttf").getBestCmap()
    assert [letter for letter in ALPHABETS[language] if ord(letter) not in letters] == []


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_the_arabic_font_has_the_wide_ones_letters_and_urdus_sindhis_and_uighurs(style: str) -> None:
    """Its words are set in it as a whole."""
    arabic, wide = (TTFont(FONTS / f"{name}-{style}.ttf").getBestCmap() for name in ("Arab", "Wide"))
    assert [code for code in wide if 0x600 <= code < 0x700 or 0xFB50 <= code < 0xFC00 if code not in arabic] == []
    for name in ("ہمایوں ٹھیکے آپ ڈاڑھی ۂ ۓ ے", "ٻ ڀ ٺ ٽ ٿ ڄ ڃ ڇ ڌ ڍ ڏ", "ئۇيغۇر ئې ۋ ڭ ۆ ۈ"):
        assert [one for one in joined(name) if ord(one) not in arabic] == []


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_thai_marks_stand_clear_of_each_other_without_shaping(style: str) -> None:
    """Each is drawn over the letter before it; the tones, above every vowel that stands above a letter."""
    font = TTFont(FONTS / f"Wide-{style}.ttf")
    letters, outlines = font.getBestCmap(), font["glyf"]
    tones = [outlines[letters[code]] for code in range(0xE48, 0xE4C)]
    vowels = [outlines[letters[code]] for code in (0xE31, *range(0xE34, 0xE38))]
    assert min(tone.yMin for tone in tones) > max(vowel.yMax for vowel in vowels)
    assert all(font["hmtx"][letters[code]][0] == 0 for code in (0xE31, *range(0xE34, 0xE3B), *range(0xE47, 0xE4E)))


def test_the_large_font_has_the_letters_of_the_far_east_and_all_of_the_wide_one() -> None:
    """Extension A's first 6,582 ideographs, Unicode 1.1's 20,902, the 11,172 syllables of Hangul (code charts)."""
    letters = TTFont(FONTS / "World-Regular.ttf").getBestCmap()
    for first, last in ((0x3400, 0x4DB5), (0x4E00, 0x9FA5), (0xAC00, 0xD7A3), (0x3041, 0x3094), (0x30A1, 0x30F6)):
        assert set(range(first, last + 1)) <= set(letters)
    wide = set(TTFont(FONTS / "Wide-Regular.ttf").getBestCmap())
    assert wide <= set(letters)
    assert all(is_eastern(chr(code)) for code in set(letters) - wide)
    assert not any(is_eastern(chr(code)) for code in wide)


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_b612_for_print_has_the_letters_and_widths_of_b612_on_screen(style: str) -> None:
    screen, paper = (TTFont(FONTS / f"B612-{style}.{kind}") for kind in ("otf", "ttf"))
    assert paper.getBestCmap() == screen.getBestCmap()
    assert paper["hmtx"].metrics == screen["hmtx"].metrics
    assert "glyf" in paper
    assert "CFF " not in paper


def test_every_font_has_its_licence_beside_it() -> None:
    files = {"B612": "OFL.txt", "Wide": "Wide-LICENSE.txt", "World": "World-LICENSE.txt", "Last": "Last-OFL.txt",
             "Arab": "Arab-OFL.txt", "Ethi": "Arab-OFL.txt", **dict.fromkeys(SCRIPTS, "Indic-OFL.txt")}  # fmt: skip
    licences = {name: (FONTS / file).read_text("utf-8") for name, file in files.items()}
    assert {path.stem.partition("-")[0] for path in FONTS.glob("*.[ot]tf")} == set(licences)
    for font in ("B612", "Last", "Arab", *SCRIPTS):
        assert "SIL OPEN FONT LICENSE Version 1.1" in licences[font]
        assert "with Reserved Font Name" not in licences[font]
    assert "Permission is hereby granted" in licences["Wide"]
    assert "Arundina Sans" in licences["Wide"]
    assert "Apache License\n" in licences["World"]
    assert "which changed them" in licences["World"], "the Apache licence asks that changes are said (4b)"
    project = tomllib.loads((FONTS.parent.parent / "pyproject.toml").read_text("utf-8"))["project"]
    assert {f"assets/fonts/{file}" for file in files.values()} < set(project["license-files"])


@pytest.mark.parametrize("file", ["Wide-Regular", "Wide-Bold", "World-Regular", "Last-Regular", "Deva-Regular"])
def test_the_changed_font_does_not_bear_a_name_its_licence_forbids(file: str) -> None:
    font = TTFont(FONTS / f"{file}.ttf")
    named = [str(record) for record in font["name"].names if record.nameID in (1, 3, 4, 6)]
    assert named
    others = ("Bitstream", "Vera", "Arev", "Tavmjong", "Droid", "Unifont")
    assert not any(word in name for name in named for word in others)


def test_the_assets_page_names_every_font() -> None:
    page = (FONTS.parent / "README.md").read_text("utf-8")
    assert [path.name for path in sorted(Path(FONTS).glob("*.[ot]tf")) if path.name not in page] == []
