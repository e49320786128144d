"""Makes the fonts for print and for names, at development time: `make_print_fonts.py [four paths]`.

PDF libraries embed TrueType outlines; B612 comes with cubic ones (CFF), so its curves are rewritten as quadratic ones,
within half a thousandth of the letter's height, and nothing else is changed. The font for letters that B612 lacks is a
part of DejaVu Sans with the Thai letters of Arundina Sans, without hints and layout tables. The one for Chinese,
Japanese and Korean is that part again, on the coarser grid of Droid Sans Fallback, with that font's letters and the
rarer ideographs of its fuller sister. For words with Arabic letters that DejaVu lacks there is a part of Noto Sans
Arabic, for Ethiopic one of Noto Sans Ethiopic. Paths are given where the packages are elsewhere:
DroidSansFallback.ttf, Arundina's folder, DroidSansFallbackFull.ttf, Noto's folder. Needs fonttools and Debian's fonts-
dejavu-core, fonts-arundina, fonts-noto-core and fonts-droid-fallback; the result does not depend on the machine.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from fontTools.merge import Merger
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.scaleUpem import scale_upem

HERE = Path(__file__).resolve().parent
DEJAVU = Path("/usr/share/fonts/truetype/dejavu")
ARUNDINA = Path("/usr/share/fonts/truetype/arundina")
DROID = Path("/usr/share/fonts-droid-fallback/truetype/DroidSansFallback.ttf")
NOTO = Path("/usr/share/fonts/truetype/noto")
DROID_FULL = Path("/usr/share/fonts/truetype/droid/DroidSansFallbackFull.ttf")
#: Latin with Vietnamese, Greek, Cyrillic, Armenian, Georgian; Hebrew; Arabic with the forms of joined letters; signs.
RANGES = (
    (0x20, 0x7E), (0xA0, 0x24F), (0x250, 0x36F), (0x370, 0x52F), (0x531, 0x58F), (0x10A0, 0x10FF), (0x1E00, 0x1FFF),
    (0x2010, 0x2027), (0x2030, 0x205E), (0x2070, 0x20BF), (0x2100, 0x218F), (0x2190, 0x21FF), (0x2200, 0x22FF),
    (0x25A0, 0x25FF), (0x2713, 0x2718), (0xFB00, 0xFB06), (0xFFFD, 0xFFFD),
    (0x591, 0x5F4), (0x60C, 0x6FF), (0xFB1D, 0xFDFF), (0xFE70, 0xFEFC),
)  # fmt: skip
#: All Arabic writing that Unicode has joined forms for, those of Urdu, Sindhi and Uighur among them.
ARABIC = ((0x20, 0x20), (0x600, 0x6FF), (0x750, 0x77F), (0x8A0, 0x8FF), (0xFB50, 0xFBFF), (0xFE70, 0xFEFC))
ETHIOPIC = ((0x20, 0x20), (0x1200, 0x139F), (0x2D80, 0x2DDF), (0xAB00, 0xAB2F))
#: Its marks stand so high by themselves that a tone and a vowel do not meet: no shaping is needed to read it.
THAI = ((0xE01, 0xE3A), (0xE3F, 0xE5B))
#: The rarer ideographs of extension A, which are in that package's other font.
RARER = ((0x3400, 0x4DBF),)
#: Signs and kana, ideographs, Hangul, compatibility forms, full and half width.
EASTERN = (
    (0x2E80, 0x33FF), (0x4E00, 0x9FFF), (0xAC00, 0xD7A3), (0xF900, 0xFAFF), (0xFE30, 0xFE4F), (0xFF01, 0xFFEF)
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


def part_of(source: Path, ranges: tuple[tuple[int, int], ...]) -> TTFont:
    """The part of a font that has the letters of `ranges`."""
    font = TTFont(source, recalcTimestamp=False)
    options = Options(hinting=False, notdef_outline=True, layout_features=[])
    options.drop_tables = ["GPOS", "GSUB", "GDEF", "kern", "MATH", "FFTM", "vhea", "vmtx", "gasp"]
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in ranges for code in range(first, last + 1)])
    subsetter.subset(font)
    return font


def in_one_piece(font: TTFont) -> TTFont:
    """The font without shapes that are put together from others, of which it would have too many for one file."""
    letters = font.getGlyphSet()
    for name in font.getGlyphOrder():
        if font["glyf"][name].isComposite():
            pen = DecomposingRecordingPen(letters)
            letters[name].draw(pen)
            outline = TTGlyphPen(None)
            pen.replay(outline)
            font["glyf"][name] = outline.glyph()
    options = Options(notdef_outline=True, name_IDs=[0, 1, 2, 3, 4, 5, 6, 13, 14])
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=font.getBestCmap())
    subsetter.subset(font)
    return font


_LICENCES = {
    "Countback Wide": "The licences of Bitstream Vera and Arev, in Wide-LICENSE.txt",
    "Countback Arab": "SIL Open Font License 1.1, in Arab-OFL.txt",
    "Countback Ethi": "SIL Open Font License 1.1, in Arab-OFL.txt",
    "Countback World": "Apache License 2.0, and the licences of Bitstream Vera and Arev, in World-LICENSE.txt",
}


def save(font: TTFont, target: Path, name: str, style: str, more: str = "") -> None:
    """Save a changed font under a name of its own; its copyright lines stay."""
    own = {1: name, 2: style, 3: f"{name} {style}", 4: f"{name} {style}", 6: f"{name.replace(' ', '')}-{style}"}
    if more:
        own[0] = f"{font['name'].getDebugName(0)}; {more}"
        own[13] = _LICENCES[name]
    for record in font["name"].names:
        if record.nameID in own:
            record.string = own[record.nameID]
    font["name"].names = [record for record in font["name"].names if record.nameID in (0, 1, 2, 3, 4, 5, 6, 13, 14)]
    font.save(target)


def with_room(font: TTFont) -> TTFont:
    """The font with the line height that the fonts for parts of a text have (make_indic_fonts.py says why)."""
    height, upper, os2 = font["head"].unitsPerEm, font["hhea"], font["OS/2"]
    upper.ascent = os2.sTypoAscender = os2.usWinAscent = round(1.165 * height)
    upper.descent = os2.sTypoDescender = round(-0.30 * height)
    upper.lineGap = os2.sTypoLineGap = 0
    os2.usWinDescent, font["post"].formatType = -upper.descent, 3.0
    return font


def merged(*fonts: TTFont) -> TTFont:
    """Several parts in one font, on the grid and with the line height of the first."""
    first, others = fonts[0], fonts[1:]
    heights = {table: {name: getattr(first[table], name) for name in names} for table, names in _HEIGHTS.items()}
    moment = first["head"].modified
    for other in others:
        scale_upem(other, first["head"].unitsPerEm)
    with TemporaryDirectory() as folder:
        files = [Path(folder) / f"{number}.ttf" for number in range(len(fonts))]
        for font, file in zip(fonts, files, strict=True):
            font.save(file)
        font = Merger().merge([str(file) for file in files])
    font.recalcTimestamp, font["head"].modified, font["head"].created = False, moment, moment
    font["OS/2"].fsType, font["post"].formatType = 0, 3.0
    for table, known in heights.items():
        for name, value in known.items():
            setattr(font[table], name, value)
    return font


_HEIGHTS = {
    "hhea": ("ascent", "descent", "lineGap"),
    "OS/2": ("sTypoAscender", "sTypoDescender", "sTypoLineGap", "usWinAscent", "usWinDescent"),
}
_THAI_BY = "Copyright (c) 2007 by Software Industry Promotion Agency (Public Organization). All Rights Reserved. (Thai)"


def main(droid: Path, arundina: Path, droid_full: Path, noto: Path) -> None:
    """Make all nine. A label on the screen has but one font, so the large one has the letters of the other as well."""
    for style, more in (("Regular", ""), ("Bold", "-Bold")):
        with_quadratic_curves(HERE / f"B612-{style}.otf", HERE / f"B612-{style}.ttf")
        thai = part_of(arundina / f"ArundinaSans{more}.ttf", THAI)
        wide = merged(part_of(DEJAVU / f"DejaVuSans{more}.ttf", RANGES), thai)
        save(wide, HERE / f"Wide-{style}.ttf", "Countback Wide", style, _THAI_BY)
        arab = with_room(part_of(noto / f"NotoSansArabic-{style}.ttf", ARABIC))
        save(arab, HERE / f"Arab-{style}.ttf", "Countback Arab", style, "changed: a part")
        ethiopic = with_room(part_of(noto / f"NotoSansEthiopic-{style}.ttf", ETHIOPIC))
        save(ethiopic, HERE / f"Ethi-{style}.ttf", "Countback Ethi", style, "changed: a part")
    wide = TTFont(HERE / "Wide-Regular.ttf", recalcTimestamp=False)
    owners = wide["name"].getDebugName(0)
    world = merged(part_of(droid, EASTERN), in_one_piece(part_of(droid_full, RARER)), wide)
    save(world, HERE / "World-Regular.ttf", "Countback World", "Regular", owners)


if __name__ == "__main__":
    named = [Path(name) for name in sys.argv[1:]]
    main(*(named + [DROID, ARUNDINA, DROID_FULL, NOTO][len(named) :]))
