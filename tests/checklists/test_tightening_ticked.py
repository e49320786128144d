"""Where a sheet gives positions and passes, every fastener is ticked in every pass before its closure is signed."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from workboat_model import BOLT, SHEET, TOMAS, Job, codes, only

from checklists.facts import Refitted, WorkDone
from checklists.facts_measured import Tightened
from checklists.next_act import next_act
from checklists.tightening_plan import plan_of, steps_left

PLACES = tuple((Decimal(x), Decimal(y)) for y in (0, 60) for x in (0, 50, 100, 150, 200))
MANIFOLD = replace(
    next(c for c in SHEET.closures if c.id == "manifold"), positions=PLACES, passes=(50, 100), second_count=False
)
MAPPED = replace(SHEET, closures=tuple(MANIFOLD if c.id == "manifold" else c for c in SHEET.closures))


@pytest.fixture
def job() -> Job:
    """The manifold is set down and everything counted home; nothing is tightened."""
    job = Job(sheet=MAPPED)
    job.lift("crossover", "manifold")
    job.clear("manifold")
    job.do(Refitted("manifold"))
    job.home("manifold")
    return job


def tick_all(job: Job) -> None:
    for step in steps_left(job.t, "manifold"):
        job.do(Tightened("manifold", step.bolt, step.percent))


def test_untightened_it_is_not_signed_and_the_next_step_is_named(job):
    reason = only(job.refused(job.signing("manifold")), "not tightened")
    assert reason.words == "20 of 20 tightening steps of the manifold are not ticked."
    assert reason.do_next == "Tighten number 1 of 10 to 50 % (12 N.m), pass 1 of 2, and tick it."
    tick_all(job)
    assert job.signing("manifold").statement.endswith("20 of 20 tightening steps ticked.")
    job.do(job.signing("manifold"))


def test_the_middle_of_a_long_flange_comes_first_and_the_two_sides_in_turn(job):
    order = plan_of(MANIFOLD).order.order
    assert set(order[:2]) == {1, 6}  # the middle bolt above, where the numbers begin, and the one below
    assert sorted(order) == list(range(1, 11))


def test_another_order_is_possible_but_no_pass_is_left_out_for_a_bolt(job):
    job.do(Tightened("manifold", 10, 50))
    job.do(Tightened("manifold", 10, 100), TOMAS)
    assert codes(job.refused(Tightened("manifold", 1, 100))) == ["pass left out"]
    assert codes(job.refused(Tightened("manifold", 10, 50))) == ["ticked already"]
    assert codes(job.refused(Tightened("manifold", 11, 50))) == ["no such step"]
    assert codes(job.refused(Tightened("manifold", 1, 70))) == ["no such step"]
    assert len(steps_left(job.t, "manifold")) == 18


def test_a_bolt_that_came_out_again_unticks_the_whole_closure(job):
    tick_all(job)
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.count(BOLT, 1, "tray", "fitted/manifold")
    assert len(steps_left(job.t, "manifold")) == 20


def test_nothing_is_tightened_before_everything_is_home_nor_after_it_is_signed(job):
    tick_all(job)
    job.do(job.signing("manifold"))
    assert codes(job.refused(Tightened("manifold", 1, 50))) == ["not to be tightened"]
    job.count(BOLT, 1, "fitted/manifold", "tray")
    assert codes(job.refused(Tightened("manifold", 1, 50))) == ["not home"]


def test_a_closure_without_a_map_is_signed_as_before(job):
    assert codes(job.refused(Tightened("nozzle", 1, 100))) == ["no map"]
    assert codes(job.refused(Tightened("sump", 1, 100))) == ["no map"]


def test_the_next_act_names_each_fastener_and_pass_and_then_the_signature(job):
    job.do(WorkDone(""))
    acts = []
    while (act := next_act(job.t, job.now)).do == "tighten":
        acts.append((act.number, act.percent))
        job.do(Tightened(act.closure, act.number, act.percent))
    assert len(acts) == 20
    assert [percent for _, percent in acts] == [50] * 10 + [100] * 10
    assert (act.do, act.closure) == ("sign", "manifold")


corners = st.decimals(Decimal(-500), Decimal(500), places=1)


@given(places=st.lists(st.tuples(corners, corners), min_size=1, max_size=14, unique=True),
       passes=st.sampled_from([(100,), (50, 100), (30, 70, 100)]))  # fmt: skip
def test_a_plan_names_each_fastener_once_in_each_pass(places, passes):
    plan = plan_of(replace(MANIFOLD, positions=tuple(places), passes=passes))
    assert sorted(plan.order.order) == sorted(plan.order.numbers) == list(range(1, len(places) + 1))
    assert [step.percent for step in plan.steps] == [p for p in passes for _ in places]
    assert len(set(plan.steps)) == len(places) * len(passes)
