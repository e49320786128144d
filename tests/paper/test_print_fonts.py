"""The fonts for print: made from the very fonts of the screen, with the letters that names need, and their licences."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from mobileapp.look import assets_dir

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
    "signs": "–·×°±µ″′“”’…≤≥≈−½²€←→↑↓Ω",
}


@pytest.mark.parametrize("style", ["Regular", "Bold"])
@pytest.mark.parametrize("language", ALPHABETS)
def test_the_wide_font_has_the_letters_of(language: str, style: str) -> None:
    letters = TTFont(FONTS / f"Wide-{style}.ttf").getBestCmap()
    assert [letter for letter in ALPHABETS[language] if ord(letter) not in letters] == []


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_b612_for_print_has_the_letters_and_widths_of_b612_on_screen(style: str) -> None:
    screen, paper = (TTFont(FONTS / f"B612-{style}.{kind}") for kind in ("otf", "ttf"))
    assert paper.getBestCmap() == screen.getBestCmap()
    assert paper["hmtx"].metrics == screen["hmtx"].metrics
    assert "glyf" in paper
    assert "CFF " not in paper


def test_every_font_has_its_licence_beside_it() -> None:
    licences = {"B612": (FONTS / "OFL.txt").read_text("utf-8"), "Wide": (FONTS / "Wide-LICENSE.txt").read_text("utf-8")}
    assert {path.stem.partition("-")[0] for path in FONTS.glob("*.[ot]tf")} == set(licences)
    assert "SIL OPEN FONT LICENSE Version 1.1" in licences["B612"]
    assert "with Reserved Font Name" not in licences["B612"]
    assert "Permission is hereby granted" in licences["Wide"]


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_the_changed_font_does_not_bear_a_name_its_licence_forbids(style: str) -> None:
    font = TTFont(FONTS / f"Wide-{style}.ttf")
    named = [str(record) for record in font["name"].names if record.nameID in (1, 3, 4, 6)]
    assert named
    assert not any(word in name for name in named for word in ("Bitstream", "Vera", "Arev", "Tavmjong"))


def test_the_assets_page_names_every_font() -> None:
    page = (FONTS.parent / "README.md").read_text("utf-8")
    assert [path.name for path in sorted(Path(FONTS).glob("*.[ot]tf")) if path.name not in page] == []
