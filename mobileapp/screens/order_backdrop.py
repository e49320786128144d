"""A photo behind the field on which bolts are placed: made off the main thread, shown when it is there."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from mobileapp.desk import Desk
from mobileapp.screens.aside import work_aside
from mobileapp.screens.pixels import Pixels, pixels_of, texture_of
from mobileapp.widgets.flange import Flange

#: As many dots as the field is wide on a sharp phone: a bolt's head is to be told from its washer.
BACKDROP_SIDE = 1024


def show_behind(desk: Desk, flange: Flange, photo: str) -> None:
    """Show the photo (a path, or the hash of a kept one) behind the bolts; none where it cannot be opened."""
    path = path_of(desk, photo)
    if path:
        work_aside(partial(pixels_of, Path(path), BACKDROP_SIDE), partial(_show, flange))


def path_of(desk: Desk, photo: str) -> str:
    """Where the photo's file is, or empty."""
    if not photo:
        return ""
    if Path(photo).is_file():
        return photo
    return str(desk.photos.path(photo)) if desk.photos and desk.photos.has(photo) else ""


def _show(flange: Flange, pixels: Pixels | None) -> None:
    if pixels is not None:
        flange.backdrop = texture_of(pixels)
