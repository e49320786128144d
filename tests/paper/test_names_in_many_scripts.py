"""Names of people and machines as they are written where they come from, read back from the PDF by pypdf."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from paper.paper_shop import PEOPLE, PaperShop, opened

from checklists.facts import Person
from mobileapp.paper.letters import OURS, WIDE, Letters
from mobileapp.paper.sheet_proving import prove_sheet
from mobileapp.paper.sheet_reading import read_sheet_file

NAMES = {
    "Greek": "Γιώργος Παπάς",
    "Cyrillic": "Олександр Ждан",
    "Vietnamese": "Nguyễn Thị Hằng",
    "Chinese": "张伟",
    "Japanese": "田中さくら",
    "Korean": "김민준",
    "Arabic": "سامي الحداد",
    "Persian": "محمد علی کریمی",
    "Urdu": "ہمایوں قریشی",
    "Hebrew": "משה לוי",
    "Thai": "สมชาย น้ำผึ้ง",
    "Hindi": "सुनीता शर्मा",
    "Marathi": "ज्ञानेश्वर क्षीरसागर",
    "Bengali": "শ্রীকান্ত চট্টোপাধ্যায়",
    "Punjabi": "ਗੁਰਪ੍ਰੀਤ ਸਿੰਘ",
    "Gujarati": "જ્યોત્સ્ના પટેલ",
    "Odia": "ଶ୍ରୀକୃଷ୍ଣ ମହାନ୍ତି",
    "Tamil": "லட்சுமி சுப்பிரமணியன்",
    "Telugu": "శ్రీనివాస్ వెంకటేశ్వర్లు",
    "Kannada": "ಕೃಷ್ಣಮೂರ್ತಿ ಕ್ರೂರ",
    "Malayalam": "ലക്ഷ്മി ശ്രീധരൻ",
    "Sinhala": "සුනිල් ක්‍රිශාන්ත",
    "Burmese": "အောင်မြင့် မင်္ဂလာ",
    "Lao": "ສົມໄຊ ນ້ຳ",
    "Latin and Devanagari": "Łucja सुनीता Żak",
    "Amharic": "ወንድሙ",
    "Khmer": "សុខា",
    "extension A": "张㐀",
}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> PaperShop:
    people = (*PEOPLE, *(Person(name, "fitter") for name in NAMES.values()))
    return PaperShop(tmp_path_factory.mktemp("names"), people=people)


@pytest.fixture(scope="module")
def sheet(shop: PaperShop) -> bytes:
    return shop.sheet()


@pytest.mark.parametrize("script", NAMES)
def test_a_name_prints_and_can_be_read_back(sheet: bytes, script: str) -> None:
    """Joined letters read back as the forms that Unicode has for them; NFKC makes the plain letters of them."""
    words = " ".join(unicodedata.normalize("NFKC", opened(sheet).pages[0].extract_text()).split())
    assert unicodedata.normalize("NFKC", NAMES[script]) in words


def test_vowel_signs_of_two_parts_and_reordered_ones_read_back_in_the_order_of_typing(tmp_path: Path) -> None:
    """The sign before its letter, the one around it, the r that rides on the next letter."""
    names = ["कि किर्ति र्कि", "কোটি মৌলি", "கோ பொன்னி", "മൊഴി കോ", "ర్కై", "ಕೋಟೆ"]
    shop = PaperShop(tmp_path, people=tuple(Person(name, "fitter") for name in names))
    sheet = shop.sheet()
    by_pypdf = " ".join(unicodedata.normalize("NFC", opened(sheet).pages[0].extract_text()).split())
    ours = " ".join(read_sheet_file(sheet).pages[0].texts)
    assert [name for name in names if name not in by_pypdf or name not in ours] == []
    shop.close()


def test_letters_that_only_join_act_in_the_scripts_of_india_and_are_said_elsewhere(tmp_path: Path) -> None:
    """Bengali's r before y, an old Malayalam end letter, a Hindi one parted: written, and still in the text layer."""
    names = ["র‍্যাগ", "അവന്‍", "वर्क्‌शॉप", "राम\u200c 3"]
    shop = PaperShop(tmp_path, people=tuple(Person(name, "fitter") for name in (*names, "In\u200des", "ि")))
    sheet = shop.sheet()
    words = " ".join(opened(sheet).pages[0].extract_text().split())
    assert [name for name in names if name not in words] == []
    assert "In[U+200D]es" in words
    assert "ि◌ (fitter)" in words, "a vowel sign without letter stands on a circle, and the circle is said"
    assert "no letters for U+200D." in words
    shop.close()


def test_our_own_reader_has_the_names_as_they_were_typed(sheet: bytes) -> None:
    """So that `prove` says a difference in words that can be read."""
    words = " ".join(read_sheet_file(sheet).pages[0].texts)
    assert [name for name in NAMES.values() if name not in words] == []


def test_every_font_is_embedded_in_the_part_that_is_used(sheet: bytes) -> None:
    fonts = {}
    for page in opened(sheet).pages:
        for font in page["/Resources"]["/Font"].values():
            about = font.get_object()["/DescendantFonts"][0].get_object()
            fonts[about["/BaseFont"]] = len(about["/FontDescriptor"]["/FontFile2"].get_data())
    ours = {"Wide", "World", "Last", "Arab", "Ethi", "Deva", "Beng", "Guru", "Gujr", "Orya", "Taml", "Telu", "Knda",
            "Mlym", "Sinh", "Laoo", "Mymr"}  # fmt: skip
    assert {name.partition("+")[2] for name in fonts} == {"B612", "B612Bold", *(f"Countback{name}" for name in ours)}
    assert max(fonts.values()) < 60_000


def test_the_same_journal_gives_the_same_bytes_and_proves(shop: PaperShop, sheet: bytes) -> None:
    assert shop.sheet() == sheet
    proof = prove_sheet(sheet, shop.path, shop.store)
    assert (proof.faults, proof.words) == ([], "It belongs to this journal's head, to the byte.")


def test_the_large_font_is_not_asked_for_by_other_texts() -> None:
    asked = []

    def widths(family: str, bold: bool) -> dict[int, float]:
        asked.append(family)
        return dict.fromkeys(range(0x20, 0x7F) if family == OURS else range(0x20, 0x700), 500.0)

    letters = Letters(widths)
    for text in ("Ines Vardal", "Łukasz", "משה"):
        letters.lines(text, 10, 40)
    assert set(asked) == {OURS, WIDE}


def test_an_ordinary_sheet_has_no_part_of_the_other_fonts(tmp_path: Path) -> None:
    shop = PaperShop(tmp_path)
    assert b"Countback" not in b"".join(line for line in shop.sheet().split(b"\n") if b"/BaseFont" in line)
    shop.close()
