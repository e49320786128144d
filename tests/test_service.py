"""An act that cannot be made durable did not happen, and what was derived from it is not believed either."""

from __future__ import annotations

import pytest

from checklists import builders
from checklists.facts import Acknowledged, Person
from mobileapp.journal import prove
from mobileapp.journal.errors import JournalError
from mobileapp.journal.store import open_journal
from mobileapp.service import TeardownService, start_teardown
from mobileapp.shelf import load_sheet

NOW = "2026-03-02T08:00:00.000+01:00"


@pytest.fixture
def journal(tmp_path):
    with open_journal(tmp_path / "journal.sqlite", clock=lambda: NOW, make_id=lambda: "phone-1") as journal:
        yield journal


@pytest.fixture
def service(journal) -> TeardownService:
    fact = builders.start(load_sheet("rocker-cover"), "trial machine", [Person("Ines Vardal", "fitter")], "a leak", "")
    service = start_teardown(journal, lambda: NOW, lambda: "job-1", fact, "Ines Vardal")
    assert isinstance(service, TeardownService)
    return service


def test_a_teardown_without_a_machine_is_not_started_and_says_everything_that_is_missing(journal):
    fact = builders.start(load_sheet("rocker-cover"), " ", [], "", "")
    outcome = start_teardown(journal, lambda: NOW, lambda: "job-1", fact, "Ines Vardal")
    assert not outcome.done
    assert {reason.code for reason in outcome.reasons} == {"no machine", "no reason", "no people"}
    assert journal.teardowns() == []


def test_a_count_that_cannot_be_written_did_not_happen_and_the_next_one_stands(service, journal):
    line = next(iter(service.state.lines))
    before = dict(service.state.balances)
    journal._conn.execute("PRAGMA query_only = ON")
    with pytest.raises(JournalError):
        service.record(builders.count_out(service.state, line))
    assert service.state.balances == before
    journal._conn.execute("PRAGMA query_only = OFF")
    assert service.record(builders.count_out(service.state, line)).done
    assert prove(journal.path) == []


def test_a_teardown_opened_again_stands_where_it_was_left(service, journal):
    line = next(iter(service.state.lines))
    service.record(builders.count_out(service.state, line))
    again = TeardownService(journal, lambda: NOW, service.id)
    assert again.state.balances == service.state.balances
    assert again.who == "Ines Vardal"


def test_undo_takes_back_the_last_count_only_and_never_a_caution_read(service):
    line = next(iter(service.state.lines))
    service.record(builders.count_out(service.state, line))
    assert service.undo().done
    assert service.state.quantity(line, "tray") == 0
    service.record(Acknowledged(service.state.sheet.cautions[0].id))
    assert not service.undo().done
    assert service.state.sheet.cautions[0].id in service.state.acknowledged


def test_what_another_phone_recorded_came_in_under_an_open_teardown_and_the_next_act_is_judged_with_it(
    service, journal, tmp_path
):
    """A pack is taken in through another connection; the next count must not contradict it."""
    line = next(iter(service.state.lines))
    everything = service.state.quantity(line, service.state.lines[line].home)
    with open_journal(tmp_path / "theirs.sqlite", clock=lambda: NOW, make_id=lambda: "phone-2") as theirs:
        theirs.receive(service.id, journal.rows(service.id))
        other = TeardownService(theirs, lambda: NOW, service.id)
        assert other.record(builders.count_out(other.state, line, everything - 1)).done
        with open_journal(journal.path) as beside:
            beside.receive(service.id, theirs.rows(service.id))
    assert not service.record(builders.count_out(service.state, line, 2)).done, "only one is left where it was"
    assert service.state.quantity(line, "tray") == everything - 1
    assert service.record(builders.count_out(service.state, line, 1)).done
    assert service.state.quantity(line, "tray") == everything
    assert prove(journal.path) == []
