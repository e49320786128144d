"""What is not a photo, or no whole one, gets a clear answer, and nothing of it is kept."""

import contextlib
import os

import pytest
from photos.photo_maker import encoded, jpeg, scene
from PIL import Image

from mobileapp.photos import errors

NOW = "2026-03-02T09:00:00.000+01:00"
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 200


def refused(store, source, kind, words):
    """The source is refused with these words, and the store is as it was."""
    with pytest.raises(kind, match=words) as caught:
        store.keep(source, NOW)
    assert type(caught.value) is kind
    assert store.photos() == []
    assert store.leftovers() == ([], 0)


@pytest.mark.parametrize(
    ("content", "kind", "words"),
    [
        (b"", errors.EmptyPhoto, r"is empty \(0 bytes\).*Take the photo again"),
        (b"a shopping list", errors.NotAPhoto, "not a photo .* Choose a JPEG, PNG or WebP"),
        (HEIC, errors.UnknownKind, "is a HEIC file; Countback keeps JPEG, PNG and WebP. Save it as JPEG"),
        (encoded("GIF"), errors.UnknownKind, "is a GIF file"),
        (encoded("BMP"), errors.UnknownKind, "is a BMP file"),
        (encoded("TIFF"), errors.UnknownKind, "is a TIFF or raw file"),
        (b"\x00\x00\x00\x18ftypmp42" + b"\x00" * 50, errors.UnknownKind, "is a film file"),
        (b"\xff\xd8\xff\xe0 and then nothing", errors.DamagedPhoto, "its head cannot be read"),
        (
            b"\x89PNG\r\n\x1a\n" + b"\x00" * 99,
            errors.DamagedPhoto,
            "its checksums do not fit, or its end is missing",
        ),
        (encoded("PNG")[:-1], errors.DamagedPhoto, "its checksums do not fit, or its end is missing"),
    ],
)
def test_a_file_that_cannot_be_taken(store, tmp_path, content, kind, words):
    source = tmp_path / "inlet-2.jpg"
    source.write_bytes(content)
    refused(store, source, kind, f"^inlet-2.jpg .*{words}")
    assert source.read_bytes() == content


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("part", [0.02, 0.3, 0.6, 0.9, 0.999])
def test_a_photo_cut_off_anywhere(store, kind, part):
    whole = encoded(kind)
    refused(
        store,
        whole[: int(len(whole) * part)],
        errors.DamagedPhoto,
        "damaged or cut off .*Take the photo again",
    )


@pytest.mark.parametrize("lacks", [1, 2, 3, 20])
@pytest.mark.parametrize("progressive", [False, True])
def test_a_photo_that_lacks_its_last_bytes(store, lacks, progressive):
    refused(store, jpeg(progressive=progressive)[:-lacks], errors.DamagedPhoto, "damaged or cut off")


def test_a_png_with_a_flipped_bit_in_its_picture(store):
    data = bytearray(encoded("PNG"))
    data[len(data) // 2] ^= 0x10
    refused(store, bytes(data), errors.DamagedPhoto, "damaged")


def test_a_photo_of_a_hundred_megapixels(store):
    huge = jpeg(Image.new("L", (10_000, 10_000), 90), quality=30)
    refused(
        store,
        huge,
        errors.TooLarge,
        r"too large \(.*at most 64 are kept of a JPEG\)\. Set the camera to smaller",
    )


def test_a_photo_just_over_the_stated_limit_and_one_within_it(store):
    refused(
        store,
        jpeg(Image.new("L", (8000, 8001)), quality=30),
        errors.TooLarge,
        "64 megapixels; at most 64 are",
    )
    assert store.keep(jpeg(Image.new("L", (8000, 8000)), quality=30), NOW).width == 8000


def test_a_small_file_that_unpacks_to_a_giant(store):
    """Pillow's own guard against such bombs speaks first; it is told in our words all the same."""
    bomb = encoded("PNG", Image.new("1", (15_000, 15_000)))
    assert len(bomb) < 100_000
    refused(store, bomb, errors.TooLarge, "at most 32 are kept of a PNG")


def test_a_file_of_too_many_bytes_is_not_even_read(store, tmp_path):
    source = tmp_path / "film.jpg"
    with source.open("wb") as file:
        file.truncate(200_000_000)
    refused(store, source, errors.TooLarge, r"200 MB; at most 64 MB are kept")
    refused(store, b"\xff\xd8\xff" + bytes(64_000_000), errors.TooLarge, "at most 64 MB")


def test_no_such_file(store, tmp_path):
    refused(store, tmp_path / "gone.jpg", errors.NoSuchPhoto, "no file gone.jpg")
    refused(store, tmp_path / "no" / "where.jpg", errors.NoSuchPhoto, "no file where.jpg")
    refused(store, tmp_path / "a\x00b.jpg", errors.NoSuchPhoto, "no file")


def test_a_folder_and_a_pipe(store, tmp_path):
    refused(store, tmp_path, errors.NotAFile, "is a folder or a device.*Choose the file in it")
    os.mkfifo(tmp_path / "pipe.jpg")
    refused(store, tmp_path / "pipe.jpg", errors.NotAFile, "is a folder or a device")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read anything")
def test_a_file_that_may_not_be_read(store, tmp_path):
    source = tmp_path / "locked.jpg"
    source.write_bytes(jpeg())
    source.chmod(0)
    refused(store, source, errors.NotReadable, "cannot be read.*Allow it")


def test_flipped_bytes_in_a_jpeg_are_refused_or_kept_as_they_are_but_never_stop_the_app(store):
    """A JPEG has no checksums: where it still decodes it is kept as it came, and its hash vouches from then on."""
    whole, outcomes = jpeg(scene(160, 120)), []
    for spot in range(0, len(whole), 37):
        data = bytearray(whole)
        data[spot] ^= 0xFF
        with contextlib.suppress(errors.DamagedPhoto, errors.NotAPhoto, errors.TooLarge):
            kept = store.keep(bytes(data), NOW)
            assert store.path(kept.sha).read_bytes() == data
            outcomes.append(kept)
    assert len(outcomes) > 10


def test_a_progressive_jpeg_too_large_to_decode_on_a_phone_is_refused_before_it_is_decoded(store):
    large = Image.new("L", (6000, 4100), 90)
    words = r"24\.6 megapixels in a progressive JPEG; at most 24 are kept of a progressive one"
    refused(store, jpeg(large, progressive=True), errors.TooLarge, words)
    assert store.keep(jpeg(large), NOW).width == 6000, "a plain one is decoded small"


def test_a_progressive_jpeg_of_a_usual_size_is_kept(store):
    assert store.keep(jpeg(progressive=True), NOW).media == "image/jpeg"
