"""The residual-risk sentence: what a count that agrees still leaves, and that nobody takes for a certificate."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.reliability import residual_risk


def test_one_count_leaves_about_a_quarter_of_losses_unseen():
    risk = residual_risk(counts=1, closeouts=0)
    assert risk.if_independent == risk.if_alike == pytest.approx(5 / 22)
    assert risk.words[0] == "Of 100 losses, one count by itself misses about 23."


def test_a_second_count_is_worth_what_its_independence_is():
    risk = residual_risk(counts=2, closeouts=3)
    assert risk.if_independent == pytest.approx((5 / 22) ** 2)
    assert risk.if_alike == pytest.approx(5 / 22)
    assert risk.words == (
        "Of 100 losses, one count by itself misses about 23. After 2 counts that agree, between 5 and 23 stay unseen: "
        "the fewer, the less one count leaned on another.",
        "Basis: Egorova et al. 2008, Ann Surg 247(1):13-8: hospital counts noticed 17 of 22 losses (77 %; "
        "so few losses allow 57 to 90 %). No such figure is published for engines.",
        "3 closeout inspections were made besides. They look for what a count misses; "
        "how much they find is not published.",
        "This is not a certificate: a count that agrees does not show that the engine is empty.",
    )


def test_no_count_notices_nothing():
    risk = residual_risk(counts=0, closeouts=1)
    assert risk.if_independent == risk.if_alike == 1
    assert risk.words[0] == "No count was made, so nothing would have been noticed by counting."


@given(st.integers(0, 30), st.integers(0, 30))
def test_it_never_reads_like_a_certificate(counts: int, closeouts: int):
    risk = residual_risk(counts, closeouts)
    said = " ".join(risk.words)
    assert "not a certificate" in said
    assert "does not show that the engine is empty" in said
    assert not re.search(r"\b(safe|certain|guarantee\w*|100 %|0 %|no risk|cleared)\b", said)
    assert 0 < risk.if_independent <= risk.if_alike <= 1


@given(st.integers(0, 20), st.integers(0, 5))
def test_another_count_never_adds_risk_and_closeouts_change_no_figure(counts: int, closeouts: int):
    fewer, more = residual_risk(counts, closeouts), residual_risk(counts + 1, closeouts)
    assert more.if_independent < fewer.if_independent
    assert more.if_alike <= fewer.if_alike
    assert residual_risk(counts, closeouts + 1).if_independent == fewer.if_independent
