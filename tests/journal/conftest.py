"""Fixtures of the journal's tests."""

import pytest

from mobileapp.journal import open_journal


@pytest.fixture
def journal_path(tmp_path):
    """Where the journal of a test lies."""
    return tmp_path / "yard" / "journal.sqlite"


@pytest.fixture
def journal(journal_path):
    """A fresh journal on phone-a."""
    with open_journal(journal_path, make_id=lambda: "phone-a", clock=lambda: "2026-03-02T08:00:00.000+01:00") as opened:
        yield opened
