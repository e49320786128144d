"""Looking at a photo before it is kept: what it is, whether it is whole, what the camera wrote, and a small picture.

It is decoded to its last line once, which shows that it is whole and gives the small picture. A JPEG or WebP whose
middle was changed so that it still decodes cannot be told from a whole one, but for a stretch of zeros (`gaps.py`),
which is remarked; once it is kept, its hash tells.
"""

from __future__ import annotations

import io
import warnings
import zlib
from typing import TYPE_CHECKING, NamedTuple

from mobileapp.photos import exif, kinds
from mobileapp.photos.errors import (
    DamagedPhoto,
    EmptyPhoto,
    NotAPhoto,
    PhotoError,
    TooLarge,
    UnknownKind,
    say,
)

if TYPE_CHECKING:
    from PIL.Image import Image

#: The longer side of the small picture.
SIDE = 512
_PILLOW = {kinds.JPEG: "JPEG", kinds.PNG: "PNG", kinds.WEBP: "WEBP"}


class Look(NamedTuple):
    """What a photo is. Width and height as its pixels lie in the file, before it is turned the right way up."""

    media: str
    width: int
    height: int
    taken: str
    orientation: int
    small: bytes


def look_at(data: bytes, name: str) -> Look:
    """Look at a photo. Raises a CannotTake in the person's words."""
    media = _media(data, name)
    if media == kinds.PNG and not _chunks_are_whole(data):
        raise say(DamagedPhoto, name, "its checksums do not fit, or its end is missing")
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore"
        )  # Pillow warns of odd EXIF and of large pictures; we judge both ourselves
        image = _opened(data, name, media)
        taken, orientation = exif.written(image)
    size = image.size
    return Look(media, *size, taken, orientation, _small(image, name, media, orientation))


def _chunks_are_whole(data: bytes) -> bool:
    """Whether every chunk of a PNG up to its end has the checksum it names; Pillow does not ask that of them all."""
    view, at = memoryview(data), 8
    while at + 12 <= len(data):
        end = at + 8 + int.from_bytes(view[at : at + 4], "big")
        if zlib.crc32(view[at + 4 : end]) != int.from_bytes(view[end : end + 4], "big") or end + 4 > len(
            data
        ):
            return False
        if view[at + 4 : at + 8] == b"IEND":
            return True
        at = end + 4
    return False


def _media(data: bytes, name: str) -> str:
    if not data:
        raise say(EmptyPhoto, name)
    if len(data) > kinds.MOST_BYTES:
        raise too_many_bytes(len(data), name)
    media = kinds.media_of(data)
    if not media:
        other = kinds.other_kind(data)
        raise say(UnknownKind, name, other) if other else say(NotAPhoto, name)
    return media


def too_many_bytes(size: int, name: str) -> PhotoError:
    """The error for a file over the limit of bytes."""
    return say(TooLarge, name, f"{size // 1_000_000} MB; at most {kinds.MOST_BYTES // 1_000_000} MB are kept")


def _opened(data: bytes, name: str, media: str) -> Image:
    from PIL import Image

    most = kinds.MOST_MEGAPIXELS[media]
    limit = f"at most {most} are kept of a {kinds.WORDS[media]}"
    try:
        image = Image.open(io.BytesIO(data), formats=(_PILLOW[media],))
    except Image.DecompressionBombError as fault:
        raise say(TooLarge, name, f"more than {most} megapixels; {limit}") from fault
    except Exception as fault:  # a damaged head makes Pillow's readers raise nearly anything
        raise say(DamagedPhoto, name, "its head cannot be read") from fault
    if image.width * image.height > most * 1_000_000:
        raise say(TooLarge, name, f"{image.width * image.height // 1_000_000} megapixels; {limit}")
    if image.info.get("progressive") and image.width * image.height > kinds.MOST_PROGRESSIVE * 1_000_000:
        megapixels = f"{image.width * image.height / 1_000_000:.1f} megapixels in a progressive JPEG"
        raise say(TooLarge, name, f"{megapixels}; at most {kinds.MOST_PROGRESSIVE} are kept of a progressive one")
    return image


def _small(image: Image, name: str, media: str, orientation: int) -> bytes:
    try:
        image.draft("RGB", (SIDE, SIDE))
        image.load()
    except MemoryError as fault:
        raise say(TooLarge, name, "more than this phone's memory can hold") from fault
    except Exception as fault:  # as above
        raise say(
            DamagedPhoto, name, f"its {kinds.WORDS[media]} data end too early or make no sense"
        ) from fault
    return small_picture(image, orientation)


_TURNS = {2: 0, 3: 3, 4: 1, 5: 5, 6: 4, 7: 6, 8: 2}


def small_picture(image: Image, orientation: int) -> bytes:
    """A decoded picture as a JPEG of at most 512 px, the right way up."""
    from PIL import Image as Photo

    image.thumbnail((SIDE, SIDE), reducing_gap=None)
    flat = _flat(image)
    if orientation in _TURNS:
        flat = flat.transpose(Photo.Transpose(_TURNS[orientation]))
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=85)
    return out.getvalue()


def _flat(image: Image) -> Image:
    from PIL import Image as Photo

    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        clear = image.convert("RGBA")
        paper = Photo.new("RGB", clear.size, "white")
        paper.paste(clear, mask=clear.getchannel("A"))
        return paper
    return (
        image
        if image.mode in ("RGB", "L")
        else _in_grey(image)
        if image.mode[0] in "IF"
        else image.convert("RGB")
    )


def _in_grey(image: Image) -> Image:
    # Sixteen bits a pixel: the upper eight are what an eye can tell.
    return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
