"""A photo store in a folder of its own."""

import pytest

from mobileapp.photos import PhotoStore


@pytest.fixture
def store(tmp_path):
    """An empty store."""
    photos = PhotoStore(tmp_path / "kept-photos")
    yield photos
    photos.close()
