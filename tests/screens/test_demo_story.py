"""The demo story of the workboat, told through the screens alone: every act a tap or a typed word, refusals and all.

At the end the journal proves, and holds what the same story played without a screen holds. On the way the app is killed
where it hurts most.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from screens import story_going_home as home
from screens import story_opening_up as up
from screens import story_putting_right as right
from screens import touch
from screens.story_hands import StoryPhone, told

from checklists.facts import Cleared, Closed, Entry, Photographed, Signed
from checklists.state import Teardown
from mobileapp.journal import examine, open_journal
from mobileapp.photos.proving import prove_photos_of
from mobileapp.rehearsal import play
from mobileapp.story_shelf import load_story

#: Half a torn rag is called otherwise by the story than by the screens.
SAME_LINES = {"rag-piece": "rag-half"}
SCREENS = {
    "teardowns", "start", "cautions", "board", "closure", "lift", "photos", "items", "count_pad", "change_line",
    "refusal", "drop", "missing", "whereabouts", "openings", "look", "find", "people", "second_count", "sign_off",
    "recount", "leaving", "handover", "baseline",
}  # fmt: skip


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Iterator[StoryPhone]:
    touch.phone(density=0.5)  # the same phone in fewer pixels: many screens are drawn
    usual = gc.get_threshold()
    gc.set_threshold(50_000, 20, 50)  # as the app does when it starts
    phone = StoryPhone(tmp_path, "2026-03-02T08:15:00.000+01:00")
    yield phone
    phone.switched_off()
    gc.set_threshold(*usual)


@pytest.fixture
def played(tmp_path: Path) -> tuple[Teardown, list[Entry]]:
    """The same story, played without a screen."""
    with open_journal(tmp_path / "played" / "journal.sqlite") as journal:
        rehearsal = play(load_story("workboat"), journal)
        assert rehearsal.held, rehearsal.failures
        return rehearsal.state, list(journal.entries(rehearsal.teardown))


def until_it_is_refused(phone: StoryPhone) -> None:
    """From the first question to the refusal with every reason, nothing but fingers."""
    up.starts(phone)
    up.reads_the_cautions(phone)
    up.photographs_what_was_found(phone)
    up.takes_things_into_use(phone)
    up.takes_the_crossover_off(phone)
    up.takes_the_manifold_off(phone)
    up.works_in_the_open_engine(phone)
    right.tries_to_close(phone)


def test_the_demo_story_through_the_screens_until_it_is_refused(
    phone: StoryPhone, played: tuple[Teardown, list[Entry]]
) -> None:
    """The first half of the story, always; the whole of it is slow."""
    until_it_is_refused(phone)
    assert not phone.state.ended
    assert phone.kills >= 1
    assert phone.seen <= SCREENS
    the_journal_proves(phone)
    so_far, whole = told(phone.entries, SAME_LINES), told(played[1], {})
    assert len(so_far) > 50
    assert so_far == whole[: len(so_far)]


@pytest.mark.slow
def test_the_demo_story_through_the_screens(phone: StoryPhone, played: tuple[Teardown, list[Entry]]) -> None:
    """From the first question to CLOSED, nothing but fingers."""
    until_it_is_refused(phone)
    right.hands_the_job_over(phone)
    right.puts_it_right(phone)
    right.looks_into_the_ports(phone)
    right.is_counted_by_the_other(phone)
    right.a_rag_goes_in_late(phone)
    home.counts_the_manifold_home(phone)
    home.puts_the_crossover_back(phone)
    home.cannot_close_yet(phone)
    home.half_a_rag_is_gone(phone)
    home.closes(phone)
    assert phone.state.ended == "closed"
    signed = [entry.fact for entry in phone.entries if isinstance(entry.fact, Cleared | Signed | Closed)]
    assert len(signed) == 8
    assert all(fact.signature for fact in signed)
    assert phone.kills == 4
    assert phone.seen == SCREENS, "the running tally stood on each of them"
    the_journal_proves(phone)
    it_is_the_same_story(phone, *played)


def the_journal_proves(phone: StoryPhone) -> None:
    """Every entry, every balance, every photo."""
    path = phone.journal.path
    proof = examine(path)
    photos = prove_photos_of(path, proof)
    assert (proof.faults, photos.faults, proof.remarks, photos.remarks) == ([], [], [], [])
    taken = [entry.fact for entry in phone.entries if isinstance(entry.fact, Photographed)]
    assert len(taken) == photos.photos == phone.shots
    named = {photo for entry in phone.entries if (photo := getattr(entry.fact, "photo", ""))}
    assert named == {fact.photo for fact in taken}, "every photo in the story is one that is kept"


def it_is_the_same_story(phone: StoryPhone, state: Teardown, entries: list[Entry]) -> None:
    """The same acts by the same people in the same order, and so the same balances."""
    assert balances(phone.state.balances, SAME_LINES) == balances(state.balances, {})
    assert told(phone.entries, SAME_LINES) == told(entries, {})


def balances(held: Mapping[tuple[str, str], int], same: dict[str, str]) -> dict[tuple[str, str], int]:
    """Where everything is, by the names of the story."""
    return {(same.get(line, line), place): quantity for (line, place), quantity in held.items() if quantity}
