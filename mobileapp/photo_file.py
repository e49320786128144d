"""Photo files: which there are, newest first, and what is wrong with one. No Kivy; Pillow first when one is opened."""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from mobileapp.photos.errors import UnknownKind, say
from mobileapp.photos.kinds import OFFERED, media_of, other_kind

#: A phone's photo is some 2 to 15 MB; ten times that is surely something else.
MOST_BYTES = 100_000_000
#: Nothing in a photo needs more; a picture that unpacks to more than this could stop the phone.
MOST_PIXELS = 250_000_000


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """An image file by its path, name and time (ISO 8601 with offset)."""

    path: str
    name: str
    at: str


@dataclass(frozen=True, slots=True)
class Found:
    """What the folders hold: the newest photos, and a sentence for each folder that could not be read."""

    photos: tuple[PhotoFile, ...]
    faults: tuple[str, ...]


def newest(folders: Iterable[str], most: int = 40) -> Found:
    """The newest image files in these folders. A folder that is not there is passed over."""
    files: list[tuple[float, str]] = []
    faults: list[str] = []
    for folder in folders:
        try:
            files += _images_in(folder)
        except FileNotFoundError:
            continue
        except PermissionError:
            faults.append(f"The folder {folder} may not be read. Allow it in the phone's settings, or type the path.")
        except OSError as fault:
            faults.append(f"The folder {folder} cannot be read: {fault.strerror}.")
    files.sort(reverse=True)
    return Found(tuple(_photo(stamp, path) for stamp, path in files[:most]), tuple(faults))


def _images_in(folder: str) -> list[tuple[float, str]]:
    with os.scandir(folder) as listing:
        return [(_changed(entry), entry.path) for entry in listing
                if entry.name.lower().endswith(OFFERED) and not entry.name.startswith(".") and entry.is_file()]


def _changed(entry: os.DirEntry[str]) -> float:
    try:
        return entry.stat().st_mtime
    except OSError:
        return 0.0


def _photo(stamp: float, path: str) -> PhotoFile:
    at = datetime.fromtimestamp(stamp).astimezone().isoformat(timespec="milliseconds")
    return PhotoFile(path, Path(path).name, at)


def fault_of(path: str) -> str:
    """What is wrong with a photo file, in words, and what to do; empty when it opens as an image to its last line."""
    if not path.strip():
        return "No file is named. Choose one below, or type its path."
    name = Path(path).name or path
    try:
        size = os.stat(path).st_size
        if not os.path.isfile(path):
            return f"{name} is a folder or a device, not a photo. Name the file in it."
    except PermissionError:
        return f"{name} may not be read. Allow it, or copy the photo to another folder."
    except (OSError, ValueError):
        return f"There is no file {path}. Check how it is spelt, or choose one below."
    if size == 0:
        return f"{name} is empty (0 bytes): it was not saved to the end. Take the photo again."
    if size > MOST_BYTES:
        return f"{name} has {size // 1_000_000} MB: too large for a photo. Choose another file."
    return _fault_inside(path, name)


def _fault_inside(path: str, name: str) -> str:
    from PIL import Image, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of a large picture: judged by its size below
            with open(path, "rb") as file:
                head = file.read(32)
            if not media_of(head) and (kind := other_kind(head)):
                return str(say(UnknownKind, name, kind))
            with Image.open(path, formats=("JPEG", "PNG", "WEBP")) as image:
                if image.width * image.height > MOST_PIXELS:
                    size = f"{image.width} × {image.height} points"
                    return f"{name} has {size}: too large for a photo. Choose another file."
                # A JPEG is decoded at an eighth of its size, to its last line: enough to see that it is whole.
                image.draft("L", (max(1, image.width // 8), max(1, image.height // 8)))
                image.load()
    except PermissionError:
        return f"{name} may not be read. Allow it, or copy the photo to another folder."
    except UnidentifiedImageError:
        return f"{name} is not a photo that can be opened. Choose a JPEG, PNG or WebP file."
    except Image.DecompressionBombError:
        return f"{name} is too large for a photo. Choose another file."
    except MemoryError:
        return f"{name} is too large for this phone's memory. Choose another file."
    except Exception:  # a damaged file makes Pillow's readers raise nearly anything
        return f"{name} is damaged or cut off. Take the photo again, or choose another file."
    return ""
