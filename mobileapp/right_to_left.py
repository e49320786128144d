"""Arabic, Hebrew and their neighbours for what draws letters one by one from the left: joined and turned about.

    laid_out(joined("سامي (fitter): 3 nuts"))      # ready to draw

Only letters are turned, with the spaces between them. Figures, commas and brackets part two runs, though Unicode's
algorithm (UAX 9) would move them too: in a sentence of ours no count may ever stand beside another name than its own.
The forms of joined letters are those that Unicode names in its own tables (blocks FB50 and FE70).
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache

_FIRST = "\u0590"
#: Letters of Hebrew and Arabic with their marks, and of Syriac, Thaana, N'Ko, Samaritan and Mandaic (turned, not
#: joined); figures and the signs of punctuation among them are not letters.
_LETTER = "[\u0591-\u05bd\u05bf\u05c1\u05c2\u05c4\u05c5\u05c7-\u05f4\u0610-\u061a\u0620-\u065f\u066e-\u06d3" \
          "\u06d5-\u06dc\u06df-\u06ef\u06fa-\u06ff\u0710-\u07b1\u07ca-\u07f5\u0800-\u082d\u0840-\u085b" \
          "\u0860-\u086a\u0870-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]"
_RUN = re.compile(f"{_LETTER}+(?:[ \u05be'’\u05f3-]+{_LETTER}+)*")
#: A run begins with a letter or a joiner before one: joiners between letters of another script are not ours.
_ARABIC = re.compile("[\u200c\u200d]*[\u0610-\u06ff\u0750-\u077f][\u0610-\u06ff\u0750-\u077f\u200c\u200d]*")
_JOINER, _NON_JOINER, _STRETCH = "\u200d", "\u200c", "\u0640"
_LAM = "\u0644"


def turns(text: str) -> bool:
    """Whether anything in a text is read from the right."""
    return not text.isascii() and max(text) >= _FIRST and bool(_RUN.search(text))


def laid_out(text: str) -> str:
    """One line, its runs of Arabic and Hebrew turned about so that drawn from the left they read from the right."""
    return _RUN.sub(lambda run: run[0][::-1], text) if turns(text) else text


def joined(text: str) -> str:
    """The text with its Arabic letters in the forms that their neighbours ask for; still in the order of typing."""
    return _ARABIC.sub(lambda run: _in_forms(run[0]), text) if turns(text) else text


def typed(text: str) -> str:
    """What was typed, of a line that was joined and laid out; a joiner that was not shown does not come back."""
    if not turns(text):
        return text
    plain = (unicodedata.normalize("NFKC", one) if "\ufb50" <= one <= "\ufefc" else one for one in laid_out(text))
    return "".join(plain)


@cache
def _forms() -> dict[str, dict[str, str]]:
    """For each letter, and for lam with alef, its forms by their Unicode names."""
    forms: dict[str, dict[str, str]] = {}
    for code in (*range(0xFB50, 0xFC00), *range(0xFE70, 0xFEFD)):
        kind, *letters = unicodedata.decomposition(chr(code)).split() or [""]
        plain = "".join(chr(int(letter, 16)) for letter in letters)
        if kind and " " not in plain and (len(plain) == 1 or plain[0] == _LAM):
            forms.setdefault(plain, {})[kind] = chr(code)
    return forms


def _in_forms(run: str) -> str:
    forms, out = _forms(), []
    letters = _with_ligatures(run)
    solid = [at for at, letter in enumerate(letters) if unicodedata.category(letter[0]) != "Mn"]
    around = zip([None, *solid[:-1]], [*solid[1:], None], strict=True)
    neighbours = dict(zip(solid, around, strict=True)) if solid else {}
    for at, letter in enumerate(letters):
        if letter in (_JOINER, _NON_JOINER):
            continue
        known = forms.get(letter, {})
        before, after = neighbours.get(at, (None, None))
        reaches_back = before is not None and _joins_on(letters[before]) and "<final>" in known
        reaches_on = after is not None and "<initial>" in known and _joins_back(letters[after])
        kind = ("<isolated>", "<initial>", "<final>", "<medial>")[2 * reaches_back + reaches_on]
        out.append(known.get(kind, letter))
    return "".join(out)


def _with_ligatures(run: str) -> list[str]:
    """The letters of a run, lam and the alef right after it as one."""
    return re.findall(f"{_LAM}[\u0622\u0623\u0625\u0627]|.", run)


def _joins_on(letter: str) -> bool:
    return letter in (_JOINER, _STRETCH) or "<initial>" in _forms().get(letter, {})


def _joins_back(letter: str) -> bool:
    return letter in (_JOINER, _STRETCH) or "<final>" in _forms().get(letter, {})
