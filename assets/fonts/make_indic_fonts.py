"""Makes the fonts for scripts that must be shaped, at development time: `make_indic_fonts.py [FOLDER]`.

Those of India are Lohit's, the others Noto's; FOLDER has their folders lohit-* and noto. Of each font the part with its
own script is kept, as two files. `Deva-Regular.ttf` has the shapes, and every one of them also has a code point of its
own in the private use area (U+E000 plus its number), so that what draws letters one by one from the left can draw any
of them. `Deva-Rules.ttf` has the tables by which letters become shapes (GSUB, GPOS, GDEF), untouched but for what the
part lacks, and no outlines; `mobileapp/shaping` reads them.

Such a drawer cannot put a mark beside its place either. So for every place that the tables give a mark, to a fiftieth
of the letter's height, there is a copy of the mark that stands there by itself; table `Plcd` of the rules lists them.
Needs fonttools and Debian's fonts-lohit-* and fonts-noto-core; the result does not depend on the machine.
"""

from __future__ import annotations

import sys
from pathlib import Path
from struct import pack
from typing import Any

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph, GlyphComponent
from fontTools.ttLib.tables.DefaultTable import DefaultTable

HERE = Path(__file__).resolve().parent
FOLDER = Path("/usr/share/fonts/truetype")
#: By the script's code in ISO 15924: where its block begins, its font, and the tag its rules are kept under. Of the
#: block of Burmese and its neighbours only what Burmese itself needs: places for all marks would be too many.
SCRIPTS = {
    "Deva": (0x900, "lohit-devanagari/Lohit-Devanagari", "dev2"),
    "Beng": (0x980, "lohit-bengali/Lohit-Bengali", "bng2"),
    "Guru": (0xA00, "lohit-punjabi/Lohit-Gurmukhi", "gur2"),
    "Gujr": (0xA80, "lohit-gujarati/Lohit-Gujarati", "gjr2"),
    "Orya": (0xB00, "lohit-oriya/Lohit-Odia", "ory2"),
    "Taml": (0xB80, "lohit-tamil/Lohit-Tamil", "tml2"),
    "Telu": (0xC00, "lohit-telugu/Lohit-Telugu", "telu"),
    "Knda": (0xC80, "lohit-kannada/Lohit-Kannada", "knda"),
    "Mlym": (0xD00, "lohit-malayalam/Lohit-Malayalam", "mlm2"),
    "Sinh": (0xD80, "noto/NotoSansSinhala-Regular", "sinh"),
    "Laoo": (0xE80, "noto/NotoSansLao-Regular", "lao "),
    "Mymr": (0x1000, "noto/NotoSansMyanmar-Regular", "mym2"),
}
#: Space, stops, joiners, and the circle on which a mark without a letter stands.
SHARED = (0x20, 0x964, 0x965, 0x200C, 0x200D, 0x25CC)
PRIVATE = 0xE000
STEPS = 50
#: Of the letter's height: room for marks above and below. With Kivy's way of setting fonts of several heights on one
#: line, what exceeds B612's 0.965 above must be four times what exceeds its 0.25 below for them to share a baseline.
ASCENT, DESCENT = 1.165, -0.30

Place = tuple[str, int, int, int]


def part_of(source: Path, first: int, tag: str) -> TTFont:
    """The part of a font for the block at `first`, with the rules under `tag`."""
    font = TTFont(source, recalcTimestamp=False)
    options = Options(hinting=False, notdef_outline=True, layout_features=["*"], layout_scripts=[tag])
    options.drop_tables += ["FFTM", "gasp", "kern", "vhea", "vmtx"]
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.glyph_names = True
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[*range(first, first + (0x50 if tag == "mym2" else 0x80)), *SHARED])
    subsetter.subset(font)
    return font


def places(font: TTFont) -> list[Place]:
    """Every place the tables give a shape, in whole steps: which, how far aside, how far up, how much more width."""
    step = font["head"].unitsPerEm / STEPS
    found: set[Place] = set()
    lookups = font["GPOS"].table.LookupList.Lookup
    tables = [_unwrapped(lookup.LookupType, table) for lookup in lookups for table in lookup.SubTable]
    exact = [place for kind, table in tables for place in _MOVES.get(kind, _none)(font, table)]
    # A mark on a letter may be moved once more.
    again = [place for kind, table in tables if kind == 1 for place in _single(font, table)]
    exact += [(name, aside + more, up + higher, wider + wide) for name, aside, up, wider in exact
              for other, more, higher, wide in again if other == name]  # fmt: skip
    exact += _roomier(font, tables)
    for name, *moved in exact:
        aside, higher, wider = (round(value / step) for value in moved)
        if aside or higher or wider:
            found.add((name, aside, higher, wider))
    numbers = {name: number for number, name in enumerate(font.getGlyphOrder())}
    return sorted(found, key=lambda place: (numbers[place[0]], *place[1:]))


def _unwrapped(kind: int, table: Any) -> tuple[int, Any]:
    return (table.ExtensionLookupType, table.ExtSubTable) if kind == 9 else (kind, table)


def _roomier(font: TTFont, tables: list[Any]) -> Any:
    """Vowel signs that take over the room of a mark which is drawn before them."""
    kinds = font["GDEF"].table.GlyphClassDef.classDefs
    widths = {name: font["hmtx"][name][0] for name, kind in kinds.items() if kind == 3}
    marks = {name for kind, table in tables if kind == 4 for name in table.MarkCoverage.glyphs}
    rooms = {font["hmtx"][name][0] for name in marks} - {0}
    return [(name, 0, 0, room) for name, width in widths.items() if width for room in rooms]


def _single(font: TTFont, table: Any) -> Any:
    values = [table.Value] * len(table.Coverage.glyphs) if table.Format == 1 else table.Value
    for name, value in zip(table.Coverage.glyphs, values, strict=True):
        yield name, *(getattr(value, part, 0) for part in ("XPlacement", "YPlacement", "XAdvance"))


def _pair(font: TTFont, table: Any) -> Any:
    for at, name in enumerate(table.Coverage.glyphs):
        if table.Format == 1:
            values = [record.Value1 for record in table.PairSet[at].PairValueRecord]
        else:
            kind = table.ClassDef1.classDefs.get(name, 0)
            values = [record.Value1 for record in table.Class1Record[kind].Class2Record]
        for value in values:
            yield name, 0, 0, getattr(value, "XAdvance", 0)


def _mark_on_letter(font: TTFont, table: Any) -> Any:
    letters = zip(table.BaseCoverage.glyphs, table.BaseArray.BaseRecord, strict=True)
    known = [(font["hmtx"][name][0], record.BaseAnchor) for name, record in letters]
    yield from _marks(font, known, table.MarkCoverage.glyphs, table.MarkArray.MarkRecord)


def _mark_on_mark(font: TTFont, table: Any) -> Any:
    letters = zip(table.Mark2Coverage.glyphs, table.Mark2Array.Mark2Record, strict=True)
    known = [(font["hmtx"][name][0], record.Mark2Anchor) for name, record in letters]
    yield from _marks(font, known, table.Mark1Coverage.glyphs, table.Mark1Array.MarkRecord)


def _marks(font: TTFont, letters: Any, marks: Any, records: Any) -> Any:
    for name, record in zip(marks, records, strict=True):
        own = record.MarkAnchor
        for width, anchors in letters:
            if anchor := anchors[record.Class]:
                aside, up = anchor.XCoordinate - own.XCoordinate - width, anchor.YCoordinate - own.YCoordinate
                for room in {0, font["hmtx"][name][0]}:  # with its own width, and without
                    yield name, aside, up, -room


def _none(font: TTFont, table: Any) -> Any:
    return ()


_MOVES = {1: _single, 2: _pair, 4: _mark_on_letter, 6: _mark_on_mark}


def with_copies(font: TTFont, moved: list[Place]) -> None:
    """Add a copy of a shape for each of its places."""
    step, glyf, widths = font["head"].unitsPerEm / STEPS, font["glyf"], font["hmtx"]
    order = list(font.getGlyphOrder())
    made = []
    for name, aside, up, wider in moved:
        part = GlyphComponent()
        part.glyphName, part.x, part.y, part.flags = name, round(aside * step), round(up * step), 0
        copy = Glyph()
        copy.numberOfContours, copy.components = -1, [part]
        made.append((f"{name}@{aside}_{up}_{wider}", copy, max(0, widths[name][0] + round(wider * step))))
    font.setGlyphOrder([*order, *(name for name, _, _ in made)])
    for name, copy, width in made:
        glyf.glyphs[name] = copy
        copy.recalcBounds(glyf)
        widths.metrics[name] = (width, getattr(copy, "xMin", 0))
    glyf.glyphOrder = font.getGlyphOrder()


def rules_of(font: TTFont, moved: list[Place], target: Path) -> None:
    """Write the tables by which letters become shapes; the copies' numbers go on where the shapes' end."""
    numbers = {name: number for number, name in enumerate(font.getGlyphOrder())}
    first = len(numbers) - len(moved)
    table = DefaultTable("Plcd")
    table.data = b"".join(
        pack(">HhhhH", numbers[name], *steps, first + at) for at, (name, *steps) in enumerate(moved)
    )
    font["Plcd"] = table
    for tag in ("glyf", "loca", "post", "OS/2", "prep"):
        if tag in font:
            del font[tag]
    font.save(target)


def shapes_of(font: TTFont, script: str, target: Path) -> None:
    """Write the shapes, each with a code point of its own."""
    for tag in ("GSUB", "GPOS", "GDEF", "prep"):
        if tag in font:
            del font[tag]
    own = {PRIVATE + number: name for number, name in enumerate(font.getGlyphOrder())}
    for table in font["cmap"].tables:
        table.cmap = {**table.cmap, **own}
    font["cmap"].tables = [table for table in font["cmap"].tables if table.format == 4 and table.platformID == 3]
    height, upper, os2 = font["head"].unitsPerEm, font["hhea"], font["OS/2"]
    upper.ascent = os2.sTypoAscender = os2.usWinAscent = round(ASCENT * height)
    upper.descent = os2.sTypoDescender = round(DESCENT * height)
    upper.lineGap = os2.sTypoLineGap = 0
    os2.usWinDescent = -upper.descent
    font["post"].formatType = 3.0
    name = f"Countback {script}"
    named = {1: name, 2: "Regular", 3: f"{name} Regular", 4: f"{name} Regular", 6: f"{name.replace(' ', '')}-Regular",
             13: "SIL Open Font License 1.1, in Indic-OFL.txt"}  # fmt: skip
    for number, text in named.items():
        font["name"].setName(text, number, 3, 1, 0x409)
    font["name"].names = [record for record in font["name"].names if record.platformID == 3]
    font.save(target)


def main(folder: Path) -> None:
    """Make all of them, and say how large they are."""
    for script, (first, file, tag) in SCRIPTS.items():
        made = HERE / f"{script}-Regular.ttf", HERE / f"{script}-Rules.ttf"
        for target in made:
            font = part_of(folder / f"{file}.ttf", first, tag)
            moved = places(font)
            with_copies(font, moved)
            if target is made[0]:
                shapes_of(font, script, target)
            else:
                rules_of(font, moved, target)
        count = TTFont(made[0])["maxp"].numGlyphs
        print(script, count, "shapes,", len(moved), "of them copies,", *(path.stat().st_size for path in made), "bytes")


if __name__ == "__main__":
    main(*(map(Path, sys.argv[1:]) if sys.argv[1:] else [FOLDER]))
