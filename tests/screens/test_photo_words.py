"""How a photo is called in few letters."""

import pytest

from mobileapp.screens.photo_words import short_name


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("port.jpg", "port.jpg"),
        ("IMG_0001-port2.jpg", "IMG_0001-port2.jpg"),
        ("IMG_20260302_081530.jpg", "IMG_20260…1530.jpg"),
        ("a-rather-long-name-of-a-photo-20260302-081530.jpg", "a-rather-…1530.jpg"),
    ],
)
def test_a_long_name_keeps_both_ends(name: str, shown: str) -> None:
    assert short_name(name) == shown
    assert len(shown) <= 18
