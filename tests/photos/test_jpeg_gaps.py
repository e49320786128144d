"""A JPEG that lost a piece of its middle is kept with a remark; whole ones are kept without."""

import pytest
from photos.photo_maker import exif_block, jpeg, scene
from photos.real_photos import NAMES, real_photo
from PIL import Image

from mobileapp.photos.gaps import LEAST, zeros_in_picture

NOW = "2026-03-02T09:00:00.000+01:00"


def torn(data: bytes, size: int, at: float = 0.6) -> bytes:
    """The same with `size` bytes of its middle as zeros."""
    start = int(len(data) * at)
    return data[:start] + bytes(size) + data[start + size :]


@pytest.mark.parametrize("name", NAMES)
def test_a_photograph_with_a_torn_middle_is_remarked_and_a_whole_one_is_not(store, name):
    whole = real_photo(name)
    assert store.keep(whole, NOW, name).remark == ""
    kept = store.keep(torn(whole, 4096), NOW, name)
    assert kept.remark.startswith(f"{name} holds 40")
    assert "look at it closely" in kept.remark
    assert store.path(kept.sha).read_bytes() == torn(whole, 4096), "kept as it came"


@pytest.mark.parametrize("options", [{}, {"progressive": True}, {"optimize": True}, {"exif": exif_block()}])
def test_however_it_is_coded(options):
    whole = jpeg(scene(1600, 1200), **options)
    assert zeros_in_picture(whole) == 0
    assert zeros_in_picture(torn(whole, LEAST)) >= LEAST


def test_zeros_behind_the_picture_and_in_front_of_it_are_no_gap():
    """Cameras pad files; a maker's own note may hold zeros."""
    whole = jpeg()
    note = b"\xff\xed" + (2002).to_bytes(2, "big") + bytes(2000)
    assert zeros_in_picture(whole + bytes(9000)) == 0
    assert zeros_in_picture(whole[:2] + note + whole[2:]) == 0


def test_an_even_picture_with_tables_of_its_own_is_why_it_is_only_a_remark():
    assert zeros_in_picture(jpeg(Image.new("RGB", (3000, 2000), "white"))) == 0
    assert zeros_in_picture(jpeg(Image.new("RGB", (3000, 2000), "white"), optimize=True)) > LEAST


@pytest.mark.parametrize("data", [b"", b"\xff\xd8", b"\xff\xd8\xff", b"\xff\xd8\xff\xda", b"\xff\xd8\xff\xff\xff\xff"])
def test_the_head_of_a_spoilt_file_harms_nothing(data):
    assert zeros_in_picture(data) == 0
