"""Makes the fonts that go into PDFs, at development time: `python assets/fonts/make_print_fonts.py [DejaVu's folder]`.

PDF libraries embed TrueType outlines; B612 comes with cubic ones (CFF), so its curves are rewritten as quadratic ones,
within half a thousandth of the letter's height, and nothing else is changed. The font for letters that B612 lacks is a
part of DejaVu Sans without hints and layout tables. Needs fonttools; the result does not depend on the machine.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont, newTable

HERE = Path(__file__).resolve().parent
#: Scripts whose letters stand side by side as they are: Latin with Vietnamese, Greek, Cyrillic, Armenian, Georgian.
RANGES = (
    (0x20, 0x7E), (0xA0, 0x24F), (0x250, 0x36F), (0x370, 0x52F), (0x531, 0x58F), (0x10A0, 0x10FF), (0x1E00, 0x1FFF),
    (0x2010, 0x2027), (0x2030, 0x205E), (0x2070, 0x20BF), (0x2100, 0x218F), (0x2190, 0x21FF), (0x2200, 0x22FF),
    (0x25A0, 0x25FF), (0x2713, 0x2718), (0xFB00, 0xFB06), (0xFFFD, 0xFFFD),
)  # fmt: skip


def with_quadratic_curves(source: Path, target: Path) -> None:
    """The font in `source`, its cubic outlines written as TrueType's quadratic ones."""
    font = TTFont(source, recalcTimestamp=False)
    letters, order = font.getGlyphSet(), font.getGlyphOrder()
    glyphs = {}
    for name in order:
        pen = TTGlyphPen(letters)
        letters[name].draw(Cu2QuPen(pen, max_err=font["head"].unitsPerEm / 2000, reverse_direction=True))
        glyphs[name] = pen.glyph()
    font["loca"], table = newTable("loca"), newTable("glyf")
    table.glyphOrder, table.glyphs = order, glyphs
    font["glyf"] = table
    _most(font)
    for tag in ("CFF ", "VORG", "GPOS", "GSUB", "GDEF", "kern", "DSIG"):
        if tag in font:
            del font[tag]
    font.sfntVersion = "\000\001\000\000"
    font.save(target)


def _most(font: TTFont) -> None:
    most = font["maxp"]
    most.tableVersion = 0x00010000
    for name in ("maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs", "maxStackElements",
                 "maxSizeOfInstructions", "maxComponentElements", "maxPoints", "maxContours", "maxCompositePoints",
                 "maxCompositeContours", "maxComponentDepth"):  # fmt: skip
        setattr(most, name, 0)
    most.maxZones = 1
    font["post"].formatType = 2.0
    font["post"].extraNames, font["post"].mapping = [], {}
    font["glyf"].compile(font)


def part_of(source: Path, target: Path, name: str, style: str) -> None:
    """The part of a font that has the letters of RANGES, under a name of its own."""
    font = TTFont(source, recalcTimestamp=False)
    options = Options(hinting=False, notdef_outline=True, layout_features=[], drop_tables=["GPOS", "GSUB", "GDEF"])
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in RANGES for code in range(first, last + 1)])
    subsetter.subset(font)
    own = {1: name, 2: style, 3: f"{name} {style}", 4: f"{name} {style}", 6: f"{name.replace(' ', '')}-{style}"}
    for record in font["name"].names:
        if record.nameID in own:
            record.string = own[record.nameID]
    font.save(target)


def main(dejavu: Path) -> None:
    """Make all four."""
    for style in ("Regular", "Bold"):
        with_quadratic_curves(HERE / f"B612-{style}.otf", HERE / f"B612-{style}.ttf")
    part_of(dejavu / "DejaVuSans.ttf", HERE / "Wide-Regular.ttf", "Countback Wide", "Regular")
    part_of(dejavu / "DejaVuSans-Bold.ttf", HERE / "Wide-Bold.ttf", "Countback Wide", "Bold")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "/usr/share/fonts/truetype/dejavu"))
