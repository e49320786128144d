"""Photos on disk, each by the SHA-256 of its bytes, which are never altered.

    kept = store.keep(path, received=clock())     # durable when this returns
    store.path(kept.sha)                          # the original, as it came
    store.thumbnail(kept.sha)                     # 512 px, the right way up

A photo is kept first and only then referred to by an event; one whose event never came is an orphan, to be offered.
The store has no widget and reads no clock. `later` and `thumbnail_later` work on a thread of the store's own and hand
their result to `deliver`, which the app sets so that it comes back on the main thread.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple, TypeVar

from checklists.receipt import NOTED, Receipt
from mobileapp.photos import errors, kinds, receipts
from mobileapp.photos.exif import taken_words
from mobileapp.photos.gaps import gap_words
from mobileapp.photos.looking import Look, look_at, too_many_bytes
from mobileapp.photos.safe_file import PART, sync_folder, write_safely

#: The folder of kept photos, beside the journal.
FOLDER = "kept-photos"
_SMALL = "small"
_NAME = re.compile(r"([0-9a-f]{64})\.(jpg|png|webp)")
_JPEG_END = b"\xff\xd9"

T = TypeVar("T")
Deliver = Callable[[Callable[[], None]], None]


class Kept(NamedTuple):
    """A photo that is kept, and what is known of it. `remark` says what is odd about it; `was_known`: it was there.

    `received` and `received_by` say when this phone first had it, and by what that is known (`checklists.receipt`).
    """

    sha: str
    media: str
    width: int
    height: int
    size: int
    taken: str
    received: str
    orientation: int
    name: str
    remark: str = ""
    was_known: bool = False
    received_by: str = NOTED

    @property
    def taken_words(self) -> str:
        """When it was taken, in words; that the camera did not say is said."""
        return taken_words(self.taken)


class Stored(NamedTuple):
    """A photo's file in the store."""

    sha: str
    path: Path
    size: int


class Leftovers(NamedTuple):
    """What an interrupted write left: whole photos, now kept and to be offered, and how many pieces were cleared."""

    rescued: list[Kept]
    cleared: int


def beside(journal: Path | str) -> Path:
    """Where the photos of a journal are."""
    return Path(journal).parent / FOLDER


def at_once(act: Callable[[], None]) -> None:
    """Deliver on the thread that did the work."""
    act()


class PhotoStore:
    """The photos in one folder, which is made when the first is kept. Any thread may use it."""

    def __init__(
        self, folder: Path | str, deliver: Deliver = at_once, sync: Callable[[int], None] = os.fsync
    ) -> None:
        self.folder = Path(folder)
        self._sync = sync
        #: Whether this process has made the folders themselves durable.
        self._folders_last = False
        self._deliver = deliver
        self._small_folder = self.folder / _SMALL
        self._receipts = self.folder / receipts.FOLDER
        self._lock = threading.Lock()
        self._worker: ThreadPoolExecutor | None = None

    # --- keeping

    def keep(self, source: Path | bytes, received: str, name: str = "", received_by: str = NOTED) -> Kept:
        """Keep a photo; it is durable when this returns. Raises a PhotoError, and then nothing was kept.

        When it was received is noted with it; of one that is known the first receipt stands.
        """
        name = name or (source.name if isinstance(source, Path) else "")
        shown = name or "the photo"
        data = source if isinstance(source, bytes) else read_photo(source)
        look = look_at(data, shown)
        sha = hashlib.sha256(data).hexdigest()
        known, receipt = self._put(sha, look, data, shown, Receipt(received, received_by))
        remark = " ".join(filter(None, (kinds.name_remark(name, look.media), _gap_remark(data, shown))))
        return Kept(
            sha, *look[:3], len(data), look.taken, receipt.at, look.orientation, name, remark, known, receipt.by
        )

    def _put(self, sha: str, look: Look, data: bytes, name: str, receipt: Receipt) -> tuple[bool, Receipt]:
        target = self.folder / (sha + kinds.ENDINGS[look.media])
        with self._lock:
            known = self._is_sound(target, sha, len(data))
            noted = None
            try:
                self._make_folders()
                noted = self.note_receipt(sha, receipt)  # first, so that no photo is there without one
                if known:  # whoever wrote it may have been stopped between the rename and this
                    sync_folder(self.folder, self._sync)
                else:
                    write_safely(target, data, mode=0o444, sync=self._sync)  # nobody turns an original by mistake
            except OSError as fault:
                if noted:
                    noted.unlink(missing_ok=True)  # it was not kept, so it was not received either
                raise errors.unwritable(fault, name) from fault
            self._put_small(sha, look.small)
            return known, self.receipt(sha) or receipt

    @staticmethod
    def _is_sound(target: Path, sha: str, size: int) -> bool:
        try:
            return target.stat().st_size == size and hash_of(target) == sha
        except OSError:
            return False

    def _make_folders(self) -> None:
        if self._folders_last and self._small_folder.is_dir() and self._receipts.is_dir():
            return
        for folder in (self._small_folder, self._receipts):
            folder.mkdir(parents=True, exist_ok=True)
        sync_folder(self.folder, self._sync)
        sync_folder(self.folder.parent, self._sync)
        self._folders_last = True

    def _put_small(self, sha: str, small: bytes) -> bool:
        try:
            write_safely(self._small_path(sha), small, durable=False)
        except OSError:
            return False  # it can be made again whenever it is asked for
        return True

    # --- when they were received

    def note_receipt(self, sha: str, receipt: Receipt) -> Path | None:
        """Note when a photo was received, unless that is noted; the new note's path. Raises OSError."""
        path = self._receipt_path(sha)
        if receipts.read_receipt(path) is not None:
            return None
        path.parent.mkdir(parents=True, exist_ok=True)
        receipts.write_receipt(path, receipt)
        return path

    def receipt(self, sha: str) -> Receipt | None:
        """When a photo was received, as noted; None where nothing was."""
        return receipts.read_receipt(self._receipt_path(sha))

    def receipt_of(self, source: Path | bytes) -> Receipt | None:
        """When a photo of the store's own was received: as noted, else by its file. None of what comes from elsewhere.

        Raises a PhotoError where its file cannot be looked at.
        """
        named = _NAME.fullmatch(source.name) if isinstance(source, Path) and source.parent == self.folder else None
        if not named or not isinstance(source, Path):
            return None
        try:
            return self.receipt(named[1]) or receipts.by_file(source)
        except OSError as fault:
            raise errors.unreadable(fault, source.name) from fault

    def _receipt_path(self, sha: str) -> Path:
        return self._receipts / f"{sha}.json"

    # --- reading

    def has(self, sha: str) -> bool:
        """Whether a photo of that hash is in the store. Whether its bytes still have that hash, `prove` says."""
        return self._find(sha) is not None

    def path(self, sha: str) -> Path:
        """The original. Raises NotKept."""
        found = self._find(sha)
        if found is None:
            raise errors.say(errors.NotKept, sha[:12] or "without a name")
        return found

    def _find(self, sha: str) -> Path | None:
        if not re.fullmatch(r"[0-9a-f]{64}", sha):
            return None
        paths = (self.folder / (sha + ending) for ending in kinds.ENDINGS.values())
        return next((path for path in paths if path.is_file()), None)

    def photos(self) -> list[Stored]:
        """Every photo in the store, by hash."""
        try:
            with os.scandir(self.folder) as listing:
                named = [(_NAME.fullmatch(entry.name), entry) for entry in listing]
                return sorted(Stored(m[1], Path(e.path), e.stat().st_size) for m, e in named if m)
        except FileNotFoundError:
            return []
        except OSError as fault:
            raise errors.unreadable(fault, str(self.folder)) from fault

    def orphans(self, known: set[str]) -> list[Stored]:
        """Photos that nothing refers to: the app died before their event. To be offered, never dropped."""
        return [photo for photo in self.photos() if photo.sha not in known]

    def leftovers(self) -> Leftovers:
        """Clear up what an interrupted write left. A whole photo among it is kept, and then is an orphan to offer.

        For the app's start, before anything is being kept.
        """
        rescued, cleared = [], 0
        folders = (self.folder, self._small_folder, self._receipts)
        for part in sorted(part for folder in folders for part in folder.glob(f".*{PART}")):
            try:
                if part.parent == self.folder:
                    at, by = receipts.by_file(part)
                    rescued.append(self.keep(part.read_bytes(), at, received_by=by))
            except errors.CannotTake:
                pass  # a piece of a photo: whoever wrote it was never told that it is kept
            except (OSError, errors.PhotoError):
                continue
            part.unlink(missing_ok=True)
            cleared += 1
        return Leftovers([kept for kept in rescued if not kept.was_known], cleared)

    # --- small pictures

    def thumbnail(self, sha: str) -> Path:
        """A JPEG of at most 512 px, the right way up; made anew where it is not there. Not for the main thread.

        Raises NotKept, PhotoAltered where the original is not what it was, or another PhotoError.
        """
        small = self._small_path(sha)
        if not _is_whole_jpeg(small):
            data = read_photo(self.path(sha))
            if hashlib.sha256(data).hexdigest() != sha:
                raise errors.say(errors.PhotoAltered, sha[:12], "its hash is another one")
            self._make_folders()
            if not self._put_small(sha, look_at(data, sha[:12]).small):
                raise errors.say(errors.StorageFull, f"the small picture of {sha[:12]}")
        return small

    def _small_path(self, sha: str) -> Path:
        return self._small_folder / f"{sha}.jpg"

    # --- off the main thread

    def later(self, work: Callable[[], T], callback: Callable[[T | errors.PhotoError], None]) -> None:
        """Do `work` on the store's thread; `callback` gets its result or the PhotoError, through `deliver`."""

        def run() -> None:
            try:
                result: T | errors.PhotoError = work()
            except errors.PhotoError as fault:
                result = fault
            self._deliver(lambda: callback(result))

        with self._lock:
            if self._worker is None:
                self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="photos")
            self._worker.submit(run)

    def keep_later(self, source: Path | bytes, received: str, callback: Callable[[Kept | errors.PhotoError], None],
                   name: str = "", received_by: str = NOTED) -> None:  # fmt: skip
        """`keep` on the store's thread."""
        self.later(lambda: self.keep(source, received, name, received_by), callback)

    def thumbnail_later(self, sha: str, callback: Callable[[Path | errors.PhotoError], None]) -> None:
        """`thumbnail` on the store's thread."""
        self.later(lambda: self.thumbnail(sha), callback)

    def close(self) -> None:
        """Finish what was begun and let the thread go."""
        with self._lock:
            worker, self._worker = self._worker, None
        if worker is not None:
            worker.shutdown()


def read_photo(path: Path) -> bytes:
    """The bytes of a file that may be a photo. Raises a CannotTake."""
    try:
        about = path.stat()  # before it is opened: opening a pipe would wait for somebody to write
        if not stat.S_ISREG(about.st_mode):
            raise errors.say(errors.NotAFile, path.name or str(path))
        if about.st_size > kinds.MOST_BYTES:
            raise too_many_bytes(about.st_size, path.name)
        return path.read_bytes()
    except OSError as fault:
        raise errors.unreadable(fault, path.name or str(path)) from fault
    except ValueError as fault:  # a NUL in a path
        raise errors.say(errors.NoSuchPhoto, repr(str(path))) from fault


def hash_of(path: Path) -> str:
    """The SHA-256 of a file's bytes."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _gap_remark(data: bytes, name: str) -> str:
    """What is odd about the picture itself, in words; empty where nothing is."""
    if not (words := gap_words(data)):
        return ""
    again = "look at it closely, and take it again where a part is grey or shifted. It is kept as it came."
    return f"{name} holds {words}: {again}"


def _is_whole_jpeg(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            file.seek(-2, os.SEEK_END)
            return file.read(2) == _JPEG_END
    except OSError:
        return False
