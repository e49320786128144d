"""Arabic and Hebrew names, joined and turned about for what draws from the left; no count leaves its place."""

from __future__ import annotations

import random

import pytest
from arabic_reshaper import ArabicReshaper  # type: ignore[import-untyped]
from fpdf.bidi import BidiParagraph
from fpdf.enums import TextDirection

from mobileapp.right_to_left import joined, laid_out, turns, typed

NAMES = ["سامي الحداد", "محمد علی کریمی", "لا إله", "آلاء", "ژاله پگاه", "عبد اللہ", "گلاب", "شيماء", "ءمر"]
HEBREW = ["משה לוי", "יעל בן־דוד", "צ׳ארלי"]


def test_letters_take_the_forms_their_neighbours_ask_for() -> None:
    """سامي: seen and meem begin, alef and yeh end (Unicode code charts, Arabic Presentation Forms-B)."""
    assert joined("سامي") == "\ufeb3\ufe8e\ufee3\ufef2"
    assert joined("لا") == "\ufefb"
    assert joined("سلا") == "\ufeb3\ufefc"
    assert joined("د") == "\ufea9"


@pytest.mark.parametrize("name", NAMES)
def test_they_are_joined_as_another_library_joins_them(name: str) -> None:
    """arabic-reshaper (MIT), without the ligatures it may add."""
    other = ArabicReshaper({"delete_harakat": False, "delete_tatweel": False, "ARABIC LIGATURE ALLAH": False})
    assert joined(name) == other.reshape(name)


def test_any_row_of_letters_is_joined_as_another_library_joins_it() -> None:
    other = ArabicReshaper({"delete_harakat": False, "delete_tatweel": False, "ARABIC LIGATURE ALLAH": False})
    dice = random.Random(7)
    letters = "ءآأؤإئابةتثجحخدذرزسشصضطظعغـفقكلمنهوىيپچژکگی "
    for _ in range(500):
        row = "".join(dice.choice(letters) for _ in range(dice.randint(1, 12)))
        assert joined(row) == other.reshape(row), row


@pytest.mark.parametrize("name", NAMES + HEBREW)
def test_a_name_is_turned_about_as_the_bidirectional_algorithm_turns_it(name: str) -> None:
    """UAX 9 as fpdf2 has it."""
    forms = joined(name)
    assert laid_out(forms) == BidiParagraph(forms, base_direction=TextDirection.RTL).get_reordered_string()
    assert turns(name)


@pytest.mark.parametrize("name", NAMES + HEBREW)
def test_what_was_laid_out_is_read_back_as_it_was_typed(name: str) -> None:
    said = f"3 of 5 by {name} (fitter), 2 by {name}"
    assert typed(laid_out(joined(said))) == said


def test_no_count_changes_its_place() -> None:
    """UAX 9 alone would set the 5 beside the first name."""
    said = "3 סמי, 5 משה (2 of 10); שרה 7"
    assert laid_out(said) == "3 ימס, 5 השמ (2 of 10); הרש 7"


def test_a_joiner_that_parts_two_letters_is_obeyed_and_not_shown() -> None:
    assert joined("می\u200cرود") == joined("می") + joined("رود")


def test_a_joiner_in_another_script_beside_arabic_stays() -> None:
    assert joined("سامي, ශ්\u200dරී") == joined("سامي") + ", ශ්\u200dරී"


def test_other_texts_are_left_as_they_are() -> None:
    for text in ("10 of 10 bolts", "Łukasz Żak", "张伟", "", "स"):
        assert not turns(text)
        assert joined(text) == laid_out(text) == text
