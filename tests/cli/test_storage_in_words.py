"""Storage that is full, read-only or in the way, told on the command line as what it is, and read where it can be."""

import errno
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from mobileapp.cli import _told, main
from mobileapp.journal import open_journal
from mobileapp.journal.errors import ReadOnly
from mobileapp.journal.opening import in_memory
from mobileapp.journal.store import read_journal
from mobileapp.packs.copying import no_room
from mobileapp.packs.errors import NoRoom
from mobileapp.photos.safe_file import write_safely


@pytest.fixture
def stuck(played) -> Path:
    """The same where SQLite cannot put its log beside it, as on a read-only medium: a folder is in the way."""
    _without_log(played)
    Path(f"{played}-wal").mkdir()
    return played


def _without_log(path: Path) -> None:
    for ending in ("-wal", "-shm"):
        Path(f"{path}{ending}").unlink(missing_ok=True)


@contextmanager
def full_storage() -> Iterator[None]:
    """No file can grow: the system refuses as a full disk does."""
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def test_a_journal_is_read_where_nothing_can_be_written_beside_it(stuck, tmp_path, capsys):
    assert main(["tally", str(stuck)]) == 0
    assert "out 0, in the engine 0, missing 0" in capsys.readouterr().out
    sheet = tmp_path / "sheet.pdf"
    assert main(["closing-sheet", str(stuck), "--to", str(sheet)]) == 0
    assert main(["pack", str(stuck), "--to", str(tmp_path / "crane.zip")]) == 0
    assert main(["backup", str(tmp_path / "all.zip"), "--journal", str(stuck)]) == 0
    assert main(["export", str(stuck), "--folder", str(tmp_path / "out")]) == 0
    capsys.readouterr()
    assert main(["prove", str(sheet), str(stuck)]) == 0
    told = capsys.readouterr().out
    assert "nothing is wrong" in told
    assert "to the byte" in told


def test_what_is_read_so_can_not_be_written(stuck):
    with read_journal(stuck) as journal, pytest.raises(ReadOnly):
        journal.append("crane", journal.entries("crane")[0].fact, at="2026-06-18T07:30:00+03:00", who="Ines Vardal")


def test_entries_that_lie_in_the_log_beside_it_are_read_too(played, tmp_path):
    """A phone that was switched off: its last entries lie in the log, and the medium cannot be written."""
    with open_journal(played) as journal:
        entries = len(journal.entries("crane"))
        journal.append("crane", journal.entries("crane")[0].fact, at="2026-06-18T09:30:00+03:00", who="Ines Vardal")
        copy = tmp_path / "medium" / "journal.sqlite"
        copy.parent.mkdir()
        for ending in ("", "-wal"):
            Path(f"{copy}{ending}").write_bytes(Path(f"{played}{ending}").read_bytes())
    conn = in_memory(copy)
    assert conn.execute("SELECT count(*) FROM event WHERE teardown = 'crane'").fetchone()[0] == entries + 1
    conn.close()


def test_on_a_full_storage_a_journal_is_read_and_proven(played, capsys):
    _without_log(played)
    with full_storage():
        assert main(["tally", str(played)]) == 0
        assert main(["prove", str(played)]) == 0
    assert "48 entries of 1 teardown and 5 photos proven; nothing is wrong" in capsys.readouterr().out


def test_a_journal_that_cannot_be_read_is_not_called_wrong(played, tmp_path, capsys):
    """Its newest entries lie in the log, and there is room nowhere to take it up: neither proven nor disproven."""
    copy = tmp_path / "journal.sqlite"
    with open_journal(played) as journal:
        journal.append("crane", journal.entries("crane")[0].fact, at="2026-06-18T09:30:00+03:00", who="Ines Vardal")
        for ending in ("", "-wal"):
            Path(f"{copy}{ending}").write_bytes(Path(f"{played}{ending}").read_bytes())
    with full_storage():
        assert main(["prove", str(copy)]) == 2
    told = capsys.readouterr()
    assert "WRONG" not in told.out
    assert "The storage failed while" in told.err


# ---- unpacking


def test_too_little_room_says_how_much_is_wanted_and_what_for(tmp_path):
    fault = no_room("crane.zip", 900_000, 1_400_000)
    assert isinstance(fault, NoRoom)
    assert str(fault) == (
        "There is no room for crane.zip (its photos need 0.9 MB, 16.0 MB more are kept free for the journal to grow, "
        "and 1.4 MB are free). Nothing was taken in; free some space, then try again."
    )


def test_a_refused_pack_leaves_nothing_where_nothing_was(played, tmp_path, capsys):
    torn = tmp_path / "torn.zip"
    assert main(["pack", str(played), "--to", str(torn)]) == 0
    torn.write_bytes(torn.read_bytes()[:500])
    for pack in ("nowhere.zip", str(torn)):
        for place in (tmp_path / "new.sqlite", tmp_path / "a" / "b" / "new.sqlite"):
            assert main(["unpack", pack, "--into", str(place)]) in (1, 2)
            assert not list(tmp_path.glob("new*"))
            assert not (tmp_path / "a").exists()
    there = tmp_path / "empty.sqlite"
    open_journal(there).close()
    assert main(["unpack", "nowhere.zip", "--into", str(there)]) == 2
    assert there.exists(), "it was there before"


# ---- writing


def test_a_folder_is_no_file_to_write(played, tmp_path, capsys):
    for words in (
        ["closing-sheet", str(played), "--to", str(tmp_path)],
        ["closing-sheet", str(played), "--to", str(tmp_path), "--replace"],
        ["pack", str(played), "--to", str(tmp_path)],
        ["pack", str(played), "--to", str(tmp_path), "--replace"],
        ["backup", str(tmp_path), "--journal", str(played), "--replace"],
    ):
        assert main(words) == 2, words
        told = capsys.readouterr().err
        assert f"{tmp_path} is a folder" in told or f"{tmp_path.name} is a folder" in told, words
        assert ".part" not in told


def test_a_file_is_no_folder_to_export_to(played, tmp_path, capsys):
    file = tmp_path / "file"
    file.write_bytes(b"x")
    for folder in (file, file / "deeper"):
        assert main(["export", str(played), "--folder", str(folder), "--replace"]) == 2
        told = capsys.readouterr().err
        assert f"{file} is a file" in told
        assert "--replace" not in told
        assert "Errno" not in told


def test_a_full_storage_is_called_full():
    fault = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "sheet.pdf")
    assert _told(fault) == "The storage is full, so sheet.pdf was not written. Free some space, then try again."
    assert "so nothing was written" in _told(OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)))


def test_the_name_of_the_file_is_told_and_not_the_one_written_aside(tmp_path):
    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    for target, sync in ((tmp_path / "none" / "sheet.pdf", os.fsync), (tmp_path / "sheet.pdf", full)):
        with pytest.raises(OSError, match=re.escape(str(target))) as told:
            write_safely(target, b"x", sync=sync)
        assert told.value.filename == str(target)
    assert not list(tmp_path.iterdir())
