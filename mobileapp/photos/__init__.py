"""Photos: kept by their hash, looked at before they are kept, and proven afterwards."""

from __future__ import annotations

from mobileapp.photos.errors import PhotoError
from mobileapp.photos.store import Kept, Leftovers, PhotoStore, Stored, beside

__all__ = ["Kept", "Leftovers", "PhotoError", "PhotoStore", "Stored", "beside"]
