"""Sharing a file as a port: the phone offers it to other apps, a desktop says where it is."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

PDF, PACK = "application/pdf", "application/zip"
OFFERED = "Offered to the other apps on this phone. It stays here as well: {where}"


def where(path: Path) -> str:
    """Where a file is, in words that break into lines: its name, and its folders one after the other."""
    return f"{path.name} in {' / '.join(path.parent.parts[1:])}"


def not_offered(path: Path, detail: str) -> str:
    """The words where no other app can be asked."""
    return f"It could not be offered to another app ({detail}). Copy it from here: {where(path)}"


class Share(Protocol):
    """Gives a file to whatever the person chooses."""

    def file(self, path: Path, media: str, title: str) -> str:
        """Offer the file; what came of it, in words for the screen."""


class DesktopShare:
    """On a desktop a file is taken from its folder."""

    def file(self, path: Path, media: str, title: str) -> str:
        """Say where it is."""
        return f"It is ready: {where(path)}"
