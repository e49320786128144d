"""A clock that was set back: no length of time is claimed over it, neither on the sheet nor in words."""

from __future__ import annotations

from workboat_model import Job

from checklists import builders
from checklists.clock_back import ran_back_at, told
from checklists.closing_account import make_account
from checklists.lost_line import lost_line, where_lost
from checklists.times import duration_words
from checklists.whereabouts.telling import reason


def openings_section(job: Job) -> str:
    account = make_account("t", job.t.history, {"phone-a": "0" * 64})
    (section,) = [one for one in account.sections if one.title.startswith("Openings")]
    return "\n".join(map(str, section.blocks))


def test_the_sheet_does_not_say_that_a_port_stood_open_for_no_time():
    job = Job()
    job.lift("crossover")
    job.later(-120)
    job.do(builders.cover(job.t, "outlet", "cap"))
    said = openings_section(job)
    assert "cannot be told" in said
    assert "a clock was set back while it stood uncovered" in said
    assert "0 s" not in said


def test_what_can_be_told_is_the_least_that_it_was_in_all():
    job = Job()
    job.lift("crossover")
    job.later(-120)
    job.do(builders.cover(job.t, "outlet", "cap"))
    job.do(builders.uncover(job.t, "outlet"))
    job.later(6)
    job.do(builders.cover(job.t, "outlet", "cap"))
    assert "cannot be told\\n7 min\\nin all at least 7 min" in openings_section(job)


def test_a_clock_set_back_in_between_and_passed_again_tells_no_length_either():
    job = Job()
    job.lift("crossover")
    job.later(30)
    job.do(builders.move("rag", 1, "stores", "bench"))
    job.later(-20)
    job.do(builders.cover(job.t, "outlet", "cap"))
    assert "cannot be told" in openings_section(job)


def test_a_clock_that_only_goes_on_tells_every_length():
    job = Job()
    job.lift("crossover")
    job.later(6)
    job.do(builders.cover(job.t, "outlet", "cap"))
    assert ran_back_at(job.t.history) == []
    assert "cannot be told" not in openings_section(job)


def test_two_phones_whose_clocks_differ_are_not_one_that_ran_back():
    job = Job()
    entries = [job.do(builders.move("rag", 1, "stores", "bench")) for _ in range(2)]
    other = entries[1]._replace(device="phone-b", at="2026-03-02T07:59:00.000+01:00")
    assert ran_back_at([entries[0], other]) == []
    assert ran_back_at([entries[0], other._replace(device="phone-a")]) == [2]
    assert told([2], (2, 0), "2026-03-02T08:00:00+01:00", "2026-03-02T08:01:00+01:00") == 60
    assert told([2], (1, 0), "2026-03-02T08:00:00+01:00", "2026-03-02T08:01:00+01:00") is None


def test_no_time_below_nothing_is_said_in_seconds():
    assert [duration_words(seconds) for seconds in (0, 5, -0.4)] == ["0 s", "5 s", "0 s"]
    assert duration_words(-3600) == "a time that cannot be told"


def test_an_item_missed_over_it_could_be_inside_for_a_time_that_cannot_be_told():
    job = Job()
    job.lift("crossover")
    job.later(-120)
    job.do(builders.miss(job.t, "rag", 1, "stores"))
    placed, _ = where_lost(job.t, lost_line(job.t, "rag"))
    reasons = [reason(one.candidate, job.t.sheet) for one in placed]
    assert any("stood uncovered for a time that cannot be told" in words for words in reasons), reasons
