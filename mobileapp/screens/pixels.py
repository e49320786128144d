"""Pictures small enough for the phone's graphics, made beside the main thread."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

#: The longer side of a picture to look at closely. Twelve megapixels are 4000 across and would need 50 MB.
CLOSE_SIDE = 2048
SMALL_SIDE = 256


class Pixels(NamedTuple):
    """A picture as red, green and blue bytes, the right way up."""

    size: tuple[int, int]
    data: bytes


class Seen(NamedTuple):
    """A picture to look at, and what is odd about its file; None where it cannot be opened."""

    pixels: Pixels | None
    remark: str


def looked_at(path: Path, side: int) -> Seen:
    """The picture at `path` no larger than `side`, and what its bytes say of it. Not for the main thread."""
    from mobileapp.photos.gaps import gap_words_of

    pixels = pixels_of(path, side)
    words = gap_words_of(path) if pixels else ""
    return Seen(pixels, f"Its file holds {words}: look where a part is grey or shifted." if words else "")


def pixels_of(path: Path, side: int) -> Pixels | None:
    """The picture at `path` no larger than `side`; None where it cannot be opened."""
    from PIL import Image, ImageOps

    from mobileapp.photo_file import MOST_PIXELS

    try:
        with Image.open(path) as photo:
            if photo.width * photo.height > MOST_PIXELS:
                return None
            photo.draft("RGB", (side, side))
            photo.thumbnail((side, side))
            upright = ImageOps.exif_transpose(photo).convert("RGB")
            return Pixels(upright.size, upright.tobytes())
    except Exception:  # Pillow raises nearly anything for a damaged file; the frame stays empty, which is said
        return None


def texture_of(pixels: Pixels) -> Any:
    """A texture of it. For the main thread."""
    from kivy.graphics.texture import Texture

    texture = Texture.create(size=pixels.size, colorfmt="rgb")
    texture.blit_buffer(pixels.data, colorfmt="rgb", bufferfmt="ubyte")
    texture.flip_vertical()
    return texture
