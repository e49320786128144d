"""Conformity of a measurement against JCGM 106 and the standard normal law. data/ names its sources."""

from random import Random

import pytest
from outside_rows import outside_rows

from checklists.workshop.limits import Limits, judge_measurement, probability_of_conformity
from checklists.workshop.uncertainty import Instrument
from checklists.workshop.units import Figure, read_figure


def length(text: str) -> Figure:
    figure = read_figure(text, "length")
    assert isinstance(figure, Figure)
    return figure


@pytest.mark.parametrize("row", outside_rows("jcgm106_examples"), ids=lambda row: row["section"])
def test_probabilities_of_conformity_are_those_of_jcgm_106(row: dict[str, str]):
    least, most = (float(row[end]) if row[end] else None for end in ("limit_low", "limit_high"))
    conforms = probability_of_conformity(float(row["y"]), float(row["u"]), least, most)
    assert conforms == pytest.approx(float(row["p_conform"]), abs=0.0001)


def test_a_two_sided_probability_is_that_of_many_draws():
    """Monte Carlo, seeded: true values about a reading of 9.98 with u = 0.01 between 9.97 and 10.00."""
    lots = Random(106)
    draws = [lots.gauss(9.98, 0.01) for _ in range(100_000)]
    inside = sum(9.97 <= draw <= 10.00 for draw in draws) / len(draws)
    assert probability_of_conformity(9.98, 0.01, 9.97, 10.00) == pytest.approx(inside, abs=0.005)


def test_the_guard_band_leaves_at_most_the_risk_of_its_k():
    """JCGM 106 8.3.2: a guard band of k u leaves at most 1 - Phi(k): 2.3 % for k = 2, with one limit."""
    gauge, most = Instrument("gauge", 0.01, 0.02), Limits(None, length("10 mm"))
    accepted = [
        judged.conforms
        for micrometres in range(9900, 10100)
        if (judged := judge_measurement(length(f"{micrometres / 1000:.3f} mm"), gauge, most)).verdict
        == "inside"
    ]
    assert accepted
    assert min(accepted) >= 0.977


def test_common_practice_a_push_rod_that_must_stand_proud():
    """Common practice, no source: a pump push rod stands 0.522 to 0.525 in proud on the low side of its cam."""
    limits = Limits(length("0.522 in"), length("0.525 in"))
    micrometer = Instrument("depth micrometer", 0.0254 * 0.5, 0.0127)
    verdicts = {
        text: judge_measurement(length(text), micrometer, limits).verdict
        for text in ("0.5235 in", "0.525 in", "0.5300 in", "0.519 in")
    }
    assert verdicts == {
        "0.5235 in": "inside", "0.525 in": "too close to call", "0.5300 in": "outside", "0.519 in": "outside",
    }  # fmt: skip
