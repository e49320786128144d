"""The record is never written over, whatever is said with --replace: not the journal, not a photo kept beside it."""

import os
from pathlib import Path

import pytest

from mobileapp.cli import main
from mobileapp.journal import open_journal, prove
from mobileapp.packs import write_backup
from mobileapp.packs.errors import OverTheRecord
from mobileapp.photos.store import PhotoStore, beside
from mobileapp.record_files import InTheRecord, leave_the_record
from mobileapp.rehearsal import play
from mobileapp.story_shelf import load_story


@pytest.fixture(scope="module")
def played(tmp_path_factory) -> Path:
    """A journal, with what may lie beside one."""
    path = tmp_path_factory.mktemp("played") / "journal.sqlite"
    with open_journal(path, make_id=lambda: "phone-a") as journal:
        play(load_story("blank-sheet"), journal, lambda: "crane")
    for folder, name in (("kept-photos", f"{'a' * 64}.jpg"), ("awaited-photos", "note-1.jpg")):
        (path.parent / folder).mkdir(exist_ok=True)
        (path.parent / folder / name).write_bytes(b"the only copy")
    return path


COMMANDS = {
    "closing-sheet": lambda journal, to: ["closing-sheet", str(journal), "--to", str(to), "--replace"],
    "pack": lambda journal, to: ["pack", str(journal), "--to", str(to), "--replace", "--without-lost"],
    "backup": lambda journal, to: ["backup", str(to), "--journal", str(journal), "--replace"],
}


@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_writes_over_the_record(played, tmp_path, capsys, command):
    kept, awaited = played.parent / "kept-photos", played.parent / "awaited-photos"
    link = tmp_path / "link.sqlite"
    link.symlink_to(played)
    hard = tmp_path / "hard.sqlite"
    os.link(played, hard)
    before = _kept(played)
    for target in (
        played, Path(f"{played}-wal"), Path(f"{played}-shm"), Path(f"{played}-journal"), link, hard,
        kept / f"{'a' * 64}.jpg", kept / "new.pdf", kept / "small" / "new.pdf", awaited / "note-1.jpg",
    ):  # fmt: skip
        assert main(COMMANDS[command](played, target)) == 2, target
        said = capsys.readouterr()
        assert "is part of the record" in said.err, target
        assert said.out == ""
    assert _kept(played) == before
    assert prove(played) == []


def _kept(journal: Path) -> dict[Path, bytes]:
    """The photos, byte for byte; the journal itself is proven."""
    return {path: path.read_bytes() for path in journal.parent.glob("*/*") if path.is_file()}


def test_another_journal_is_not_written_over_either(played, tmp_path, capsys):
    other = tmp_path / "other.sqlite"
    open_journal(other).close()
    assert main(["backup", str(other), "--journal", str(played), "--replace"]) == 2
    assert f"{other} is part of the record (it is a journal)" in capsys.readouterr().err
    assert prove(other) == []


def test_an_export_goes_not_among_the_kept_photos(played, capsys):
    folder = played.parent / "kept-photos"
    assert main(["export", str(played), "--folder", str(folder), "--replace"]) == 2
    assert "is part of the record" in capsys.readouterr().err
    assert not list(folder.glob("crane*"))


def test_an_export_that_has_the_name_of_a_journal_is_refused(tmp_path, capsys):
    path = tmp_path / "crane-log.csv"
    with open_journal(path) as journal:
        play(load_story("blank-sheet"), journal, lambda: "crane")
    assert main(["export", str(path), "--folder", str(tmp_path), "--replace"]) == 2
    assert "is part of the record" in capsys.readouterr().err
    assert prove(path) == []


def test_the_app_itself_cannot_either(played):
    with open_journal(played) as journal, pytest.raises(OverTheRecord):
        write_backup(journal, PhotoStore(beside(played)), played, replace=True)


def test_what_lies_elsewhere_may_be_replaced(played, tmp_path, capsys):
    for command, name in (("closing-sheet", "sheet.pdf"), ("pack", "crane.zip"), ("backup", "all.zip")):
        (tmp_path / name).write_bytes(b"an older one")
        assert main(COMMANDS[command](played, tmp_path / name)) == 0, capsys.readouterr().err
        assert (tmp_path / name).read_bytes() != b"an older one"
    leave_the_record(tmp_path / "kept.pdf", played)
    with pytest.raises(InTheRecord, match="Name another"):
        leave_the_record(played.parent / "Kept-Photos" / "x.pdf", played)
