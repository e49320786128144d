"""Everything that can go wrong with a photo, in words that say what to do next.

PhotoError
├── CannotTake           the source cannot be kept; nothing was written
│   ├── NoSuchPhoto      there is no such file
│   ├── NotAFile         a folder or a device
│   ├── NotReadable      the file may not be read, or its storage fails
│   ├── EmptyPhoto       zero bytes
│   ├── NotAPhoto        not a picture at all
│   ├── UnknownKind      a picture of a kind that is not kept (HEIC, GIF ...)
│   ├── DamagedPhoto     cut off or corrupt
│   └── TooLarge         over the limit of bytes or megapixels
├── CannotKeep           the photo is good, the storage is not; nothing half kept
│   ├── StorageFull
│   ├── StorageReadOnly
│   └── StorageFault
└── NotKept              the store has no photo of that hash
    └── PhotoAltered     it has, but the bytes are not those that were kept
"""

from __future__ import annotations

import errno


class PhotoError(Exception):
    """A photo could not be kept or shown."""

    words = "{name} could not be kept ({detail}). Try again, or choose another photo."


class CannotTake(PhotoError):
    """The source cannot be kept."""


class NoSuchPhoto(CannotTake):
    """There is no such file."""

    words = "There is no file {name}. Check how it is spelt, or choose another photo."


class NotAFile(CannotTake):
    """A folder or a device."""

    words = "{name} is a folder or a device, not a photo. Choose the file in it."


class NotReadable(CannotTake):
    """The file may not be read, or its storage fails."""

    words = "{name} cannot be read ({detail}). Allow it, or copy the photo to another folder."


class EmptyPhoto(CannotTake):
    """Zero bytes."""

    words = "{name} is empty (0 bytes): it was not saved to the end. Take the photo again."


class NotAPhoto(CannotTake):
    """Not a picture at all."""

    words = "{name} is not a photo that can be opened. Choose a JPEG, PNG or WebP file."


class UnknownKind(CannotTake):
    """A picture of a kind that is not kept."""

    words = (
        "{name} is a {detail} file; Countback keeps JPEG, PNG and WebP. Save it as JPEG and choose that. "
        "A camera that writes HEIC can be set to JPEG in its settings."
    )


class DamagedPhoto(CannotTake):
    """Cut off or corrupt."""

    words = "{name} is damaged or cut off ({detail}). Take the photo again, or choose another file."


class TooLarge(CannotTake):
    """Over the limit of bytes or megapixels."""

    words = "{name} is too large ({detail}). Set the camera to smaller photos and take it again."


class CannotKeep(PhotoError):
    """The photo is good, the storage is not."""


class StorageFull(CannotKeep):
    """No space left."""

    words = (
        "The storage is full, so {name} was not kept. Free some space, then take or choose the photo again."
    )


class StorageReadOnly(CannotKeep):
    """The store's folder cannot be written."""

    words = "{name} was not kept: its folder cannot be written ({detail}). Make it writable, then try again."


class StorageFault(CannotKeep):
    """The storage failed."""

    words = "The storage failed, so {name} was not kept ({detail}). Check the card or disk, then try again."


class NotKept(PhotoError):
    """The store has no photo of that hash."""

    words = "The photo {name} is not in the store. Look for it in a backup or on the phone that took it."


class PhotoAltered(NotKept):
    """The bytes are not those that were kept."""

    words = "The photo {name} was altered after it was kept ({detail}). Put it back from a backup."


def say(kind: type[PhotoError], name: str, detail: str = "") -> PhotoError:
    """An error of `kind` in its own words."""
    return kind(kind.words.format(name=name, detail=detail))


_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_READ_ONLY = (errno.EROFS, errno.EACCES, errno.EPERM, errno.ENOTDIR, errno.EEXIST)


def unwritable(fault: OSError, name: str) -> PhotoError:
    """The error for what the storage said while a photo was written."""
    kind = (
        StorageFull
        if fault.errno in _FULL
        else StorageReadOnly
        if fault.errno in _READ_ONLY
        else StorageFault
    )
    return say(kind, name, fault.strerror or str(fault))


def unreadable(fault: OSError, name: str) -> PhotoError:
    """The error for what the storage said while a photo was read."""
    if isinstance(fault, FileNotFoundError | NotADirectoryError):
        return say(NoSuchPhoto, name)
    if isinstance(fault, IsADirectoryError):
        return say(NotAFile, name)
    return say(NotReadable, name, fault.strerror or str(fault))
