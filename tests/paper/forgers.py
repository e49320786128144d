"""What somebody with a PDF editor and patience could do to a closing sheet, its table of objects put right after it."""

from __future__ import annotations

import io
import re
import zlib
from collections.abc import Callable

from PIL import Image, ImageDraw

from mobileapp.paper import closing_sheet as making

_CONTENTS = re.compile(rb"<<\n/Filter /FlateDecode\n/Length (\d+)\n>>\nstream\n", re.DOTALL)
_OBJECT = re.compile(rb"(?:\A|\n)(\d+) 0 obj\n")
_PHOTO = re.compile(rb"(/DCTDecode\n/Height \d+\n/Length )(\d+)(\n[^>]*>>\nstream\n)")


def changed(pdf: bytes, page: int, change: Callable[[bytes], bytes], level: int = -1) -> bytes:
    """The PDF with the drawing of one page changed."""
    contents = [match for match in _CONTENTS.finditer(pdf)
                if b" Tj ET" in zlib.decompress(pdf[match.end() : match.end() + int(match[1])])]  # fmt: skip
    match = contents[page]
    end = match.end() + int(match[1])
    packed = zlib.compress(change(zlib.decompress(pdf[match.end() : end])), level)
    head = match[0].replace(match[1], str(len(packed)).encode())
    return tabled(pdf[: match.start()] + head + packed + pdf[end:])


def tabled(pdf: bytes) -> bytes:
    """The same with a table of objects that leads to each of them again, as any editor would write it."""
    table = pdf.rindex(b"\nxref\n") + 1
    places, at = {}, 0
    while (match := _OBJECT.search(pdf, at)) and match.start() < table:
        places[int(match[1])] = match.start() + (pdf[match.start()] == 10)
        end = pdf.index(b"endobj", match.end())
        stream = pdf.find(b"stream\n", match.end(), end)
        if stream >= 0:
            length = int(re.findall(rb"/Length (\d+)", pdf[match.end() : stream])[-1])
            end = stream + len(b"stream\n") + length
        at = end
    count = max(places) + 1
    rows = b"".join(b"%010d 00000 n \n" % places[number] for number in range(1, count))
    trailer = pdf[pdf.index(b"trailer", table) :]
    trailer = re.sub(rb"/Size \d+", b"/Size %d" % count, trailer)
    trailer = re.sub(rb"startxref\n\d+", b"startxref\n%d" % table, trailer)
    return pdf[:table] + b"xref\n0 %d\n0000000000 65535 f \n" % count + rows + trailer


def older() -> str:
    """Versions that are not those here."""
    return re.sub(r":\d", ":0", making.made_with())


def of_other_versions(pdf: bytes) -> bytes:
    """The same sheet saying that other versions made it."""
    assert making.made_with().encode() in pdf
    return tabled(pdf.replace(making.made_with().encode(), older().encode()))


def packed_otherwise(pdf: bytes) -> bytes:
    """The same drawing in other bytes, as another zlib packs it."""
    return changed(pdf, 0, lambda drawing: drawing, level=1)


def painted_over(pdf: bytes) -> bytes:
    """A white box over the state, the code and all around them, and a C drawn in strokes."""
    return changed(pdf, 0, lambda drawing: drawing + b"\nq 1 1 1 rg 0 560 595 282 re f 0 0 0 RG 12 w "
                                                     b"115 780 m 60 780 l 60 680 l 115 680 l S Q\n")  # fmt: skip


def with_new_pages(pdf: bytes) -> bytes:
    """An update behind the end, as PDF allows it: a new beginning that leads to one page saying CLOSED."""
    cat = max(int(match[1]) for match in _OBJECT.finditer(pdf)) + 1
    root, info = (re.findall(rb"/%s (\d+) 0 R" % name, pdf)[-1] for name in (b"Root", b"Info"))
    assert root != info
    shown = b"BT /Helv 60 Tf 60 700 Td [(CLOSED)] TJ ET"
    bodies = [
        b"<</Type /Catalog /Pages %d 0 R>>" % (cat + 1),
        b"<</Type/Pages /Count 1 /Kids [%d 0 R]>>" % (cat + 2),
        b"<</Type /Page /Parent %d 0 R /MediaBox [0 0 595 842] /Contents %d 0 R "
        b"/Resources <</Font <</Helv %d 0 R>>>>>>" % (cat + 1, cat + 3, cat + 4),
        b"<</Length %d>>\nstream\n%s\nendstream" % (len(shown), shown),
        b"<</Type /Font /Subtype /Type1 /BaseFont /Helvetica>>",
    ]
    out, places = pdf, []
    for number, body in enumerate(bodies, cat):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = len(out)
    out += b"xref\n%d 5\n" % cat + b"".join(b"%010d 00000 n \n" % place for place in places)
    before = int(re.findall(rb"startxref\n(\d+)", pdf)[-1])
    out += b"trailer\n<</Size %d /Root %d 0 R /Info %s 0 R /Prev %d>>\n" % (cat + 5, cat, info, before)
    return out + b"startxref\n%d\n%%%%EOF\n" % table


def with_photo(pdf: bytes, change: Callable[[bytes], bytes]) -> bytes:
    """The first photo on it changed."""
    match = _PHOTO.search(pdf)
    assert match is not None
    end = match.end() + int(match[2])
    new = change(pdf[match.end() : end])
    return tabled(pdf[: match.start()] + match[1] + str(len(new)).encode() + match[3] + new + pdf[end:])


def retouched(jpeg: bytes) -> bytes:
    """A patch of three in a hundred of a photo painted over with another part's colour, the rest as it was."""
    with Image.open(io.BytesIO(jpeg)) as picture:
        painted = picture.convert("RGB")
    wide, high = painted.size
    half = int((wide * high * 0.03) ** 0.5) // 2
    middle = (wide // 2 - half, high // 2 - half, wide // 2 + half, high // 2 + half)
    ImageDraw.Draw(painted).rectangle(middle, fill=painted.getpixel((wide // 4, high // 4)))
    return saved(painted, 92)


def saved(picture: Image.Image, quality: int) -> bytes:
    """A picture as a JPEG."""
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=quality)
    return out.getvalue()


def coarser(jpeg: bytes) -> bytes:
    """The same photo, encoded anew."""
    with Image.open(io.BytesIO(jpeg)) as picture:
        return saved(picture, 70)
