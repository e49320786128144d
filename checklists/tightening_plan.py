"""Refitting in the tightening order: which fastener comes next, in which pass, and which are still to be ticked."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from checklists.reasons import Reason
from checklists.sheet import Closure
from checklists.state import Teardown
from checklists.words import within
from checklists.workshop.tightening import Step, TighteningOrder, pass_target, tightening_order, tightening_steps
from checklists.workshop.torque_figure import AngleFigure, read_torque
from checklists.workshop.units import NotUnderstood


class TighteningPlan(NamedTuple):
    """The number of each fastener at its position, the order, and every step of every pass."""

    order: TighteningOrder
    steps: tuple[Step, ...]


@lru_cache(maxsize=64)
def plan_of(closure: Closure) -> TighteningPlan | None:
    """The plan of a closure; None where its sheet gives no positions and passes, so that nothing is ticked."""
    if not closure.positions or not closure.passes:
        return None
    order = tightening_order([(float(x), float(y)) for x, y in closure.positions], closure.y_down)
    return TighteningPlan(order, tightening_steps(order, closure.passes))


def steps_left(t: Teardown, closure: str) -> tuple[Step, ...]:
    """The steps not ticked yet, the next one first; none where nothing is to be ticked."""
    plan, done = plan_of(t.closures[closure]), t.tightened.get(closure, {})
    return () if plan is None else tuple(step for step in plan.steps if (step.bolt, step.percent) not in done)


def step_words(t: Teardown, closure: str, step: Step) -> str:
    """One step as an act: "Tighten number 3 of 10 to 30 % (2.7 lbf.ft), pass 1 of 3". An angle has no share."""
    whole = t.closures[closure]
    figure = read_torque(whole.torque) if whole.torque else None
    number, turn = f"number {step.bolt} of {len(whole.positions)}", f"pass {step.passing} of {len(whole.passes)}"
    if isinstance(figure, AngleFigure):
        return f"Tighten {number}, {turn} of the maker's {figure.text}"
    target = "" if figure is None or isinstance(figure, NotUnderstood) else f" ({pass_target(figure, step.percent)})"
    return f"Tighten {number} to {step.percent} %{target}, {turn}"


def tightening_reasons(t: Teardown, closure: str) -> Iterator[Reason]:
    """Fasteners not yet tightened in every pass."""
    left = steps_left(t, closure)
    if not left:
        return
    plan = plan_of(t.closures[closure])
    steps = len(plan.steps) if plan else 0
    name = within(t.closures[closure].name)
    yield Reason(
        "not tightened",
        f"{len(left)} of {steps} tightening steps of the {name} are not ticked.",
        f"{step_words(t, closure, left[0])}, and tick it.",
        quantity=len(left),
        closure=closure,
    )
