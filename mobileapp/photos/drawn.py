"""Pictures drawn by the project for its demo and its stories. Each says of itself that it is no photo."""

from __future__ import annotations

import io
from math import cos, pi, sin
from typing import TYPE_CHECKING

from mobileapp.photos.exif import DATE_TIME_ORIGINAL, EXIF_IFD, OFFSET_TIME_ORIGINAL

if TYPE_CHECKING:
    from PIL.Image import Exif
    from PIL.ImageDraw import ImageDraw

SIZE = (960, 720)
_STEEL, _DARK, _EDGE, _INK, _BAND = (94, 100, 106), (24, 26, 28), (150, 156, 160), (20, 20, 20), (240, 228, 66)


def drawn(words: str, at: str) -> bytes:
    """A JPEG of a machined face with bolt holes around an opening, `words` under it, and DEMO across its band.

    `at` (ISO 8601 with offset) is written into its EXIF as a camera would. The same words and time give the same bytes.
    """
    from PIL import Image, ImageDraw

    picture = Image.new("RGB", SIZE, _STEEL)
    pen = ImageDraw.Draw(picture)
    _draw_face(pen, sum(words.encode()))
    _draw_band(pen, words, at)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85, exif=_exif(at))
    return out.getvalue()


def _draw_face(pen: ImageDraw, number: int) -> None:
    """Each number its own face: how wide the opening is and how many holes stand around it."""
    radius, holes = 120 + number % 5 * 14, 6 + number % 4 * 2
    pen.ellipse((480 - radius, 290 - radius, 480 + radius, 290 + radius), fill=_DARK, outline=_EDGE, width=6)
    for n in range(holes):
        x, y = 480 + 330 * cos(2 * pi * n / holes), 290 + 215 * sin(2 * pi * n / holes)
        pen.ellipse((x - 22, y - 22, x + 22, y + 22), fill=_DARK, outline=_EDGE, width=4)


def _draw_band(pen: ImageDraw, words: str, at: str) -> None:
    from PIL import ImageFont

    from mobileapp.look import assets_dir

    bold = str(assets_dir() / "fonts" / "B612-Bold.otf")
    pen.rectangle((0, 560, *SIZE), fill=_BAND)
    pen.text((30, 578), "DEMO: drawn, not photographed", _INK, ImageFont.truetype(bold, 44))
    small = ImageFont.truetype(bold, 30)
    pen.text((30, 642), words[:52], _INK, small)
    pen.text((30, 680), f"{at[:10]} {at[11:19]}", _INK, small)


def _exif(at: str) -> Exif:
    from PIL import Image

    block = Image.Exif()
    inner = block.get_ifd(EXIF_IFD)
    inner[DATE_TIME_ORIGINAL] = f"{at[:10].replace('-', ':')} {at[11:19]}"
    inner[OFFSET_TIME_ORIGINAL] = at[-6:]
    return block
