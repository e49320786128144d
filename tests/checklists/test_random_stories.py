"""Random stories: the rules and an independent notebook agree on every act, and every cut of the history is valid."""

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test
from random_stories_model import Stories

# deadline: a story is as long as it is, on whatever machine. derandomize: the everyday run is the same everywhere, so
# that a failure is the change's doing and not the day's; the slow run looks for new stories.
EVERYDAY = settings(
    max_examples=150,
    stateful_step_count=40,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)


def test_the_rules_agree_with_the_notebook():
    run_state_machine_as_test(Stories, settings=EVERYDAY)


@pytest.mark.slow
def test_the_rules_agree_with_the_notebook_over_many_new_stories():
    run_state_machine_as_test(Stories, settings=settings(EVERYDAY, max_examples=2000, derandomize=False))
