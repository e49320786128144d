"""Real photographs, not only drawn ones: kept byte for byte, with what their EXIF says by an independent reader."""

from __future__ import annotations

import hashlib
import io

import exifread
import pytest
from photos.photo_maker import OFFSET, TAKEN, exif_block
from photos.real_photos import NAMES, real_photo, resaved
from PIL import Image, ImageOps

NOW = "2026-03-02T09:00:00.000+01:00"


@pytest.mark.parametrize("name", NAMES)
def test_a_real_photo_is_kept_byte_for_byte_and_its_missing_time_is_said(store, name):
    kept = store.keep(real_photo(name), NOW)
    assert kept.sha == hashlib.sha256(real_photo(name)).hexdigest()
    assert store.path(kept.sha).read_bytes() == real_photo(name)
    with Image.open(io.BytesIO(real_photo(name))) as picture:
        assert (kept.media, kept.width, kept.height) == ("image/jpeg", *picture.size)
    assert not exifread.process_file(io.BytesIO(real_photo(name)), details=False).get("EXIF DateTimeOriginal")
    assert kept.taken_words == "the camera wrote no time"


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_real_photo_lies_the_right_way_up_and_keeps_the_time_of_its_camera(store, orientation):
    photo = resaved("rocket.jpg", exif_block(orientation=orientation))
    kept = store.keep(photo, NOW)
    with store.path(kept.sha).open("rb") as file:
        tags = exifread.process_file(file, details=False)
    assert tags["Image Orientation"].values == [orientation] == [kept.orientation]
    assert kept.taken == f"{tags['EXIF DateTimeOriginal']}{tags['EXIF OffsetTimeOriginal']}" == TAKEN + OFFSET
    with Image.open(io.BytesIO(photo)) as picture, Image.open(store.thumbnail(kept.sha)) as small:
        upright = ImageOps.exif_transpose(picture).convert("L").resize((24, 24))
        seen = small.convert("L").resize((24, 24))
    apart = [abs(a - b) for a, b in zip(upright.tobytes(), seen.tobytes(), strict=True)]
    assert sum(apart) / len(apart) < 6, "the small picture shows what the upright photo shows"
