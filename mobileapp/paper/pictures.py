"""Photos made ready for paper: checked against their hash, turned the right way up, no larger than print needs.

A photo that is missing or altered is not shown; why is said in its place.
"""

from __future__ import annotations

import hashlib
import io
import warnings
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import NamedTuple, Protocol

from PIL import Image, ImageOps

from mobileapp.photos.errors import PhotoError
from mobileapp.photos.gaps import gap_words

#: The longer side in pixels: a column of 87 mm at 300 to the inch.
SIDE = 1024
_QUALITY = 80


class Prepared(NamedTuple):
    """A photo ready to print: a JPEG, its size in pixels, and what is odd about the original's bytes."""

    jpeg: bytes
    width: int
    height: int
    remark: str = ""


class NotShown(NamedTuple):
    """Why a photo cannot be shown, in words."""

    words: str


class Photos(Protocol):
    """Where the originals are; `PhotoStore` is one. `path` raises a PhotoError."""

    def path(self, sha: str) -> Path: ...


Pictured = Prepared | NotShown
#: Gives a photo by its hash.
PictureSource = Callable[[str], Pictured]


def prepare(photos: Photos, sha: str) -> Pictured:
    """One photo, read once: its bytes are hashed, and only the very bytes that were kept are shown."""
    try:
        data = photos.path(sha).read_bytes()
    except PhotoError:
        return NotShown("This photo is missing from the store.")
    except OSError as fault:
        return NotShown(f"This photo cannot be read: {fault.strerror or fault}.")
    if hashlib.sha256(data).hexdigest() != sha:
        return NotShown("This photo was altered after it was kept: its bytes have another hash. It is not shown.")
    try:
        return _smaller(data)._replace(remark=gap_words(data))
    except Exception as fault:  # a damaged picture makes Pillow's readers raise nearly anything
        what = type(fault).__name__
        return NotShown(f"This photo cannot be opened here ({what}); its bytes are those that were kept.")


def prepare_all(photos: Photos, shas: Iterable[str]) -> dict[str, Pictured]:
    """Several photos, one after another."""
    return {sha: prepare(photos, sha) for sha in shas}


def _smaller(data: bytes) -> Prepared:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the store has judged size and EXIF when it kept the photo
        with Image.open(io.BytesIO(data)) as image:
            image.draft("RGB", (SIDE, SIDE))
            image.thumbnail((SIDE, SIDE), Image.Resampling.BICUBIC, reducing_gap=None)
            flat = _flat(ImageOps.exif_transpose(image))
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=_QUALITY)
    return Prepared(out.getvalue(), flat.width, flat.height)


def _flat(image: Image.Image) -> Image.Image:
    if image.mode in ("RGB", "L"):
        return image
    if image.mode[0] in "IF":
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    clear = image.convert("RGBA")
    paper = Image.new("RGB", clear.size, "white")
    paper.paste(clear, mask=clear.getchannel("A"))
    return paper
