"""Packs as files: where they lie, what they are called, and making and taking in, each on a journal of its own.

A journal is for one thread. What is done beside the main thread opens the file anew and closes it again.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from checklists.words import how_many
from mobileapp.journal.store import open_journal
from mobileapp.packs import Contents, Packed, Unpacked, check_pack, unpack, write_backup, write_pack
from mobileapp.packs.words import awaited_words
from mobileapp.photos.store import PhotoStore, beside

ENDING = ".countback.zip"


class PackFile(NamedTuple):
    """A file that may be a pack."""

    path: str
    name: str
    size: int
    changed: float


def found_in(folders: Iterable[Path]) -> list[PackFile]:
    """Every file with the ending of a pack, newest first. A folder that cannot be read holds none."""
    found = []
    for folder in folders:
        try:
            with os.scandir(folder) as listing:
                named = [one for one in listing if one.name.endswith(ENDING) and not one.name.startswith(".")]
                found += [PackFile(one.path, one.name, one.stat().st_size, one.stat().st_mtime) for one in named]
        except OSError:
            continue
    return sorted(found, key=lambda file: (-file.changed, file.name))


def size_words(size: int) -> str:
    """A size in words: "2.4 MB"."""
    return f"{size / 1_000_000:.1f} MB" if size >= 100_000 else f"{max(1, round(size / 1000))} kB"


def plain_name(name: str) -> str:
    """A name that every file system takes."""
    return "".join(letter if letter.isalnum() or letter in "-_" else "-" for letter in name)


def export(journal: Path, teardown: str, target: Path, without_lost: bool) -> Packed:
    """Put one teardown into a pack."""
    target.parent.mkdir(parents=True, exist_ok=True)
    with open_journal(journal) as ours:
        store = PhotoStore(beside(journal))
        return write_pack(ours, store, teardown, target, without_lost=without_lost, replace=True)


def back_up(journal: Path, target: Path) -> Packed:
    """Put everything into one file."""
    target.parent.mkdir(parents=True, exist_ok=True)
    with open_journal(journal) as ours:
        return write_backup(ours, PhotoStore(beside(journal)), target, replace=True)


def look_into(pack: Path) -> Contents:
    """What a pack holds; nothing of it is taken in."""
    return check_pack(pack)


def take_in(pack: Path, journal: Path) -> Unpacked:
    """Take a pack or a backup in."""
    with open_journal(journal) as ours:
        return unpack(pack, ours, PhotoStore(beside(journal)))


# --- in words


def entry_words(count: int, kind: str = "") -> str:
    """So many entries."""
    return f"{count} {kind}{'entry' if count == 1 else 'entries'}"


def packed_words(done: Packed) -> list[str]:
    """What a pack holds that was just written."""
    held = [how_many(done.teardowns, "teardown"), entry_words(done.entries), how_many(done.photos, "photo")]
    return [f"{', '.join(held)}, {size_words(done.size)}.", *_awaited(done.awaited), *lacking_words(done.lacking)]


def contents_words(contents: Contents) -> list[str]:
    """What a pack holds that was looked into."""
    held = contents.manifest.teardowns
    entries = sum(one.entries for one in held)
    phones = len({chain.device for one in held for chain in one.heads})
    said = [how_many(len(held), "teardown"), entry_words(entries), how_many(contents.photos, "photo")]
    return [f"{', '.join(said)}, from {how_many(phones, 'phone')}.", "Verified to the last byte: nothing is wrong.",
            *_awaited(contents.awaited), *lacking_words(contents.manifest.lacking)]  # fmt: skip


def unpacked_words(done: Unpacked) -> list[str]:
    """What a pack brought."""
    if not done.new_entries and not done.new_photos:
        return ["Everything in it was here already. Nothing changed."]
    new = sum(not news.was_known for news in done.teardowns)
    merged = sum(news.was_known and news.new_entries > 0 for news in done.teardowns)
    said = [f"{entry_words(done.new_entries, 'new ')}, {how_many(done.new_photos, 'new photo')}."]
    said += _awaited(done.awaited)
    said += [f"{how_many(new, 'teardown')} new on this phone."] if new else []
    said += [f"{how_many(merged, 'teardown')} merged with what another phone recorded."] if merged else []
    return said + lacking_words(done.lacking)


def _awaited(number: int) -> list[str]:
    return [awaited_words(number)] if number else []


def lacking_words(lacking: tuple[str, ...]) -> list[str]:
    """Photos that are named and not there."""
    return [f"Without the photo {sha[:12]}: it was lost. Look for it on the phone that took it." for sha in lacking]
