"""What a story expects is really looked at: every kind of expectation fails when it does not hold."""

import pytest

OUT = '[[step]]\ndo = "count out"\nline = "rag"\n'
LIFT = '[[step]]\ndo = "lift"\nclosure = "rocker-cover"\nphoto = "p.jpg"\n'
NEVER = '[[step]]\ndo = "count back"\nline = "rag"\n'


@pytest.mark.parametrize(
    ("steps", "failure"),
    [
        (NEVER, "should have happened, but: 1 rag more come back than the tally has on the bench (0)"),
        (OUT + 'refused = ["surplus"]\n', "should have been refused, but it happened"),
        (LIFT + 'refused = ["surplus"]\n', "should have been refused with 'surplus', but was not"),
        (LIFT + 'refused = ["still fitted", "lies over", "surplus"]\n', "with 'surplus', but was not"),
        (LIFT + 'refused = ["still fitted"]\nonly = true\n', "was refused with 'lies over' as well"),
        (OUT + 'says = ["counts 2 Rags"]\n', "nothing says 'counts 2 Rags'"),
        (OUT + "tally = { out = 2 }\n", "the tally of out should be 2, but is 1"),
        (OUT + "tally = { in_engine = 1 }\n", "the tally of in_engine should be 1, but is 0"),
        (OUT + "tally = { missing = 1 }\n", "the tally of missing should be 1, but is 0"),
        (OUT + 'stage = { rocker-cover = "lifted" }\n', "the closure rocker-cover should be lifted, but is fitted"),
        (OUT + 'opening_state = { head-top = "covered" }\n', "the opening head-top should be covered, but is sealed"),
        ('[[step]]\ndo = "undo"\n', "should have happened, but: The last thing done was not a count."),
        ('[[step]]\ndo = "why not close"\n', "should have happened, but: Caution not acknowledged"),
        ('[[step]]\ndo = "why not"\nclosure = "rocker-cover"\nrefused = ["missing"]\n', "should have been refused"),
    ],
)  # fmt: skip
def test_what_does_not_hold_is_told(stage, steps, failure):
    rehearsal = stage.play(steps)
    assert not rehearsal.held
    assert any(failure in told for _, told in rehearsal.failures), rehearsal.failures


def test_what_holds_is_not_told(stage):
    rehearsal = stage.play(
        OUT + 'expect = "done"\nsays = ["counts 1 Rag"]\ntally = { out = 1, in_engine = 0, missing = 0 }\n'
        + 'stage = { rocker-cover = "fitted" }\nopening_state = { head-top = "sealed" }\n'
        + LIFT + 'expect = "refused"\nonly = true\n'
        + 'refused = ["still fitted", "lies over", "caution unread", "no baseline photo"]\n'
        + NEVER + NEVER + 'refused = ["surplus"]\n'
    )  # fmt: skip
    assert rehearsal.failures == ()


def test_a_start_that_the_rules_refuse_is_a_failure_and_nothing_is_played(stage):
    head = """
sheet = "rocker-cover"
machine = " "
reason = "to see inside"
starts = 2026-03-02T08:15:00+01:00
people = [{ name = "Ines Vardal", role = "fitter" }, { name = "Ines Vardal", role = "deckhand" }]
"""
    rehearsal = stage.play(OUT, head)
    assert [failure for _, failure in rehearsal.failures] == [
        "it could not be started: The machine is not named.",
        "it could not be started: Two people have the same name.",
    ]
    assert len(rehearsal.results) == 1


def test_a_refusal_changes_nothing_and_the_story_goes_on(stage):
    rehearsal = stage.play(OUT + NEVER + NEVER + OUT)
    assert [len(result.entries) for result in rehearsal.results[1:]] == [1, 1, 0, 1]
    assert len(stage.journal.entries(rehearsal.teardown)) == 4


def test_counting_ends_at_the_first_count_that_is_refused(stage):
    rehearsal = stage.play(OUT + "quantity = 2\n" + NEVER + "quantity = 3\n" + 'refused = ["surplus"]\n')
    assert rehearsal.held
    assert len(rehearsal.results[2].entries) == 2


def test_at_once_is_one_count(stage):
    rehearsal = stage.play(OUT + "quantity = 3\nat_once = true\n")
    (entry,) = rehearsal.results[1].entries
    assert entry.fact.moves == (("rag", 3, "stores", "bench"),)


def test_the_clock_of_a_story_steps_as_it_is_told(stage):
    later, pause = OUT + 'after = "1 h 2 min 3 s"\nquantity = 2\n', '[[step]]\ndo = "wait"\nafter = "40 s"\n'
    rehearsal = stage.play(OUT + later + pause)
    assert [result.at[11:19] for result in rehearsal.results] == ["08:15:00", "08:15:05", "09:17:10", "09:17:50"]
    assert rehearsal.results[1].entries[0].at == "2026-03-02T08:15:05.000+01:00"


def test_who_does_a_step_is_the_first_person_unless_said(stage):
    rehearsal = stage.play(OUT + 'who = "Tomas Reke"\n' + OUT)
    assert [result.who for result in rehearsal.results] == ["Ines Vardal", "Tomas Reke", "Ines Vardal"]


def test_something_that_a_refused_step_should_have_brought_is_refused_too(stage):
    """Nothing breaks where a line is used that an earlier conversion failed to make."""
    rehearsal = stage.play("""
[[step]]
do = "tear"
line = "rag"
from = "on the bench"
into = [{ id = "half", name = "Half rag", kind = "rag", quantity = 2 }]

[[step]]
do = "count back"
line = "half"
""")
    assert [reason.code for reason in rehearsal.results[2].reasons] == ["unknown line"]
