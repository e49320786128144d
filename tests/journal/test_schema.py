"""Whose file it is, how old its schema is, and how it gets to the next one."""

import sqlite3

import pytest
from journal_workshop import job, play

from mobileapp.journal import open_journal, prove
from mobileapp.journal.errors import CannotOpen, JournalError, NewerJournal, NotAJournal
from mobileapp.journal.schema import APPLICATION_ID, MIGRATIONS


def add_a_note_table(db):
    """A migration as a later version might ship it."""
    db.table("note").create({"id": int, "text": str}, pk="id")
    db.execute("INSERT INTO note (text) SELECT 'entries so far: ' || count(*) FROM event")


def break_off(db):
    """A migration that fails half way."""
    db.table("half_done").create({"id": int}, pk="id")
    raise sqlite3.OperationalError("no such table: engine")


def pragma(path, name):
    conn = sqlite3.connect(path)
    value = conn.execute(f"PRAGMA {name}").fetchone()[0]
    conn.close()
    return value


def test_a_new_file_says_whose_it_is(journal, journal_path):
    assert pragma(journal_path, "application_id") == APPLICATION_ID
    assert pragma(journal_path, "user_version") == len(MIGRATIONS) == 2
    assert pragma(journal_path, "journal_mode") == "wal"


def test_entries_are_written_with_full_synchronisation(journal):
    with journal.transaction() as conn:
        assert conn.execute("PRAGMA synchronous").fetchone() == (2,)


def test_an_older_file_is_brought_up_to_date_with_all_its_entries(journal, journal_path):
    written = play(journal, "job-1", job())
    journal.close()
    with open_journal(journal_path, migrations=(*MIGRATIONS, add_a_note_table)) as newer:
        assert newer.entries("job-1") == written
        with newer.transaction() as conn:
            assert conn.execute("SELECT text FROM note").fetchall() == [("entries so far: 11",)]
    assert pragma(journal_path, "user_version") == 3


def test_a_file_of_before_is_proven_as_it_was_written_and_once_opened_as_it_is_now(tmp_path):
    path = tmp_path / "older.sqlite"
    with open_journal(path, migrations=MIGRATIONS[:1]) as older:
        play(older, "job-1", job())
    assert (pragma(path, "user_version"), prove(path)) == (1, [])
    with open_journal(path) as journal:
        assert len(journal.entries("job-1")) == 11
    assert (pragma(path, "user_version"), prove(path)) == (2, [])


def test_a_version_that_the_file_only_claims_is_found(journal, journal_path):
    journal.close()
    conn = sqlite3.connect(journal_path)
    conn.execute("PRAGMA user_version = 1")
    conn.close()
    assert [finding.what for finding in prove(journal_path)] == ["view tally was changed"]


def test_a_migration_that_fails_leaves_the_file_as_it_was(journal, journal_path):
    """Not even the migration before it stays: all of them or none."""
    written = play(journal, "job-1", job())
    journal.close()
    with pytest.raises(JournalError):
        open_journal(journal_path, migrations=(*MIGRATIONS, add_a_note_table, break_off))
    assert prove(journal_path) == []
    with open_journal(journal_path) as again:
        assert again.entries("job-1") == written


def test_a_newer_schema_is_refused_and_left_alone(journal, journal_path):
    play(journal, "job-1", job())
    journal.close()
    with open_journal(journal_path, migrations=(*MIGRATIONS, add_a_note_table)):
        pass
    before = journal_path.read_bytes()
    with pytest.raises(NewerJournal, match=r"schema version 3; this one knows up to 2\).*Install the newer one"):
        open_journal(journal_path)
    assert journal_path.read_bytes() == before
    assert [f.where for f in prove(journal_path)] == ["the file"]


def foreign(path, *, wal=False, application=0):
    conn = sqlite3.connect(path)
    conn.execute(f"PRAGMA application_id = {application}")
    if wal:
        conn.execute("PRAGMA journal_mode = WAL")
    conn.execute("CREATE TABLE recipe (name TEXT)")
    conn.execute("INSERT INTO recipe VALUES ('fish soup')")
    conn.commit()
    conn.close()


@pytest.mark.parametrize("kind", [{}, {"wal": True}, {"application": 0x12345678}])
def test_a_database_of_something_else_is_refused_and_left_alone(tmp_path, kind):
    path = tmp_path / "recipes.sqlite"
    foreign(path, **kind)
    before = path.read_bytes()
    with pytest.raises(NotAJournal, match=r"another program's database\). It was left untouched"):
        open_journal(path)
    assert path.read_bytes() == before
    assert [f.where for f in prove(path)] == ["the file"]


@pytest.mark.parametrize("content", [b"count: 4 bolts\n", b"\x00" * 8192, b"SQLite format 3"])
def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path, content):
    path = tmp_path / "notes.txt"
    path.write_bytes(content)
    with pytest.raises(NotAJournal, match="not an SQLite database"):
        open_journal(path)
    assert path.read_bytes() == content
    assert prove(path)[0].where == "the file"


def test_an_empty_file_becomes_a_journal(tmp_path):
    """As when the phone died in the moment the file was made."""
    path = tmp_path / "journal.sqlite"
    path.touch()
    with open_journal(path):
        pass
    assert prove(path) == []


def test_a_database_made_but_never_filled_becomes_a_journal(tmp_path):
    path = tmp_path / "journal.sqlite"
    conn = sqlite3.connect(path)
    conn.execute("PRAGMA journal_mode = WAL")
    conn.close()
    assert path.stat().st_size > 0
    with open_journal(path):
        pass
    assert prove(path) == []


def test_proving_needs_a_file(tmp_path):
    with pytest.raises(CannotOpen, match="there is no such file"):
        prove(tmp_path / "nowhere.sqlite")
