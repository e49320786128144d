"""The published count study through the sensitivity function.

Egorova et al. 2008, Ann Surg 247(1):13-8: 153 263 operations, 1 062 discrepancies; sensitivity 77.2 %, specificity
99.2 %, positive predictive value 1.6 %. As a two-by-two table: 17 noticed, 5 missed, 1045 false alarms, 152196 quiet.
"""

import pytest

from checklists.workshop.reliability import EGOROVA_2008


def test_the_table_gives_the_published_figures():
    assert EGOROVA_2008.sensitivity == pytest.approx(0.772, abs=0.001)
    assert EGOROVA_2008.specificity == pytest.approx(0.992, abs=0.0015)
    assert EGOROVA_2008.predictive_value == pytest.approx(0.016, abs=0.0005)


def test_the_table_adds_up_to_the_published_numbers():
    study = EGOROVA_2008
    assert study.noticed + study.missed + study.false_alarms + study.quiet == 153_263
    assert study.noticed + study.false_alarms == 1_062


def test_the_interval_is_wilsons():
    """Wilson's score interval for 17 of 22, recomputed: it solves (p - s)^2 = z^2 p (1 - p) / n at both ends."""
    n, s = 22, EGOROVA_2008.sensitivity
    for p in EGOROVA_2008.sensitivity_interval():
        assert (p - s) ** 2 == pytest.approx(1.96**2 * p * (1 - p) / n)
