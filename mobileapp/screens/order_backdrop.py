"""A photo behind the field on which bolts are placed: made small off the main thread, shown when it is there."""

from __future__ import annotations

from pathlib import Path

from kivy.graphics.texture import Texture

from mobileapp.desk import Desk
from mobileapp.screens.aside import work_aside
from mobileapp.screens.thumbnail import Pixels, small_picture
from mobileapp.widgets.flange import Flange


def show_behind(desk: Desk, flange: Flange, photo: str) -> None:
    """Show the photo (a path, or the hash of a kept one) behind the bolts; none where it cannot be opened."""
    path = path_of(desk, photo)
    if path:
        work_aside(lambda: small_picture(path), lambda pixels: _show(flange, pixels))


def path_of(desk: Desk, photo: str) -> str:
    """Where the photo's file is, or empty."""
    if not photo:
        return ""
    if Path(photo).is_file():
        return photo
    return str(desk.photos.path(photo)) if desk.photos and desk.photos.has(photo) else ""


def _show(flange: Flange, pixels: Pixels | None) -> None:
    if pixels is None:
        return
    size, data = pixels
    texture = Texture.create(size=size, colorfmt="rgb")
    texture.blit_buffer(data, colorfmt="rgb", bufferfmt="ubyte")
    texture.flip_vertical()
    flange.backdrop = texture
