"""A photo is kept as it came, by its hash, with what the camera wrote."""

import hashlib
import io
import os
import stat

import exifread
import piexif
import pytest
from photos.photo_maker import OFFSET, TAKEN, encoded, exif_block, held, jpeg, scene
from PIL import Image

from checklists.account.writing import taken as written_as
from mobileapp.photos import Stored

NOW = "2026-03-02T09:00:00.000+01:00"


def test_the_original_is_kept_byte_for_byte_under_its_hash(store, tmp_path):
    source = tmp_path / "inlet-2.jpg"
    source.write_bytes(jpeg(exif=exif_block()))
    kept = store.keep(source, NOW)
    assert kept.sha == hashlib.sha256(source.read_bytes()).hexdigest()
    assert store.path(kept.sha).read_bytes() == source.read_bytes()
    assert (kept.media, kept.width, kept.height, kept.size) == ("image/jpeg", 640, 480, source.stat().st_size)
    assert (kept.name, kept.received, kept.remark, kept.was_known) == ("inlet-2.jpg", NOW, "", False)
    assert store.has(kept.sha)
    assert not store.has("0" * 64)


def test_an_original_cannot_be_turned_by_mistake_in_a_picture_viewer(store):
    kept = store.keep(jpeg(), NOW)
    assert not stat.S_IMODE(store.path(kept.sha).stat().st_mode) & 0o222


def test_the_cameras_own_time_with_its_offset(store):
    kept = store.keep(jpeg(exif=exif_block()), NOW)
    assert kept.taken == TAKEN + OFFSET
    assert kept.taken_words == "taken 2026:03:02 08:15:30 (+01:00) by the camera's clock"


def test_the_cameras_own_time_without_an_offset_says_so(store):
    kept = store.keep(jpeg(exif=exif_block(offset="")), NOW)
    assert kept.taken == TAKEN
    assert kept.taken_words == "taken 2026:03:02 08:15:30 by the camera's clock, which gave no time zone"


@pytest.mark.parametrize(
    "block", [b"", exif_block(taken=""), exif_block(taken="    :  :     :  :  "), exif_block(taken="yesterday"),
              exif_block()[:40], b"Exif\x00\x00" + b"\xff" * 60]
)  # fmt: skip
def test_a_camera_that_wrote_no_time_is_said_to_have_written_none(store, block):
    kept = store.keep(jpeg(exif=block), NOW)
    assert (kept.taken, kept.taken_words) == ("", "the camera wrote no time")


def test_an_independent_reader_finds_the_same_in_the_kept_file(store):
    """Ids of CIPA DC-008: DateTimeOriginal 0x9003, OffsetTimeOriginal 0x9011, Orientation 0x0112."""
    kept = store.keep(held(6), NOW)
    with store.path(kept.sha).open("rb") as file:
        tags = exifread.process_file(file, details=False)
    when, offset = tags["EXIF DateTimeOriginal"], tags["EXIF OffsetTimeOriginal"]
    assert (when.tag, offset.tag, tags["Image Orientation"].tag) == (0x9003, 0x9011, 0x0112)
    assert kept.taken == f"{when}{offset}"
    assert tags["Image Orientation"].values == [kept.orientation] == [6]


def test_the_ids_piexif_writes_are_those_of_the_standard():
    assert (piexif.ExifIFD.DateTimeOriginal, piexif.ExifIFD.OffsetTimeOriginal) == (0x9003, 0x9011)
    assert piexif.ImageIFD.Orientation == 0x0112


@pytest.mark.parametrize("orientation", range(1, 9))
def test_the_small_picture_is_the_right_way_up_however_the_camera_was_held(store, orientation):
    kept = store.keep(held(orientation), NOW)
    with Image.open(store.thumbnail(kept.sha)) as small:
        assert small.size == (512, 384)
        corners = [small.getpixel(spot) for spot in ((20, 20), (490, 20), (20, 360), (490, 360))]
        assert not small.getexif()
    red = [r > 180 and g < 80 and b < 80 for r, g, b in corners]
    assert red == [True, False, False, False]


@pytest.mark.parametrize(
    ("kind", "media", "ending"),
    [("JPEG", "image/jpeg", ".jpg"), ("PNG", "image/png", ".png"), ("WEBP", "image/webp", ".webp")],
)
def test_the_kinds_that_are_kept(store, kind, media, ending):
    kept = store.keep(encoded(kind, exif=exif_block()), NOW)
    assert (kept.media, store.path(kept.sha).suffix, kept.taken) == (media, ending, TAKEN + OFFSET)


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "RGBA", "I;16", "CMYK"])
def test_every_mode_of_picture_gets_its_small_picture(store, mode):
    kind = "JPEG" if mode == "CMYK" else "PNG"
    picture = Image.new("I;16", (64, 48), 40_000) if mode == "I;16" else scene(64, 48).convert(mode)
    kept = store.keep(encoded(kind, picture), NOW)
    with Image.open(store.thumbnail(kept.sha)) as small:
        assert small.size == (64, 48)
        assert small.mode == ("L" if mode in ("L", "I;16") else "RGB")


def test_a_progressive_photo(store):
    assert store.keep(jpeg(progressive=True), NOW).width == 640


def test_a_phone_that_writes_two_pictures_in_one_file(store):
    out = io.BytesIO()
    scene().save(out, "MPO", save_all=True, append_images=[scene(seed=2)])
    kept = store.keep(out.getvalue(), NOW)
    assert (kept.media, kept.width) == ("image/jpeg", 640)


@pytest.mark.parametrize(
    ("name", "remark"),
    [
        ("hole.jpg", "hole.jpg is named .jpg but is a PNG picture; it is kept as that."),
        ("hole", "hole is named without an ending but is a PNG picture; it is kept as that."),
        ("hole.PNG", ""),
    ],
)
def test_a_wrongly_named_photo_is_kept_as_what_it_is_and_that_is_said(store, tmp_path, name, remark):
    (tmp_path / name).write_bytes(encoded("PNG"))
    kept = store.keep(tmp_path / name, NOW)
    assert (kept.media, kept.remark) == ("image/png", remark)


def test_the_same_photo_again_is_known_and_written_once(store):
    first, again = store.keep(jpeg(), NOW), store.keep(jpeg(), NOW)
    assert again == first._replace(was_known=True)
    assert [photo.sha for photo in store.photos()] == [first.sha]


def test_keeping_it_again_mends_a_spoilt_original(store):
    kept = store.keep(jpeg(), NOW)
    path = store.path(kept.sha)
    path.chmod(0o644)
    path.write_bytes(b"spoilt")
    assert not store.keep(jpeg(), NOW).was_known
    assert path.read_bytes() == jpeg()


def test_photos_that_nothing_refers_to_are_found(store):
    referred, orphan = store.keep(jpeg(), NOW), store.keep(encoded("PNG"), NOW)
    assert store.orphans({referred.sha}) == [Stored(orphan.sha, store.path(orphan.sha), orphan.size)]
    (store.folder / "notes.txt").write_text("not ours")
    assert len(store.orphans(set())) == 2


def test_a_store_without_a_folder_is_empty(store):
    assert store.photos() == []
    assert store.leftovers() == ([], 0)


def test_leftovers_of_an_interrupted_write_are_cleared_and_whole_photos_among_them_rescued(store):
    kept = store.keep(jpeg(), NOW)
    whole = jpeg(scene(seed=7))
    for name, data in (("a", whole), ("b", whole[:-9]), ("c", jpeg()), ("d", b"")):
        (store.folder / f".{name}.part").write_bytes(data)
    (store.folder / "small" / ".e.part").write_bytes(whole)
    found = store.leftovers()
    assert (len(found.rescued), found.cleared) == (1, 5)
    assert store.path(found.rescued[0].sha).read_bytes() == whole
    assert [orphan.sha for orphan in store.orphans({kept.sha})] == [found.rescued[0].sha]
    assert not [name for name in os.listdir(store.folder) if name.endswith(".part")]


@pytest.mark.parametrize("taken", ["2026:13:45 99:99:99", "2026:02:30 08:15:30", "0000:00:00 00:00:00"])
def test_a_time_that_cannot_be_is_said_to_be_unreadable(store, taken):
    kept = store.keep(jpeg(exif=exif_block(taken=taken, offset="")), NOW)
    assert kept.taken_words == f"the time that the camera wrote is unreadable: {taken}"
    assert written_as(kept.taken) == f"The time that the camera wrote is unreadable: {taken}"


def test_an_offset_that_cannot_be_is_said_to_be_unreadable(store):
    kept = store.keep(jpeg(exif=exif_block(offset="+99:99")), NOW)
    assert "unreadable" in kept.taken_words
    assert "unreadable" in written_as(kept.taken)
