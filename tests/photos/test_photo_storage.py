"""Storage that is full, read-only or spoilt while a photo is kept: nothing half kept, and a clear answer."""

import contextlib
import errno
import os
import resource
import subprocess
import sys
import threading

import pytest
from photos.photo_maker import jpeg, scene
from PIL import Image

from mobileapp.photos import PhotoStore, errors

NOW = "2026-03-02T09:00:00.000+01:00"


@contextlib.contextmanager
def small_storage(folder, size):
    """A real small file system at `folder`. Needs root; skips where it cannot be had."""
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={size}", "countback-test", str(folder)]
    if os.geteuid() != 0 or subprocess.run(command, capture_output=True).returncode:
        pytest.skip("mounting a small file system needs root")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def files(folder):
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


def test_a_full_card(tmp_path):
    """A real small file system; when space is made, the same photo is kept."""
    large = jpeg(scene(2400, 1800), quality=95)
    with small_storage(tmp_path / "card", "1m") as card:
        store = PhotoStore(card / "kept-photos")
        first = store.keep(jpeg(), NOW)
        ballast = card / "holiday.mov"
        ballast.write_bytes(bytes(1_000_000 - first.size - len(large) // 2))
        before = files(store.folder)
        with pytest.raises(
            errors.StorageFull, match=r"so the photo was not kept\. Free some space, then take"
        ):
            store.keep(large, NOW)
        assert files(store.folder) == before
        ballast.unlink()
        assert store.path(store.keep(large, NOW).sha).read_bytes() == large


FULL = """
import resource, sys
from pathlib import Path
from mobileapp.photos import PhotoStore, errors
store, data = PhotoStore(sys.argv[1]), Path(sys.argv[2]).read_bytes()
resource.setrlimit(resource.RLIMIT_FSIZE, (len(data) // 2, resource.RLIM_INFINITY))
try:
    store.keep(data, "now")
except errors.StorageFull as fault:
    print(fault)
"""


def test_no_room_for_half_of_it(tmp_path):
    """The same by a limit that any machine can set, in a process of its own."""
    source = tmp_path / "large.jpg"
    source.write_bytes(jpeg(scene(1600, 1200), quality=95))
    store = PhotoStore(tmp_path / "kept-photos")
    command = [sys.executable, "-c", FULL, str(store.folder), str(source)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.startswith("The storage is full, so the photo was not kept.")
    assert files(store.folder) == []
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] == resource.RLIM_INFINITY


def test_a_card_that_turned_read_only(tmp_path):
    with small_storage(tmp_path / "card", "4m") as card:
        store = PhotoStore(card / "kept-photos")
        kept = store.keep(jpeg(), NOW)
        subprocess.run(["mount", "-o", "remount,ro", str(card)], check=True)
        with pytest.raises(errors.StorageReadOnly, match=r"its folder cannot be written .* Make it writable"):
            store.keep(jpeg(scene(seed=2)), NOW)
        assert store.keep(jpeg(), NOW) == kept._replace(
            was_known=True
        )  # what is there already needs no writing


class Storage:
    """Synchronises for real and notes what; at the `fails`th time the card fails."""

    def __init__(self, fails=0):
        self.synced, self._fails = [], fails

    def __call__(self, handle):
        self.synced.append(os.readlink(f"/proc/self/fd/{handle}"))
        if len(self.synced) == self._fails:
            raise OSError(errno.EIO, "Input/output error")
        os.fsync(handle)


@pytest.mark.skipif(not os.path.isdir("/proc/self/fd"), reason="needs /proc to tell which file is synchronised")
def test_a_photo_that_was_left_in_place_but_not_made_durable_is_made_so_by_the_next_try(tmp_path):
    """Its rename was done and the card failed at the folder: nobody may be told "kept" before the folder is synced."""
    folder = tmp_path / "kept-photos"
    counting = Storage()
    PhotoStore(folder, sync=counting).keep(jpeg(), NOW)
    assert counting.synced[-1] == str(folder)
    failing = Storage(fails=len(counting.synced))
    second = jpeg(scene(seed=2))
    store = PhotoStore(folder, sync=failing)
    with pytest.raises(errors.PhotoError, match="was not kept"):
        store.keep(second, NOW)
    failing.synced.clear()
    assert store.keep(second, NOW).was_known
    assert str(folder) in failing.synced


@pytest.mark.skipif(not os.path.isdir("/proc/self/fd"), reason="needs /proc to tell which file is synchronised")
def test_the_folders_themselves_are_made_durable_once_by_each_process(tmp_path):
    """A process may have been stopped between making them and synchronising them."""
    folder = tmp_path / "kept-photos"
    (folder / "small").mkdir(parents=True)
    storage = Storage()
    store = PhotoStore(folder, sync=storage)
    store.keep(jpeg(), NOW)
    assert {str(folder), str(tmp_path)} < set(storage.synced)
    storage.synced.clear()
    store.keep(jpeg(scene(seed=2)), NOW)
    assert str(tmp_path) not in storage.synced


def test_a_file_where_the_folder_should_be(tmp_path):
    (tmp_path / "kept-photos").write_text("not a folder")
    with pytest.raises(errors.StorageReadOnly, match="the photo was not kept"):
        PhotoStore(tmp_path / "kept-photos").keep(jpeg(), NOW)
    assert (tmp_path / "kept-photos").read_text() == "not a folder"


def test_a_lost_or_torn_small_picture_is_made_anew(store):
    kept = store.keep(jpeg(scene(1600, 1200)), NOW)
    small = store.thumbnail(kept.sha)
    whole = small.read_bytes()
    for spoil in (small.unlink, lambda: small.write_bytes(b""), lambda: small.write_bytes(whole[:-40])):
        spoil()
        assert store.thumbnail(kept.sha) == small
        assert small.read_bytes() == whole
    with Image.open(small) as picture:
        assert (picture.format, picture.size) == ("JPEG", (512, 384))


def test_a_small_picture_of_an_altered_or_missing_photo_is_refused(store):
    kept = store.keep(jpeg(), NOW)
    store.thumbnail(kept.sha).unlink()
    path = store.path(kept.sha)
    path.chmod(0o644)
    path.write_bytes(jpeg(scene(seed=3)))
    with pytest.raises(
        errors.PhotoAltered, match=r"was altered after it was kept .*Put it back from a backup"
    ):
        store.thumbnail(kept.sha)
    path.unlink()
    with pytest.raises(errors.NotKept, match=f"The photo {kept.sha[:12]} is not in the store"):
        store.thumbnail(kept.sha)
    for odd in ("", "inside.jpg", "../" + kept.sha, kept.sha.upper()):
        assert not store.has(odd)
        with pytest.raises(errors.NotKept):
            store.path(odd)


class MainThread:
    """Takes what the store delivers and does it when the test, as the main thread, says so."""

    def __init__(self):
        self.acts = []
        self.arrived = threading.Semaphore(0)

    def __call__(self, act):
        self.acts.append((threading.current_thread(), act))
        self.arrived.release()

    def do_one(self):
        assert self.arrived.acquire(timeout=10)
        thread, act = self.acts.pop(0)
        assert thread is not threading.main_thread()
        act()


def test_keeping_and_small_pictures_off_the_main_thread(tmp_path):
    main, got = MainThread(), []
    store = PhotoStore(tmp_path / "kept-photos", deliver=main)
    store.keep_later(jpeg(), NOW, got.append, "hole.jpg")
    main.do_one()
    store.thumbnail_later(got[0].sha, got.append)
    main.do_one()
    store.keep_later(b"", NOW, got.append)
    main.do_one()
    store.thumbnail_later("0" * 64, got.append)
    main.do_one()
    kept, small, empty, gone = got
    assert (kept.name, store.path(kept.sha).read_bytes()) == ("hole.jpg", jpeg())
    assert small == store.thumbnail(kept.sha)
    assert [type(fault) for fault in (empty, gone)] == [errors.EmptyPhoto, errors.NotKept]
    store.close()
    store.keep_later(jpeg(), NOW, got.append)  # it can be used again after
    main.do_one()
    store.close()
    assert got[-1].was_known


def test_several_threads_keep_the_same_photo_at_once(store):
    kept = []
    threads = [threading.Thread(target=lambda: kept.append(store.keep(jpeg(), NOW))) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(one.was_known for one in kept) == [False] + [True] * 5
    assert len(store.photos()) == 1
    assert store.leftovers() == ([], 0)
