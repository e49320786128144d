"""Photographs that were taken by real cameras: those in the wheel of scikit-image, read as files and never imported."""

from __future__ import annotations

import io
from importlib.metadata import files

from PIL import Image

#: What the wheel calls them.
NAMES = ("rocket.jpg", "retina.jpg", "hubble_deep_field.jpg")


def real_photo(name: str) -> bytes:
    """The file's bytes, as the package ships them."""
    (found,) = [path for path in files("scikit-image") or () if path.match(f"skimage/data/{name}")]
    return found.locate().read_bytes()


def resaved(name: str, exif: bytes) -> bytes:
    """The same photograph as a camera would have written it: with its EXIF block."""
    held = io.BytesIO()
    with Image.open(io.BytesIO(real_photo(name))) as picture:
        picture.save(held, "JPEG", exif=exif, quality=90)
    return held.getvalue()
