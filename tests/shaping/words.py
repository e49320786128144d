"""Names and words of the trade in the scripts that are shaped, and any row of syllables there may be."""

from __future__ import annotations

import random

from mobileapp.shaping import rules_of
from mobileapp.shaping.letters import SCRIPTS

#: Invented people, places and things: what a fitter may type.
WORDS = {
    "Deva": "सुनीता शर्मा ज्ञानेश्वर क्षीरसागर कृष्ण श्रेष्ठ अर्जुन वर्कशॉप इंजिन बोल्ट पेंच रद्दी हृदय उद्घाटन विद्यार्थी ट्रक राष्ट्र "
            "फ़िरोज़ ज़ाकिर दुर्गा र्‍हस्व प्र द्र्य कार्त्तिक निर्झर सर्विस पिस्टन सिलिंडर",
    "Beng": "শ্রীকান্ত চট্টোপাধ্যায় ৰঞ্জন ভূঞা সুব্রত দাশগুপ্ত ইঞ্জিন বল্টু কর্মশালা র‍্যাগ কৌশিক মৈত্রেয়ী বিদ্যুৎ উৎপল ক্ষিতি জ্ঞান "
            "হৃদয় সূর্য অর্ঘ্য ঢাকা গাড়ি",
    "Guru": "ਗੁਰਪ੍ਰੀਤ ਸਿੰਘ ਹਰਜੀਤ ਕੌਰ ਇੰਜਣ ਬੋਲਟ ਪੇਚ ਫ਼ਿਰੋਜ਼ ਸ਼ਕਤੀ ਦ੍ਵਾਰ ਪੱਕਾ ਖ਼ਾਨ ਸ੍ਵਰ ਚੜ੍ਹ",
    "Gujr": "જ્યોત્સ્ના પટેલ કૃષ્ણ શ્રી ક્ષમા જ્ઞાન એન્જિન બોલ્ટ કાર્ય દ્વાર હૃદય વર્ષા સ્ત્રી ટ્રક વિદ્યા ચૌહાણ ઑફિસ",
    "Orya": "ଶ୍ରୀକୃଷ୍ଣ ମହାନ୍ତି ଇଞ୍ଜିନ ବୋଲ୍ଟ କାର୍ତ୍ତିକ ଜ୍ଞାନ କ୍ଷେତ୍ର ପୌର ବୈଶାଖୀ ଗୌରୀ ସୂର୍ଯ୍ୟ ଓଡ଼ିଆ",
    "Taml": "லட்சுமி சுப்பிரமணியன் கௌரி பொன்னி இயந்திரம் போல்ட் ஸ்ரீ க்ஷேமா கோவை மௌனம் தூசி ஹூ",
    "Telu": "శ్రీనివాస్ వెంకటేశ్వర్లు కృష్ణ జ్ఞానం ఇంజిన్ బోల్ట్ రాష్ట్రం సూర్య లక్ష్మి హృదయం క్షేత్రం వర్క్‌షాప్ మైత్రి కైలాస్ స్త్రీ",
    "Knda": "ಕೃಷ್ಣಮೂರ್ತಿ ಕ್ರೂರ ಇಂಜಿನ್ ಬೋಲ್ಟ್ ಜ್ಞಾನ ಸೂರ್ಯ ಲಕ್ಷ್ಮೀ ಶ್ರೀನಿವಾಸ್ ವರ್ಕ್‌ಶಾಪ್ ಕೈಲಾಸ ಪೌರ ರಾಷ್ಟ್ರ ಸ್ತ್ರೀ",
    "Mlym": "ലക്ഷ്മി ശ്രീധരൻ കൃഷ്ണൻ എൻജിൻ ബോൾട്ട് സൂര്യൻ വർക്ക്‌ഷോപ്പ് ക്രൂരം പ്രിയ പൊന്നമ്മ മൈത്രേയി കൗസല്യ സ്വാതി ദ്രൗപദി",
    "Sinh": "සුනිල් පෙරේරා කුමාරසිංහ ජයවර්ධන ශ්‍රී ක්‍රිශාන්ත ප්‍රසාද් විද්‍යා ධර්මසේන වර්‍ග කෝට්ටේ ගෞතම් යන්ත්‍රය බෝල්ට් ඥාන සඳුනි දෛව",
    "Laoo": "ສົມໄຊ ບຸນມີ ຄຳພູ ນ້ຳ ເຄື່ອງຈັກ ແກ້ວ ວິໄລ ສຸລິຍາ ພູວົງ ຈັນທະລາ ຫຼ້າ ຊ່າງ ນັອດ ໂຮງ ອ້າຍ",
    "Mymr": "အောင် ကျော် မြင့် ဇော်ဝင်း သန်း ခင်မောင် နန္ဒာ ကြိုင် သြဇာ စက် ဝက်အူ အင်ဂျင် ပြည် ကြည်ဖြူ မင်္ဂလာ ဥက္ကာ ဒေါ်ရွှေ ချို သိင်္ဂါ ဗုဒ္ဓ "
            "မြန်မာ ကမ္ဘာ သတ္တု နှင်း လှ",
}  # fmt: skip


def names(script: str) -> list[str]:
    """The words of a script."""
    return WORDS[script].split()


def rows(script: str, count: int, seed: int = 7) -> list[str]:
    """Rows of syllables as the script may build them: clusters of letters, vowel signs, dots, marks above."""
    dice = random.Random(f"{script}{seed}")
    if script in _SOUTHERN:
        return ["".join(_SOUTHERN[script](dice) for _ in range(dice.randint(1, 3))) for _ in range(count)]
    block = SCRIPTS[script].block
    has = set(rules_of(script).letters)
    letters = [chr(code) for code in range(block + 0x15, block + 0x3A) if code in has]
    signs = [chr(code) for code in range(block + 0x3E, block + 0x4D) if code in has]
    marks = [chr(code) for code in (block + 1, block + 2) if code in has]
    halant, nukta = chr(block + 0x4D), chr(block + 0x3C) if block + 0x3C in has else ""

    def syllable() -> str:
        count = dice.choice((1, 1, 2, 3))
        parts = [dice.choice(letters) + (nukta if dice.random() < 0.05 else "") for _ in range(count)]
        end = dice.choice((dice.choice(signs), dice.choice(signs), "", halant, dice.choice(marks)))
        return halant.join(parts) + end

    return ["".join(syllable() for _ in range(dice.randint(1, 3))) for _ in range(count)]


def _some(dice: random.Random, likely: float, choice: str) -> str:
    return dice.choice(choice) if dice.random() < likely else ""


def _sinhala(dice: random.Random) -> str:
    letters = "".join(map(chr, (*range(0xD9A, 0xDB2), *range(0xDB3, 0xDBC), *range(0xDC0, 0xDC7))))
    joined = dice.choice(("", "", "\u0dca\u200d\u0dbb", "\u0dca\u200d\u0dba", f"\u0dca{dice.choice(letters)}"))
    signs = "\u0dca\u0dcf\u0dd0\u0dd1\u0dd2\u0dd3\u0dd4\u0dd6\u0dd8\u0dd9\u0dda\u0ddb\u0ddc\u0ddd\u0dde"
    riding = "\u0dbb\u0dca\u200d" if dice.random() < 0.05 else ""
    return riding + dice.choice(letters) + joined + _some(dice, 0.6, signs) + _some(dice, 0.1, "\u0d82")


def _lao(dice: random.Random) -> str:
    letter = dice.choice("ກຂຄງຈຊຍດຕຖທນບປຜຝພຟມຢຣລວສຫອຮ")
    vowel, tone = _some(dice, 0.6, "ັິີຶືຸູົຼ"), _some(dice, 0.4, "່້໊໋")
    return _some(dice, 0.3, "ເແໂໄ") + letter + vowel + tone + _some(dice, 0.3, "າະຳ")


def _burmese(dice: random.Random) -> str:
    letters = "".join(map(chr, range(0x1000, 0x1021)))
    riding = "\u1004\u103a\u1039" if dice.random() < 0.07 else ""
    stacked = f"\u1039{dice.choice(letters)}" if dice.random() < 0.2 else ""
    medials = "".join(_some(dice, 0.15, sign) for sign in "\u103b\u103c\u103d\u103e")
    vowel = dice.choice(("", "", "\u1031", "\u102d", "\u102e", "\u1032", "\u102f", "\u1030", "\u102d\u102f", "\u102c",
                         "\u102b", "\u1031\u102c", "\u1031\u102b\u103a"))  # fmt: skip
    marks = "".join(_some(dice, 0.2, sign) for sign in "\u1036\u1037\u1038")
    closing = f"{dice.choice(letters)}\u103a" if dice.random() < 0.2 else ""
    return riding + dice.choice(letters) + stacked + medials + vowel + marks + closing


_SOUTHERN = {"Sinh": _sinhala, "Laoo": _lao, "Mymr": _burmese}
