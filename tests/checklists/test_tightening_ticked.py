"""Where a sheet gives positions and passes, every fastener is ticked in every pass before its closure is signed."""

from dataclasses import replace
from decimal import Decimal

import pytest
from account_reading import account_of, rows
from hypothesis import given, settings
from hypothesis import strategies as st
from test_merging import clear, strip, wait
from two_phones import exchange, two_phones
from workboat_model import BOLT, HEAD, SHEET, TOMAS, Job, codes, only, plain

from checklists import builders
from checklists.facts import Entry, Move, Refitted, Reversed, WorkDone
from checklists.facts_measured import Tightened
from checklists.next_act import next_act
from checklists.story_words import say
from checklists.teardown import fold
from checklists.tightening_plan import plan_of, step_words, steps_left

PLACES = tuple((Decimal(x), Decimal(y)) for y in (0, 60) for x in (0, 50, 100, 150, 200))
MANIFOLD = replace(
    next(c for c in SHEET.closures if c.id == "manifold"), positions=PLACES, passes=(50, 100), second_count=False
)
MAPPED = replace(SHEET, closures=tuple(MANIFOLD if c.id == "manifold" else c for c in SHEET.closures))


@pytest.fixture
def job() -> Job:
    """The manifold is set down and everything counted home; nothing is tightened."""
    return ready()


def ready() -> Job:
    """The same, made anew."""
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


def test_of_an_angle_no_share_is_told():
    angled = replace(MANIFOLD, torque="20 N.m + 90 deg")
    job = Job(sheet=replace(MAPPED, closures=tuple(angled if c.id == "manifold" else c for c in MAPPED.closures)))
    told = step_words(job.t, "manifold", steps_left(job.t, "manifold")[0])
    assert told == "Tighten number 1 of 10, pass 1 of 2 of the maker's 20 N.m + 90 deg"


def test_the_makers_stages_are_told_as_the_maker_writes_them():
    staged = replace(MANIFOLD, torque="8 Nm, 16 Nm, 24 Nm", passes=(33, 67, 100))
    job = Job(sheet=replace(MAPPED, closures=tuple(staged if c.id == "manifold" else c for c in MAPPED.closures)))
    told = [step_words(job.t, "manifold", step) for step in steps_left(job.t, "manifold")[::10]]
    assert told == [
        "Tighten number 1 of 10 to 33 % (8 Nm), pass 1 of 3",
        "Tighten number 1 of 10 to 67 % (16 Nm), pass 2 of 3",
        "Tighten number 1 of 10 to 100 % (24 Nm), pass 3 of 3",
    ]


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


# ---- a tick taken back


def test_a_tick_taken_back_makes_the_bolt_due_again_and_both_stay_on_record(job):
    first = job.do(Tightened("manifold", 1, 50))
    tick = job.do(Tightened("manifold", 6, 50))
    assert builders.last_tick(job.t, "manifold") == builders.last_undoable(job.t) == tick
    back = job.do(builders.undo(tick, "the wrench had slipped"), TOMAS)
    assert back.fact.moves == ()
    assert job.t.history[-2:] == [tick, back]
    assert (6, 50) in [(step.bolt, step.percent) for step in steps_left(job.t, "manifold")]
    assert len(steps_left(job.t, "manifold")) == 19
    assert builders.last_tick(job.t, "manifold") == first
    job.do(Tightened("manifold", 6, 50))
    assert len(steps_left(job.t, "manifold")) == 18


def test_a_tick_is_taken_back_once_and_only_while_it_stands(job):
    tick = job.do(Tightened("manifold", 6, 50))
    job.do(builders.undo(tick, "slipped"))
    assert codes(job.refused(builders.undo(tick, "again"))) == ["undone already"]
    old = job.do(Tightened("manifold", 6, 50))
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.count(BOLT, 1, "tray", "fitted/manifold")
    assert codes(job.refused(builders.undo(old, "too late"))) == ["not ticked"]
    job.do(Tightened("manifold", 6, 50))
    assert codes(job.refused(builders.undo(old, "the older one"))) == ["not ticked"]


def test_no_pass_is_taken_back_from_under_a_higher_one(job):
    low = job.do(Tightened("manifold", 6, 50))
    high = job.do(Tightened("manifold", 6, 100))
    reason = only(job.refused(builders.undo(low, "slipped")), "pass left out")
    assert reason.words == "Number 6 is ticked at 100 % too."
    job.do(builders.undo(high, "slipped"))
    job.do(builders.undo(low, "slipped"))
    assert len(steps_left(job.t, "manifold")) == 20


def test_under_a_signature_nothing_is_taken_back_and_without_a_tick_it_is_not_signed(job):
    tick_all(job)
    last = builders.last_tick(job.t, "manifold")
    job.do(builders.undo(last, "not sure of it"))
    assert "not tightened" in codes(job.refused(job.signing("manifold")))
    tick = job.do(last.fact)
    job.do(job.signing("manifold"))
    reason = only(job.refused(builders.undo(tick, "not sure of it")), "not to be tightened")
    assert "out and home again" in reason.do_next


def test_a_reversal_that_moves_something_takes_no_tick_back(job):
    tick = job.do(Tightened("manifold", 6, 50))
    moved = Reversed(tick.device, tick.seq, "no", (Move(BOLT, 1, "fitted/manifold", "tray"),))
    assert codes(job.refused(moved)) == ["not its movements"]


def test_it_is_told_in_words_and_in_the_closing_account(job):
    tick_all(job)
    taken = job.do(builders.undo(builders.last_tick(job.t, "manifold"), "the wrench had slipped"))
    assert say(job.t, [taken.fact]) == (
        "takes back a tick (the wrench had slipped): number 9 of the manifold to 100 %, which is due again"
    )
    account = account_of(job)
    (row,) = rows(account, "Counts and ticks taken back")
    assert "number 9 of the manifold tightened to 100 %" in row[2]
    ticks = [row[:3] for row in rows(account, "Torques") if row[1].endswith("%")]
    assert ticks == [("manifold", "50 %", "10"), ("manifold", "100 %", "9, 1 taken back")]


def test_two_phones_that_had_not_met_leave_the_bolt_due_and_the_signature_recalled():
    ines, tomas = two_phones(sheet=MAPPED)
    strip(ines, "crossover", "manifold")
    clear(ines, "manifold")
    ines.do(Refitted("manifold"))
    for line in ines.t.lines_of("manifold"):
        if quantity := ines.t.quantity(line, "tray"):
            ines.count(line, quantity, "tray", "fitted/manifold")
    for step in steps_left(ines.t, "manifold"):
        ines.do(Tightened("manifold", step.bolt, step.percent))
    exchange(ines, tomas)
    ines.do(builders.sign(ines.t, "manifold", "24 N.m", HEAD))
    wait(tomas, 2)
    tomas.do(builders.undo(builders.last_tick(tomas.t, "manifold"), "the wrench had slipped"))
    t = exchange(ines, tomas)
    assert t.closure_states["manifold"].stage == "recalled"
    assert t.closure_states["manifold"].remark == "Sign-off recalled: a tick of its tightening was taken back."
    assert len(steps_left(t, "manifold")) == 1


@given(st.lists(st.tuples(st.integers(1, 10), st.sampled_from((50, 100)), st.booleans()), max_size=40))
@settings(max_examples=40, deadline=None)
def test_whatever_is_ticked_and_taken_back_no_pass_is_ever_left_out(acts):
    job = ready()
    stand: dict[tuple[int, int], Entry] = {}
    for number, percent, back in acts:
        entry = stand.get((number, percent))
        if back and entry:
            fact, may = builders.undo(entry, "slipped"), percent == 100 or (number, 100) not in stand
        elif back:
            continue
        else:
            fact = Tightened("manifold", number, percent)
            may = entry is None and (percent == 50 or (number, 50) in stand)
        if not may:
            assert job.refused(fact)
        elif back:
            job.do(fact)
            del stand[number, percent]
        else:
            stand[number, percent] = job.do(fact)
        assert set(job.t.tightened.get("manifold", {})) == set(stand)
        assert len(steps_left(job.t, "manifold")) == 20 - len(stand)
        assert all((bolt, 50) in stand for bolt, share in stand if share == 100)
    assert plain(fold(job.t.history)) == plain(job.t)


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
