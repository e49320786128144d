"""Everything that can go wrong with a pack, in words that say what to do next.

PackError
├── CannotRead           nothing was taken in
│   ├── NoSuchPack       there is no such file
│   ├── NotAPack         a file of another kind
│   ├── NewerPack        made by a newer Countback
│   ├── PackDamaged      cut short, altered, or not whole
│   ├── PackTooLarge     it claims sizes that no teardown has
│   ├── NoRoom           this storage has no room for its photos
│   └── PackRefused      the journal cannot accept its entries
│       └── PackContradicts   they contradict what is recorded here
└── CannotWrite          the storage is not good; nothing half written
    ├── StorageFull
    ├── StorageReadOnly
    ├── StorageFault
    ├── AlreadyThere     the file exists and is not to be replaced
    ├── IsAFolder        there is a folder of that name
    ├── OverTheRecord    the file is a journal, or lies among the photos
    ├── NothingToPack    there is no such teardown
    ├── PhotoLost        a photo that an entry names is not in the store, or was altered
    └── StillChanging    a photo changed while it was packed, or is larger than any photo
"""

from __future__ import annotations

import errno


class PackError(Exception):
    """A pack could not be written or taken in."""

    words = "{name} could not be used ({detail}). Try again."


class CannotRead(PackError):
    """The pack was not taken in."""

    words = "{name} cannot be read ({detail}), so nothing was taken in. Allow it, or copy the pack to another folder."


class NoSuchPack(CannotRead):
    """There is no such file."""

    words = "There is no file {name}. Check how it is spelt, or choose another pack."


class NotAPack(CannotRead):
    """A file of another kind."""

    words = "{name} is not a Countback pack ({detail}). Nothing was taken in; choose another file."


class NewerPack(CannotRead):
    """Made by a newer Countback."""

    words = "{name} was made by a newer Countback ({detail}). Nothing was taken in; install the newer one to open it."


class PackDamaged(CannotRead):
    """Cut short, altered, or not whole."""

    words = (
        "{name} is damaged or was altered ({detail}). Nothing was taken in; "
        "ask for it again from the phone that made it."
    )


class PackTooLarge(CannotRead):
    """It claims sizes that no teardown has."""

    words = "{name} is too large ({detail}). Nothing was taken in; ask where it came from."


class NoRoom(CannotRead):
    """This storage has no room for its photos."""

    words = "There is no room for {name} ({detail}). Nothing was taken in; free some space, then try again."


class PackRefused(CannotRead):
    """The journal cannot accept its entries."""

    words = "{name} was refused ({detail}). Nothing was taken in; ask for it again from the phone that made it."


class PackContradicts(PackRefused):
    """Its entries contradict what is recorded here."""

    words = (
        "{name} contradicts what is recorded here ({detail}). Nothing was taken in. Keep both, and run "
        "countback prove on each: one was changed, or two phones write under one device's name."
    )


class CannotWrite(PackError):
    """The storage is not good; nothing half written."""


class StorageFull(CannotWrite):
    """No space left."""

    words = "The storage is full, so nothing of {name} was kept ({detail}). Free some space, then try again."


class StorageReadOnly(CannotWrite):
    """The folder cannot be written."""

    words = "{name}: its folder cannot be written ({detail}). Make it writable, or choose another folder."


class StorageFault(CannotWrite):
    """The storage failed."""

    words = "The storage failed, so nothing of {name} was kept ({detail}). Check the card or disk, then try again."


class AlreadyThere(CannotWrite):
    """The file exists and is not to be replaced."""

    words = "There is a file {name} already. It was left as it is; choose another name."


class IsAFolder(CannotWrite):
    """There is a folder of that name."""

    words = "{name} is a folder: nothing was written. Name a file in it."


class OverTheRecord(CannotWrite):
    """The file is a journal, or lies among the photos: that is never written over."""

    words = "{detail}"


class NothingToPack(CannotWrite):
    """There is no such teardown."""

    words = "There is nothing to put into {name}: {detail}."


class PhotoLost(CannotWrite):
    """A photo that an entry names is not in the store, or was altered."""

    words = (
        "{name} was not written: {detail}. Look for the photo in a backup or on the phone that took it, "
        "or pack without it and have that said in the pack."
    )


class StillChanging(CannotWrite):
    """A photo changed while it was packed, or is larger than any photo."""

    words = "{name} was not written ({detail}). Let the camera come to its end, then try again."


def say(kind: type[PackError], name: str, detail: str = "") -> PackError:
    """An error of `kind` in its own words."""
    return kind(kind.words.format(name=name, detail=detail))


_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_READ_ONLY = (errno.EROFS, errno.EACCES, errno.EPERM, errno.ENOTDIR, errno.EEXIST, errno.ENOENT, errno.EISDIR)


def unwritable(fault: OSError, name: str) -> PackError:
    """The error for what the storage said while something was written."""
    kind = StorageFull if fault.errno in _FULL else StorageReadOnly if fault.errno in _READ_ONLY else StorageFault
    return say(kind, name, fault.strerror or str(fault))


def unreadable(fault: OSError, name: str) -> PackError:
    """The error for what the storage said while a pack was read."""
    if isinstance(fault, FileNotFoundError | NotADirectoryError):
        return say(NoSuchPack, name)
    if isinstance(fault, IsADirectoryError):
        return say(NotAPack, name, "it is a folder")
    return say(CannotRead, name, fault.strerror or str(fault))
