"""What kind of picture a file is, by its first bytes: a name proves nothing."""

from __future__ import annotations

from pathlib import PurePath

JPEG, PNG, WEBP = "image/jpeg", "image/png", "image/webp"
#: The kinds that are kept, and the ending each gets in the store.
ENDINGS = {JPEG: ".jpg", PNG: ".png", WEBP: ".webp"}
WORDS = {JPEG: "JPEG", PNG: "PNG", WEBP: "WebP"}
_NAMED = {".jpg": JPEG, ".jpeg": JPEG, ".jpe": JPEG, ".png": PNG, ".webp": WEBP}
#: How the names end of files that a folder or a chooser offers: of the kinds that are kept, and no others.
OFFERED = tuple(_NAMED)

#: Most megapixels of each kind. A JPEG is decoded small; the others must be decoded whole, which a phone has to bear.
MOST_MEGAPIXELS = {JPEG: 64, PNG: 32, WEBP: 32}
MOST_BYTES = 64_000_000

_OTHERS = (
    (0, b"GIF8", "GIF"), (0, b"BM", "BMP"), (0, b"II*\x00", "TIFF or raw"), (0, b"MM\x00*", "TIFF or raw"),
    (0, b"%PDF", "PDF"), (0, b"\xff\x0a", "JPEG XL"), (0, b"\x00\x00\x00\x0cJXL ", "JPEG XL"),
    (0, b"\x00\x00\x00\x0cjP  ", "JPEG 2000"), (0, b"RIFF", "sound or film"),
)  # fmt: skip
_BRANDS = {b"heic": "HEIC", b"heix": "HEIC", b"heim": "HEIC", b"heis": "HEIC", b"hevc": "HEIC", b"hevx": "HEIC",
           b"mif1": "HEIF", b"msf1": "HEIF", b"avif": "AVIF", b"avis": "AVIF"}  # fmt: skip


def media_of(data: bytes) -> str:
    """The media type of a picture that is kept; empty for anything else."""
    if data[:3] == b"\xff\xd8\xff":
        return JPEG
    if data[:8] == b"\x89PNG\r\n\x1a\n":
        return PNG
    return WEBP if data[:4] == b"RIFF" and data[8:12] == b"WEBP" else ""


def other_kind(data: bytes) -> str:
    """What a file that is not kept seems to be; empty where nothing is known."""
    if data[4:8] == b"ftyp":
        return _BRANDS.get(data[8:12], "film")
    return next((kind for start, magic, kind in _OTHERS if data[start : start + len(magic)] == magic), "")


def name_remark(name: str, media: str) -> str:
    """What is odd about a file's name; empty where it says what the file is."""
    ending = PurePath(name).suffix.lower()
    if not name or _NAMED.get(ending) == media:
        return ""
    odd = f"named {ending}" if ending else "named without an ending"
    return f"{name} is {odd} but is a {WORDS[media]} picture; it is kept as that."
#: A progressive JPEG cannot be decoded small: all of it is held at once, some 6 bytes a pixel (63 MP took 389 MB).
MOST_PROGRESSIVE = 24
