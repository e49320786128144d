"""Makes the font for what no other has, at development time: `make_last_font.py [UNIFONT]`, a folder of unifont*.otf.

GNU Unifont draws every letter of the Basic Multilingual Plane as dots on a small square grid. Of it only what the other
fonts of this folder lack is kept, so that this one can be asked whether a letter is its own, and of the ideographs
beyond the plane those that it has (names in Japan and Hong Kong use some). Letters of the nine scripts of India that
Lohit lacks are among them. What is not written (controls, signs that turn the reading direction, variation selectors)
is left out. Needs fonttools, Debian's fonts-unifont, and the other fonts made before.
"""

from __future__ import annotations

import sys
import unicodedata
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent
UNIFONT = Path("/usr/share/fonts/opentype/unifont")
LICENCE = "SIL Open Font License 1.1, in Last-OFL.txt"


def others() -> set[int]:
    """What the other fonts have; B612 has a few signs more than the app asks it for, all others Wide has as well."""
    files = (path for path in HERE.glob("*-Regular.ttf") if path.stem not in ("Last-Regular", "B612-Regular"))
    return {code for path in files for code in TTFont(path, lazy=True).getBestCmap()}


def is_written(code: int) -> bool:
    """Whether a code point is a letter, mark, figure or sign that is seen, in the plane or an ideograph beyond it."""
    kind = unicodedata.category(chr(code))
    if kind in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp") or 0xFE00 <= code <= 0xFE0F:
        return False
    return code < 0x10000 or 0x20000 <= code < 0x40000


def main(unifont: Path) -> None:
    """Make it, and say how large it is."""
    had = others()
    sources: dict[int, tuple[TTFont, str]] = {}
    for name in ("unifont", "unifont_upper", "unifont_jp"):
        font = TTFont(unifont / f"{name}.otf")
        for code, letter in font.getBestCmap().items():
            if code not in had and is_written(code):
                sources.setdefault(code, (font, letter))
    first = TTFont(unifont / "unifont.otf")
    # Its letters fill less of their square than others do, so the square is made larger beside them.
    height = first["head"].unitsPerEm * 7 // 8
    order, glyphs, widths, cmap = [".notdef"], {".notdef": _outline(first, ".notdef")}, {}, {}
    widths[".notdef"] = first["hmtx"][".notdef"]
    for code, (font, letter) in sorted(sources.items()):
        name = f"u{code:04X}"
        order.append(name)
        cmap[code], glyphs[name], widths[name] = name, _outline(font, letter), font["hmtx"][letter]
    made = FontBuilder(height, isTTF=True)
    made.setupGlyphOrder(order)
    made.setupCharacterMap(cmap)
    made.setupGlyf(glyphs)
    made.setupHorizontalMetrics(widths)
    ascent, descent = round(1.165 * height), round(-0.30 * height)  # as make_indic_fonts.py says why
    made.setupHorizontalHeader(ascent=ascent, descent=descent)
    made.setupOS2(sTypoAscender=ascent, sTypoDescender=descent, sTypoLineGap=0, usWinAscent=ascent,
                  usWinDescent=-descent, fsType=0)  # fmt: skip
    made.setupPost(keepGlyphNames=False)
    made.setupNameTable({
        "copyright": first["name"].getDebugName(0), "familyName": "Countback Last", "styleName": "Regular",
        "uniqueFontIdentifier": "Countback Last Regular", "fullName": "Countback Last Regular",
        "psName": "CountbackLast-Regular", "version": first["name"].getDebugName(5), "licenseDescription": LICENCE,
    }, mac=False)  # fmt: skip
    head = made.font["head"]
    head.created = head.modified = first["head"].modified
    made.font.recalcTimestamp = False
    target = HERE / "Last-Regular.ttf"
    made.save(target)
    print(len(order) - 1, "letters,", target.stat().st_size, "bytes")


def _outline(font: TTFont, letter: str) -> object:
    pen = TTGlyphPen(None)
    font.getGlyphSet()[letter].draw(Cu2QuPen(pen, max_err=0.5, reverse_direction=True))
    return pen.glyph()


if __name__ == "__main__":
    main(*(map(Path, sys.argv[1:]) if sys.argv[1:] else [UNIFONT]))
