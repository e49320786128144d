"""Any job can be accounted for: of two phones, told at random, and of ten thousand entries."""

from __future__ import annotations

import re

import pytest
from account_reading import account_of, rows, titles, words
from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test
from random_stories_model import Stories
from test_merging_at_random import play
from test_random_stories import EVERYDAY
from two_phones import exchange, state_of, two_phones
from workboat_model import GASKET, HEAD, NUT, PHOTO, Job, plain

from checklists import builders
from checklists.account.walk import Walk
from checklists.closing_account import make_account
from checklists.facts import (
    FindLogged,
    Looked,
)
from checklists.facts_measured import Searched
from checklists.teardown import fold


@pytest.fixture
def job() -> Job:
    """The small workboat job, its caution read."""
    return Job()


# ---- two phones, random stories, long jobs


def test_what_two_phones_contradicted_each_other_in():
    one, other = two_phones()
    for phone in (one, other):
        phone.count(NUT, 1, "fitted/nozzle", "tray")
    exchange(one, other)
    account = make_account("boat-1", one.entries, {"phone-a": HEAD, "phone-b": "1" * 64})
    (quarrel,) = rows(account, "Counts that differed")
    assert "counted by" in quarrel[2]
    assert "on phones that had not met" in quarrel[2]
    assert quarrel[3] == "NOT SETTLED"
    assert state_of(Walk(one.entries).teardown) == state_of(fold(one.entries))
    assert [row[0] for row in rows(account, "Times and proof")] == ["phone-a", "phone-b"]


class Accounted(Stories):
    """A random story, accounted for at its end."""

    def teardown(self) -> None:
        super().teardown()
        if not self.steps:
            return
        walk = Walk(self.t.history)
        assert plain(walk.teardown) == plain(self.t)
        account = make_account("story", self.t.history, {"phone-a": HEAD})
        assert account.state == {"": "DRAFT", "closed": "CLOSED", "released, not clear": "NOT CLEAR"}[self.t.ended]
        if account.state == "CLOSED":
            assert account.tally.away == 0
        for closure in self.t.closures:
            if self.t.closure_states[closure].stage != "fitted":
                assert any(title.startswith(f"{self.t.closures[closure].name}: ") for title in titles(account))
        for line in self.t.lines:
            flow = walk.flow(line)
            assert flow.out >= flow.back >= 0 or self.t.lines[line].home == "stores"


def test_any_work_of_two_phones_can_be_accounted_for():
    for seed in range(12):
        one, _ = play(seed, 60)
        walk = Walk(one.entries)
        assert state_of(walk.teardown) == state_of(fold(one.entries))
        account = make_account("boat-1", one.entries, {"phone-a": HEAD, "phone-b": "1" * 64})
        settled = [row[3] for row in rows(account, "Counts that differed")] if walk.quarrels else []
        open_ = len(walk.teardown.clashes) + len(walk.teardown.discrepancies)
        assert settled.count("NOT SETTLED") == open_


def test_any_story_can_be_accounted_for():
    run_state_machine_as_test(Accounted, settings=settings(EVERYDAY, max_examples=40))


def test_ten_thousand_entries_are_accounted_for(job):
    job.lift("crossover", "manifold")
    while len(job.t.history) < 10_000:
        job.count(GASKET, 1, "fitted/manifold", "tray") if job.t.quantity(GASKET, "fitted/manifold") else None
        job.count("wrench", 1, "stores", "bench")
        job.count("wrench", 1, "bench", "stores")
    account = account_of(job)
    (row,) = [row for row in rows(account, "Tools, rags") if row[0] == "wrench"]
    assert int(row[3]) == int(row[4]) > 4_900


BARE = re.compile(r"(?<![\d:+-])\d\d:\d\d(?::\d\d)?(?!:?\d)(?! [+-]\d\d:\d\d)")


def test_every_time_has_its_zone(job):
    """Also in what was taken back, in a look out of date, and in the searches of an end that is not clear."""
    job.count(NUT, 1, "fitted/nozzle", "tray")
    job.do(builders.undo(job.t.last_entry, "tapped twice"))
    job.lift("nozzle")
    job.do(Looked("nozzle-hole", True, "clean", PHOTO))
    job.count("rag", 1, "stores", "engine/cylinder-1")
    job.do(builders.miss(job.t, "rag", 1, "engine/cylinder-1", "not there any more"))
    job.do(Searched("rag", "cylinder-1", "borescope", False, "nothing seen"))
    job.search_twice()
    draft = account_of(job)
    job.do(builders.released(job.t, "the berth", "", ""))
    for account in (draft, account_of(job)):
        said = " ".join(map(words, account.sections))
        assert BARE.findall(said) == []
    assert "by borescope (Ines" in said


def test_photo_named_by_two_facts_is_numbered_once(job):
    job.lift("nozzle")
    look = job.do(Looked("nozzle-hole", False, "something glints", PHOTO)).fact
    job.do(FindLogged("f", "an old washer", "cylinder-1", look.photo))
    account = account_of(job)
    assert [picture.sha for picture in account.pictures()].count(look.photo) == 1
    (number,) = [n for n, picture in enumerate(account.pictures(), 1) if picture.sha == look.photo]
    assert sum(f"photo {number}" in words(section) for section in account.sections) == 2
