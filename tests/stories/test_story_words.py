"""Every kind of fact is told in words of its own."""

from checklists.facts import FACT_TYPES, Counted
from checklists.story_words import TOLD, say
from checklists.teardown import fold


def test_no_kind_of_fact_is_left_without_words():
    assert set(FACT_TYPES.values()) - set(TOLD) == {Counted}


def test_nothing_that_happened_is_nothing_said():
    assert say(fold([]), []) == ""


def test_single_counts_are_told_as_one_sum(stage):
    played = stage.play("""
[[step]]
do = "count out"
line = "rag"
quantity = 3
""")
    assert played.results[1].words == "counts 3 rags: put away -> on the bench"
    assert len(played.results[1].entries) == 3
