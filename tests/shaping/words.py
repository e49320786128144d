"""Names and words of the trade in nine scripts of India, and any row of letters there may be."""

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
}  # fmt: skip


def names(script: str) -> list[str]:
    """The words of a script."""
    return WORDS[script].split()


def rows(script: str, count: int, seed: int = 7) -> list[str]:
    """Rows of syllables as the script may build them: clusters of letters, vowel signs, dots, marks above."""
    dice, block = random.Random(f"{script}{seed}"), SCRIPTS[script].block
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
