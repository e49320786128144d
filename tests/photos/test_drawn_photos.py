"""Photos drawn for the demo: they go the way of any photo, and nobody can take one for a real one."""

import io

import exifread
from PIL import Image

from mobileapp.photos.drawn import drawn

AT = "2026-03-02T08:15:30.250+01:00"
BAND = (240, 228, 66)


def test_a_drawn_photo_is_kept_like_any_other(store):
    kept = store.keep(drawn("inlet 2, closeout", AT), AT)
    assert (kept.media, kept.width, kept.height, kept.taken) == ("image/jpeg", 960, 720, "2026:03:02 08:15:30+01:00")
    tags = exifread.process_file(io.BytesIO(store.path(kept.sha).read_bytes()), details=False)
    assert str(tags["EXIF DateTimeOriginal"]) == "2026:03:02 08:15:30"
    assert str(tags["EXIF OffsetTimeOriginal"]) == "+01:00"


def test_the_same_words_at_the_same_time_are_the_same_photo_and_others_are_not():
    assert drawn("inlet 2", AT) == drawn("inlet 2", AT)
    later = AT.replace("T08", "T09")
    assert len({drawn(words, at) for words in ("inlet 1", "inlet 2", "µ и 漢") for at in (AT, later)}) == 6


def test_the_band_that_says_demo_is_still_seen_in_the_small_picture(store):
    small = Image.open(store.thumbnail(store.keep(drawn("inlet 2", AT), AT).sha))
    width, height = small.size
    band = small.crop((0, int(height * 0.8), width, height)).tobytes()
    pixels = zip(band[::3], band[1::3], band[2::3], strict=True)
    yellow = [all(abs(a - b) < 40 for a, b in zip(pixel, BAND, strict=True)) for pixel in pixels]
    assert sum(yellow) / len(yellow) > 0.6
