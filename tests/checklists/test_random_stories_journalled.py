"""Random stories through the real service and a real journal: what is kept beside the entries equals a full replay."""

import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test
from random_stories_model import Stories
from test_random_stories import EVERYDAY
from workboat_model import plain

from checklists.teardown import fold
from mobileapp.journal import open_journal, prove, rebuild_balances
from mobileapp.service import TeardownService

JOB = "petrel-1"


class JournalledStories(Stories):
    """The same stories; every act goes through the service into a journal in a folder of its own."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory(prefix="countback-stories-")
        self.journal = open_journal(Path(self.folder.name) / "journal.sqlite", make_id=lambda: "phone-a")
        self.service = TeardownService(self.journal, lambda: self.now, JOB)
        self.t = self.service.state

    def put(self, fact, who):
        self.service.who = who
        # The model knows no hashes: the service binds what is signed.
        outcome = self.service.record(replace(fact, head="") if hasattr(fact, "head") else fact)
        self.t = self.service.state
        return outcome.entry, outcome.reasons

    def teardown(self) -> None:
        try:
            super().teardown()
            self.kept_equals_replayed()
        finally:
            self.journal.close()
            self.folder.cleanup()

    def kept_equals_replayed(self) -> None:
        entries = self.journal.entries(JOB)
        assert entries == self.t.history
        replayed = fold(entries)
        assert self.journal.balances(JOB) == replayed.balances
        assert plain(replayed) == plain(self.t)
        stages = {row.closure: row.stage for row in self.journal.closure_rows(JOB)}
        assert stages == {closure: state.stage for closure, state in replayed.closure_states.items()}
        assert rebuild_balances(self.journal) == []
        assert prove(self.journal.path) == []


def test_what_is_kept_equals_a_full_replay():
    run_state_machine_as_test(JournalledStories, settings=settings(EVERYDAY, max_examples=15))


@pytest.mark.slow
def test_what_is_kept_equals_a_full_replay_over_many_new_stories():
    run_state_machine_as_test(JournalledStories, settings=settings(EVERYDAY, max_examples=400, derandomize=False))
