"""The tally, the drop log and the near misses tell one story of what was lost and found again."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from two_phones import exchange, two_phones
from workboat_model import BOLT, INES, NUT, PHOTO, TOMAS, Job

from checklists import builders
from checklists.facts import Lifted
from checklists.near_misses import NearMiss, near_misses
from checklists.state import Teardown


@pytest.fixture
def job() -> Job:
    """The manifold is off; its ports stand open."""
    job = Job()
    job.lift("crossover", "manifold")
    return job


def told(t: Teardown) -> list[NearMiss]:
    """The near misses of one teardown, the oldest first."""
    return list(reversed(near_misses([("a", t)])))


def assert_told_alike(t: Teardown) -> None:
    """What is open, loss by loss, in the tally, in the drop log and in the near misses."""
    missing = sorted((item.cause, item.mark.at, item.line, item.quantity) for item in t.missing)
    rows = [row for row in told(t) if row.seconds is None]
    assert sorted((row.how, row.lost_at, row.line, row.quantity) for row in rows if not row.space) == missing
    dropped = sorted((d.mark.at, d.line, d.quantity - d.found) for d in t.drops if d.ended is None)
    assert sorted((row.lost_at, row.line, row.quantity) for row in rows if row.how == "dropped") == dropped
    for line in t.lines:
        assert t.quantity(line, "missing") == sum(item.quantity for item in t.missing if item.line == line)


def test_of_one_missing_and_one_dropped_the_same_is_found_everywhere(job):
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    job.later(60)
    job.do(builders.drop(job.t, BOLT, 1, "port 2", source="tray"))
    job.later(5)
    job.do(builders.find_again(job.t, BOLT, 1, "under the port"))
    assert [item.cause for item in job.t.missing] == ["missing"]
    assert [drop.where_found for drop in job.t.drops] == ["under the port"]
    assert [(row.how, row.seconds) for row in told(job.t)] == [("missing", None), ("dropped", 360.0)]
    assert_told_alike(job.t)


def test_of_two_dropped_the_one_that_could_be_in_the_fewest_places_is_found_first(job):
    job.do(builders.drop(job.t, BOLT, 1, "by port 1", source="tray"))
    job.do(builders.drop(job.t, BOLT, 1, "by port 2", source="tray"))
    job.do(builders.find_again(job.t, BOLT, 1, "on the bearer"))
    assert [(drop.near, drop.ended is None) for drop in job.t.drops] == [("by port 1", True), ("by port 2", False)]
    assert_told_alike(job.t)


def test_what_fell_into_a_port_is_not_over_because_another_is_found_on_the_floor(job):
    job.do(builders.drop(job.t, BOLT, 1, "by port 1", source="tray", into="port-1"))
    job.do(builders.drop(job.t, BOLT, 1, "by port 2", source="tray"))
    job.do(builders.find_again(job.t, BOLT, 1, "on the floor"))
    assert [drop.ended is None for drop in job.t.drops] == [True, False]
    job.do(builders.drop(job.t, BOLT, 1, "by port 2", source="tray"))
    job.count(BOLT, 1, "engine/port-1", "tray")
    assert [drop.where_found for drop in job.t.drops] == ["in inlet port 1", "on the floor", ""]
    assert_told_alike(job.t)


def test_a_count_out_of_a_port_that_is_taken_back_opens_the_drop_again(job):
    job.do(builders.drop(job.t, BOLT, 1, "by port 1", source="tray", into="port-1"))
    entry = job.count(BOLT, 1, "engine/port-1", "tray")
    job.do(builders.undo(entry, "the wrong bolt"))
    (drop,) = job.t.drops
    assert (drop.ended, drop.where_found) == (None, "")
    assert_told_alike(job.t)
    job.count(BOLT, 1, "engine/port-1", "tray")
    assert job.t.drops[0].ended is not None


def test_what_is_moved_on_inside_the_engine_is_not_found(job):
    job.do(builders.drop(job.t, BOLT, 1, "by port 1", source="tray", into="port-1"))
    job.count(BOLT, 1, "engine/port-1", "engine/cylinder-1")
    assert job.t.drops[0].ended is None
    assert_told_alike(job.t)
    job.count(BOLT, 1, "engine/cylinder-1", "tray")
    assert job.t.drops[0].where_found == "in cylinder 1"


def test_where_two_phones_found_the_one_it_is_found_once():
    a, b = two_phones()
    a.count(NUT, 2, "fitted/nozzle", "tray")
    a.do(Lifted("nozzle", PHOTO))
    exchange(a, b)
    a.do(builders.miss(a.t, NUT, 1, "tray"))
    a.do(builders.drop(a.t, NUT, 1, "nozzle", source="tray"))
    exchange(a, b)
    a.do(builders.find_again(a.t, NUT, 2, "floor"))
    b.do(builders.find_again(b.t, NUT, 1, "bilge"))
    assert_told_alike(exchange(a, b))


ACTS = st.sampled_from(["miss", "drop", "earlier", "into", "find one", "find two", "take out", "undo", "short"])


@settings(max_examples=60)
@given(st.lists(ACTS, max_size=14))
def test_whatever_is_lost_and_found_in_whatever_order(acts):
    job = Job()
    if "short" in acts:
        job.do(builders.short_at_start(job.t, BOLT, 1, PHOTO))
    job.lift("crossover", "manifold")
    for number, act in enumerate(acts):
        job.later(number)
        lose(job, act)
        assert_told_alike(job.t)


def lose(job: Job, act: str) -> None:
    """One such act, where it can be done."""
    t, who = job.t, (INES, TOMAS)[len(job.t.history) % 2]
    missing, inside = t.quantity(BOLT, "missing"), t.quantity(BOLT, "engine/port-1")
    if act == "miss" and t.quantity(BOLT, "tray"):
        job.do(builders.miss(t, BOLT, 1, "tray"), who)
    elif act in ("drop", "earlier", "into") and t.quantity(BOLT, "tray"):
        into = "port-1" if act == "into" else ""
        job.do(builders.drop(t, BOLT, 1, "", "tray", into, act == "earlier"), who)
    elif act in ("find one", "find two") and missing >= (number := 1 if act == "find one" else 2):
        job.do(builders.find_again(t, BOLT, number, "about"), who)
    elif act == "take out" and inside:
        job.count(BOLT, 1, "engine/port-1", "tray", who)
    elif act == "undo" and (last := builders.last_undoable(t)) and last.fact.moves[0].source.startswith("engine"):
        job.do(builders.undo(last, "wrong"), who)
