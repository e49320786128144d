"""Packs between two phones by taps: export, look into, take in, merge, back up, restore; every refusal in its words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from screens import touch
from screens.pack_work import MARA, PackWork, exported, sent, takes_in

from checklists.facts import Joined
from mobileapp.device.share import PACK, where


def test_a_teardown_goes_to_another_phone_with_its_photos(ours: PackWork, theirs: PackWork) -> None:
    sha = ours.keeps("teardown:", "baseline", "all.png")
    pack = exported(ours)
    assert ours.says("The pack is written")
    assert ours.says("1 teardown, 2 entries, 1 photo")
    assert ours.says(where(pack))
    sent(pack, theirs)
    theirs.desk.service = None
    theirs.desk.trail = [("teardowns", {})]
    theirs.desk.again()
    touch.show(theirs.shell)
    theirs.tap("Packs and backups")
    theirs.tap(pack.name)
    theirs.done()
    assert theirs.says("Verified to the last byte: nothing is wrong.")
    theirs.act()
    theirs.done()
    assert theirs.says("2 new entries, 1 new photo.")
    assert theirs.store.has(sha)
    theirs.tap("Open harbour workboat, main engine")
    assert theirs.name == "board"
    assert sha in theirs.state.photos


def test_taken_in_twice_nothing_changes(ours: PackWork) -> None:
    pack = exported(ours)
    before = len(ours.entries)
    takes_in(ours, pack.name)
    assert ours.says("Everything in it was here already. Nothing changed.")
    assert len(ours.entries) == before


def test_what_another_phone_added_is_merged_into_the_teardown_in_hand(ours: PackWork, theirs: PackWork) -> None:
    pack = exported(ours)
    sent(pack, theirs)
    takes_in(theirs, pack.name)
    theirs.desk.open(ours.desk.work.id)
    theirs.does(Joined(MARA), "Ada Berg")
    sent(exported(theirs), ours)
    (ours.folder / "packs" / pack.name).unlink()
    takes_in(ours, pack.name)
    assert ours.says("1 teardown merged with what another phone recorded.")
    assert MARA in ours.state.people, "the teardown in hand is up to date"


def test_a_damaged_pack_is_refused_with_what_and_where(ours: PackWork) -> None:
    pack = exported(ours)
    data = bytearray(pack.read_bytes())
    data[len(data) // 2] ^= 0x40
    pack.write_bytes(bytes(data))
    before = len(ours.entries)
    ours.shows("packs")
    ours.tap(pack.name)
    ours.done()
    assert ours.says(f"{pack.name} is damaged or was altered (")
    assert ours.says("Nothing was taken in")
    assert not ours.screen.act_text
    assert len(ours.entries) == before


def test_a_file_of_another_kind_is_refused(ours: PackWork) -> None:
    (ours.folder / "notes.txt").write_text("no pack")
    ours.shows("packs")
    ours.tap("Look into this file")
    assert ours.says("No file is named.")
    ours.types("Or name a file", str(ours.folder / "notes.txt"))
    ours.tap("Look into this file")
    ours.done()
    assert ours.says("notes.txt is not a Countback pack")


def test_a_lost_photo_refuses_the_pack_unless_it_is_said_in_it(ours: PackWork) -> None:
    sha = ours.keeps("teardown:", "baseline", "all.png")
    ours.store.path(sha).unlink()
    exported(ours)
    assert ours.says(f"the photo {sha[:12]} is not in the store")
    ours.tap("Pack without it")
    ours.done()
    assert ours.says(f"Without the photo {sha[:12]}")


def test_everything_is_backed_up_shared_and_restored(ours: PackWork, theirs: PackWork) -> None:
    ours.shows("packs")
    ours.tap("Back up everything")
    ours.done()
    backup = ours.folder / "packs" / "backup-2026-03-02.countback.zip"
    assert ours.says("The backup is written")
    shared: list[Any] = []

    class Keeping:
        def file(self, path: Path, media: str, title: str) -> str:
            shared.append((path, media, title))
            return "Offered."

    ours.desk.share = Keeping()
    ours.tap("Share this file")
    assert shared == [(backup, PACK, backup.name)]
    sent(backup, theirs)
    takes_in(theirs, backup.name)
    assert theirs.says("1 teardown new on this phone.")
    assert {card.teardown for card in theirs.journal.teardowns()} == {theirs.desk.work.id, ours.desk.work.id}
