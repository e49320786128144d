"""A small picture of a photo, made off the main thread; until then, and where none can be made, an empty frame."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache
from typing import Any

from kivy.clock import Clock
from kivy.graphics.texture import Texture
from kivy.metrics import mm
from kivy.uix.image import Image

_SIDE = 160

Pixels = tuple[tuple[int, int], bytes]


@lru_cache(maxsize=1)
def _workshop() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(max_workers=1, thread_name_prefix="thumbnails")


def small_picture(path: str) -> Pixels | None:
    """The photo no larger than 160 points, as it is to be seen; None where it cannot be opened."""
    from PIL import Image as Photo
    from PIL import ImageOps

    from mobileapp.photo_file import MOST_PIXELS

    try:
        with Photo.open(path) as photo:
            if photo.width * photo.height > MOST_PIXELS // 4:
                return None
            photo.draft("RGB", (_SIDE * 2, _SIDE * 2))
            photo.thumbnail((_SIDE, _SIDE))
            small = ImageOps.exif_transpose(photo).convert("RGB")
            return small.size, small.tobytes()
    except Exception:  # the list stays usable whatever a file holds; what is wrong is said when it is chosen
        return None


class Thumbnail(Image):
    """Shows the photo at `path` in a square of 15 mm, once it is made."""

    def __init__(self, path: str, **kwargs: Any) -> None:
        super().__init__(size_hint=(None, None), size=(mm(15), mm(15)), pos_hint={"center_y": 0.5}, **kwargs)
        self.color = (1, 1, 1, 0.08)
        _workshop().submit(self._make, path)

    def _make(self, path: str) -> None:
        pixels = small_picture(path)
        if pixels:
            Clock.schedule_once(lambda _: self._show(*pixels))

    def _show(self, size: tuple[int, int], data: bytes) -> None:
        texture = Texture.create(size=size, colorfmt="rgb")
        texture.blit_buffer(data, colorfmt="rgb", bufferfmt="ubyte")
        texture.flip_vertical()
        self.texture = texture
        self.color = (1, 1, 1, 1)
