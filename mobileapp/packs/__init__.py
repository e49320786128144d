"""Packs: a teardown with its photos as one plain zip, to another phone and back; backups are packs of everything.

    write_pack(journal, store, "job-1", "job-1.countback.zip")
    check_pack("job-1.countback.zip")              # verified to the last byte, nothing written
    unpack("job-1.countback.zip", journal, store)  # all of it or nothing; merges what two phones recorded
    write_backup(journal, store, "all.countback.zip")
"""

from __future__ import annotations

from mobileapp.packs.errors import PackError
from mobileapp.packs.taking_in import Contents, News, Unpacked, check_pack, clear_leftovers, unpack
from mobileapp.packs.writing import Packed, write_backup, write_pack

__all__ = [
    "Contents",
    "News",
    "PackError",
    "Packed",
    "Unpacked",
    "check_pack",
    "clear_leftovers",
    "unpack",
    "write_backup",
    "write_pack",
]
