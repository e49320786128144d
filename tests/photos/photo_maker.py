"""Pictures for the photo tests: drawn by Pillow, their EXIF written by piexif, a writer of its own."""

from __future__ import annotations

import io
import random

import piexif
from PIL import Image, ImageDraw, ImageFilter

TAKEN = "2026:03:02 08:15:30"
OFFSET = "+01:00"


def scene(width: int = 640, height: int = 480, seed: int = 1) -> Image.Image:
    """An upright scene: a red corner top left on a speckled ground, so that turning shows."""
    speckle = random.Random(seed).randbytes(160 * 120 * 3)
    picture = (
        Image.frombytes("RGB", (160, 120), speckle)
        .filter(ImageFilter.GaussianBlur(2))
        .resize((width, height))
    )
    ImageDraw.Draw(picture).rectangle((0, 0, width // 3, height // 3), fill=(230, 20, 20))
    return picture


def exif_block(taken: str = TAKEN, offset: str = OFFSET, orientation: int = 1) -> bytes:
    """An EXIF block as a camera writes it; empty texts are left out."""
    inner: dict[int, str] = {}
    if taken:
        inner[piexif.ExifIFD.DateTimeOriginal] = taken
    if offset:
        inner[piexif.ExifIFD.OffsetTimeOriginal] = offset
    block: bytes = piexif.dump({"0th": {piexif.ImageIFD.Orientation: orientation}, "Exif": inner})
    return block


def jpeg(picture: Image.Image | None = None, exif: bytes = b"", **options: object) -> bytes:
    """A JPEG."""
    out = io.BytesIO()
    (picture or scene()).save(out, "JPEG", **{"quality": 88, "exif": exif, **options})
    return out.getvalue()


def encoded(kind: str, picture: Image.Image | None = None, **options: object) -> bytes:
    """The scene in another kind of file."""
    out = io.BytesIO()
    (picture or scene()).save(out, kind, **options)
    return out.getvalue()


#: How a scene lies in the file for each orientation a camera may write, so that turned it is upright again.
LIES = {
    1: (), 2: (Image.Transpose.FLIP_LEFT_RIGHT,), 3: (Image.Transpose.ROTATE_180,),
    4: (Image.Transpose.FLIP_TOP_BOTTOM,), 5: (Image.Transpose.TRANSPOSE,), 6: (Image.Transpose.ROTATE_90,),
    7: (Image.Transpose.TRANSVERSE,), 8: (Image.Transpose.ROTATE_270,),
}  # fmt: skip


def held(orientation: int) -> bytes:
    """The scene photographed with the camera held so."""
    picture = scene()
    for turn in LIES[orientation]:
        picture = picture.transpose(turn)
    return jpeg(picture, exif_block(orientation=orientation))
