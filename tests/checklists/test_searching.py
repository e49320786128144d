"""A search for a missing item is logged place by place; what was not searched is said at a release."""

import pytest
from workboat_model import HEAD, INES, NUT, PHOTO, TOMAS, Job, codes

from checklists import builders
from checklists.facts_measured import Searched
from checklists.near_misses import near_miss_words, near_misses
from checklists.searches import search_list, search_summary, second_pass_due


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off and a nut is missing: it could be in cylinder 1."""
    job = Job()
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray", "one where two should be"))
    return job


def search(where: str, method: str = "magnet", seen: str = "nothing", found: bool = False) -> Searched:
    return Searched(NUT, where, method, found, seen)


def test_a_search_says_for_what_where_how_and_what_was_seen(job):
    assert codes(job.refused(Searched("rag", "cylinder-1", "eye", False, "nothing"))) == ["not missing"]
    assert codes(job.refused(search(" ", "guess", ""))) == ["no method", "no place", "not said"]
    job.do(search("cylinder-1"))
    assert job.t.quantity(NUT, "missing") == 1


def test_searching_alone_neither_finds_nor_clears(job):
    before = codes(job.refused(job.clearing("nozzle")))
    job.do(search("cylinder-1", seen="there it is", found=True))
    assert codes(job.refused(job.clearing("nozzle"))) == before
    job.do(builders.find_again(job.t, NUT, 1, "in cylinder 1, on the magnet"))
    assert job.t.missing == []
    assert search_summary(job.t, job.now) == ""


def test_each_place_shows_its_passes_and_whether_a_second_person_searched_it(job):
    (item,) = job.t.missing
    assert second_pass_due(job.t, item, job.now) == ("cylinder-1",)
    job.do(search("cylinder-1"))
    job.do(search("cylinder-1", "borescope"))
    assert second_pass_due(job.t, item, job.now) == ("cylinder-1",)
    job.do(search("cylinder-1", "borescope"), TOMAS)
    job.do(search("the bilge under the engine", "eye"), TOMAS)
    assert second_pass_due(job.t, item, job.now) == ()
    inside, bilge = search_list(job.t, item, job.now)
    assert (inside.where, len(inside.passes), inside.independent) == ("cylinder-1", 3, True)
    assert (bilge.candidate, bilge.name, bilge.independent) == (None, "the bilge under the engine", False)


def test_a_search_from_before_it_went_missing_is_not_one_for_it(job):
    job.do(search("cylinder-1"))
    job.do(builders.find_again(job.t, NUT, 1, "in the cuff"))
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert "no search is on record" in search_summary(job.t, job.now)


def test_released_not_clear_tells_the_searches_and_what_was_left_out(job):
    job.lift("crossover")
    job.do(search("cylinder-1"))
    job.do(search("cylinder-1", "mirror", "nothing either"), TOMAS)
    released = builders.released(job.t, "The tide will not wait.", "The bilge was pumped dry.", HEAD)
    at = [f"2026-03-02 {mark.at[11:16]} +01:00" for _, mark in job.t.searches]
    assert released.search == (
        f"M8 nut: searched cylinder 1 by magnet ({INES}, {at[0]}: nothing), by mirror ({TOMAS}, {at[1]}: "
        "nothing either). By a second person as well: cylinder 1. Not searched, though it could be there: the coolant "
        "jacket. The bilge was pumped dry."
    )
    job.do(released)
    assert job.t.ended == "released, not clear"


def test_without_a_search_there_is_nothing_to_release_on():
    job = Job()
    assert codes(job.refused(builders.released(job.t, "No time.", " ", HEAD))) == ["no search"]


# ---- near misses across teardowns


def test_near_misses_of_several_teardowns_with_where_and_how_long(job):
    job.later(9)
    job.do(builders.find_again(job.t, NUT, 1, "in the cuff of a sleeve"), TOMAS)
    other = Job()
    other.later(60)
    other.lift("nozzle")
    other.do(builders.drop(other.t, NUT, 1, "it rang on the way down", into="cylinder-1"))
    other.do(builders.drop(other.t, "wrench", 1, "into the bilge"))
    other.count(NUT, 1, "engine/cylinder-1", "tray")
    rows = near_misses([("tern", job.t), ("petrel", other.t)])
    assert [(r.teardown, r.name, r.how, r.space, r.seconds) for r in rows] == [
        ("petrel", "wrench", "dropped", "", None),
        ("petrel", "M8 nut", "dropped", "cylinder 1", 120.0),
        ("tern", "M8 nut", "missing", "", 600.0),
    ]
    assert (rows[2].near, rows[2].found_where, rows[2].found_by) == (
        "one where two should be", "in the cuff of a sleeve", TOMAS,
    )  # fmt: skip
    assert near_miss_words(rows) == (
        "3 items dropped or missed on 2 teardowns; 1 not found.",
        "Half of those found took up to 6 min, the longest 10 min.",
        "Most often: M8 nut, 2 times.",
    )
    assert near_miss_words([]) == ("Nothing was dropped or missed so far.",)


def test_of_two_lost_and_one_found_one_is_still_gone():
    job = Job()
    job.do(builders.miss(job.t, "rag", 2, "stores"))
    job.do(builders.find_again(job.t, "rag", 1, "in the locker"))
    assert [(r.quantity, r.seconds is None) for r in near_misses([("a", job.t)])] == [(1, False), (1, True)]


def test_short_at_the_start_is_one_as_well():
    job = Job()
    job.do(builders.short_at_start(job.t, NUT, 1, PHOTO))
    (row,) = near_misses([("a", job.t)])
    assert (row.how, row.last_place) == ("short at the start", "fitted to the nozzle holder")
