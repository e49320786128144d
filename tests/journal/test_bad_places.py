"""Storage that is read-only, full, busy or broken: each gets its clear error, and nothing is lost."""

import contextlib
import os
import sqlite3
import subprocess

import pytest
from journal_workshop import WHO, at, bolt_back, bolt_out, job, play, start

from checklists.facts import WorkDone
from mobileapp.journal import Journal, examine, open_journal, prove
from mobileapp.journal.errors import Busy, Damaged, DiskFull, JournalError, NotAJournal, ReadOnly, ReadOnlyPlace
from mobileapp.journal.opening import read_only


@contextlib.contextmanager
def small_storage(folder, size="1m"):
    """A real small file system at `folder`. Needs root; skips where it cannot be had."""
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={size}", "countback-test", str(folder)]
    if os.geteuid() != 0 or subprocess.run(command, capture_output=True).returncode:
        pytest.skip("mounting a small file system needs root")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def test_a_folder_on_a_read_only_file_system(tmp_path):
    with small_storage(tmp_path / "card") as card:
        with open_journal(card / "journal.sqlite") as journal:
            written = play(journal, "job-1", job())
        subprocess.run(["mount", "-o", "remount,ro", str(card)], check=True)
        with pytest.raises(ReadOnlyPlace, match=r"read-only\). Make the folder writable or choose another one"):
            open_journal(card / "journal.sqlite")
        with pytest.raises(ReadOnlyPlace):
            open_journal(card / "another.sqlite")
        with pytest.raises(ReadOnlyPlace):
            open_journal(card / "sub" / "another.sqlite")
        subprocess.run(["mount", "-o", "remount,rw", str(card)], check=True)
        with open_journal(card / "journal.sqlite") as journal:
            assert journal.entries("job-1") == written


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere; the mounted test covers it")
def test_a_folder_without_leave_to_write(tmp_path):
    yard = tmp_path / "yard"
    yard.mkdir(mode=0o555)
    with pytest.raises(ReadOnlyPlace, match="Make the folder writable"):
        open_journal(yard / "journal.sqlite")
    with pytest.raises(ReadOnlyPlace, match="Make the folder writable"):
        open_journal(yard / "sub" / "journal.sqlite")


def test_a_file_where_the_folder_should_be(tmp_path):
    (tmp_path / "yard").write_text("not a folder")
    with pytest.raises(ReadOnlyPlace, match="choose another one"):
        open_journal(tmp_path / "yard" / "journal.sqlite")
    with pytest.raises(ReadOnlyPlace, match="choose another one"):
        open_journal(tmp_path / "yard" / "sub" / "journal.sqlite")


def test_a_folder_where_the_file_should_be(tmp_path):
    with pytest.raises(NotAJournal, match="it is a folder"):
        open_journal(tmp_path)


def test_a_file_that_turns_read_only_while_open(journal, journal_path):
    """SQLite's own read-only mode, which it also falls back to by itself."""
    written = play(journal, "job-1", [start()])
    reader = Journal(journal_path, read_only(journal_path), "phone-a")
    with pytest.raises(ReadOnly, match=r"nothing was recorded .* Make it writable, then count again"):
        reader.append("job-1", bolt_out(), at(1), WHO)
    assert reader.entries("job-1") == written
    reader.close()
    assert prove(journal_path) == []


def fill(journal, name="job-1"):
    """Record until the storage is full; the entries that were acknowledged."""
    written = play(journal, name, [start()])
    with pytest.raises(DiskFull, match=r"so nothing was recorded in .* Free some space, then count again\.$"):
        record_for_ever(journal, name, written)
    return written


def record_for_ever(journal, name, written):
    while True:
        written += play(journal, name, [WorkDone("x" * 3000)])


def test_a_full_disk(tmp_path):
    """A real small file system with something else filling it up; then that is thrown away."""
    with small_storage(tmp_path / "card") as card:
        ballast = card / "holiday.mov"
        ballast.write_bytes(b"0" * 500_000)
        with open_journal(card / "journal.sqlite") as journal:
            written = fill(journal)
            assert len(written) > 10
            assert journal.entries("job-1") == written
            ballast.unlink()
            written += play(journal, "job-1", [bolt_out()])
            assert journal.entries("job-1") == written
        assert prove(card / "journal.sqlite") == []


def test_no_room_even_for_a_new_file(tmp_path):
    with small_storage(tmp_path / "card", "64k") as card:
        (card / "holiday.mov").write_bytes(b"0" * 40_000)
        with pytest.raises(JournalError, match=r"[Ff]ree s"):
            open_journal(card / "journal.sqlite")
        (card / "holiday.mov").unlink()


def test_a_quota_reached(journal, journal_path):
    """The same with SQLite's own page limit, which any machine can set."""
    play(journal, "job-0", [start()])
    with journal.transaction() as conn:
        conn.execute("PRAGMA max_page_count = 60")
    written = fill(journal)
    assert len(written) > 10
    assert journal.entries("job-1") == written
    assert prove(journal_path) == []
    with journal.transaction() as conn:
        conn.execute("PRAGMA max_page_count = 1000000")
    assert play(journal, "job-1", [bolt_out()])[0].seq == len(written) + 1
    assert prove(journal_path) == []


def test_another_program_holds_the_file(journal_path):
    with open_journal(journal_path, busy_seconds=0.05) as journal:
        play(journal, "job-1", [start()])
        other = sqlite3.connect(journal_path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(Busy, match="Close it, then try again; nothing was recorded"):
            journal.append("job-1", bolt_out(), at(1), WHO)
        other.execute("ROLLBACK")
        other.close()
        play(journal, "job-1", [bolt_out()])
    assert prove(journal_path) == []


def test_two_programs_count_in_turn(journal, journal_path):
    """Both write to the one chain of this phone; neither forks it."""
    play(journal, "job-1", [start()])
    with open_journal(journal_path) as second:
        for _ in range(3):
            play(second, "job-1", [bolt_out()])
            play(journal, "job-1", [bolt_back()])
        assert [e.seq for e in second.entries("job-1")] == list(range(1, 8))
    assert prove(journal_path) == []


def test_a_clock_set_back_is_recorded_and_remarked(journal, journal_path):
    """Order is sequence, not clock; nobody repairs it."""
    journal.append("job-1", start(), at(30), WHO)
    journal.append("job-1", bolt_out(), at(10), WHO)
    journal.append("job-1", bolt_out(), "2026-03-02T10:40:00.000+02:00", WHO)
    assert [e.at for e in journal.entries("job-1")] == [at(30), at(10), "2026-03-02T10:40:00.000+02:00"]
    proof = examine(journal_path)
    assert proof.faults == []
    assert proof.remarks == [
        ("teardown job-1, device phone-a, entry 2", f"the clock ran back: {at(10)} after {at(30)}")
    ]
    assert (proof.entries, proof.teardowns) == (3, 1)


def use(path):
    """Open, read and write: somewhere on the way the damage shows."""
    with open_journal(path) as journal:
        journal.entries("job-1")
        journal.teardowns()
        play(journal, "job-1", [WorkDone("more")])


@pytest.fixture
def shelved(journal, journal_path):
    """A journal with a job of some size in it, closed."""
    play(journal, "job-1", [*job(), *[WorkDone("x" * 3000) for _ in range(20)]])
    journal.close()
    return journal_path


def test_a_file_cut_short(shelved):
    content = shelved.read_bytes()
    shelved.write_bytes(content[: len(content) // 2])
    with pytest.raises(Damaged, match="Keep the file, and run: countback prove"):
        use(shelved)
    assert prove(shelved)


def test_a_file_with_a_spoiled_header(shelved):
    content = shelved.read_bytes()
    shelved.write_bytes(b"\xff" * 16 + content[16:])
    with pytest.raises(NotAJournal, match="It was left untouched"):
        use(shelved)
    assert prove(shelved)


@pytest.mark.parametrize("part", [0.2, 0.4, 0.6, 0.8])
def test_a_file_with_a_spoiled_page(shelved, part):
    content = bytearray(shelved.read_bytes())
    page = int(len(content) * part) // 4096 * 4096
    content[page : page + 4096] = os.urandom(4096)
    shelved.write_bytes(content)
    with contextlib.suppress(JournalError):  # where the page is not needed just now, work goes on
        use(shelved)
    assert prove(shelved)


@pytest.mark.parametrize(
    ("deed", "words"),
    [
        ("DROP TABLE head", "no such table"),
        ("UPDATE event SET body = 'not json' WHERE seq = 2", "cannot be read"),
        ("UPDATE event SET body = '{\"x\":1}' WHERE seq = 2", "cannot be read"),
        ("UPDATE event SET kind = 'teleported' WHERE seq = 2", "newer Countback"),
        ("UPDATE head SET seq = 3", "UNIQUE|never replaced"),
    ],
)
def test_contents_that_contradict_each_other(shelved, deed, words):
    conn = sqlite3.connect(shelved)
    with conn:
        conn.execute("DROP TRIGGER event_never_changed")
        conn.execute(deed)
    conn.close()
    with pytest.raises(JournalError, match=words):
        use(shelved)
    assert prove(shelved)
