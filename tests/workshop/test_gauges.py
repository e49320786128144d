"""An instrument is what its display can show: one without a step does not exist."""

import pytest

from checklists.facts_measured import Gauge, WeighCounted
from checklists.gauges import as_typed, instrument_of
from checklists.judge_measured import weigh_count_of
from checklists.workshop.uncertainty import Instrument
from checklists.workshop.units import NotUnderstood


@pytest.mark.parametrize(("step", "error"), [("0 g", ""), ("0 g", "0 g"), ("0.00 g", "0.1 g")])
def test_a_scale_that_reads_to_nothing_does_not_exist(step: str, error: str):
    read = instrument_of(Gauge("scale", step, error), "mass")
    assert isinstance(read, NotUnderstood)
    assert read.words == f"scale: one that reads to {step} does not exist; type the step of its display."


def test_a_scale_without_an_error_of_its_own_still_has_its_step():
    assert instrument_of(Gauge("scale", "0.1 g", "0 g"), "mass") == Instrument("scale", 0.1, 0.0)


def test_a_bag_is_not_counted_on_a_scale_without_a_step():
    reasons = weigh_count_of(WeighCounted("", "", 0, "97.6 g", "12 g", "42.8 g", 5, "1", Gauge("scale", "0 g")))
    assert isinstance(reasons, tuple)
    assert "type the step of its display" in reasons[0].words


def test_masses_typed_to_a_gram_are_no_better_than_a_gram():
    fine = Instrument("scale", 0.001, 0.001)
    assert as_typed(fine, "6 g", "4.25 g") == Instrument("scale", 1.0, 0.001)
    assert as_typed(fine, "6.000 g", "4.000 g") == fine
    assert as_typed(fine, "0.006 kg") == Instrument("scale", 1.0, 0.001)


def test_a_bag_typed_to_a_gram_is_counted_no_finer_than_a_gram():
    def count(gross: str, sample: str):
        gauge = Gauge("scale", "0.01 g")
        return weigh_count_of(WeighCounted("", "", 0, gross, "0 g", sample, 10, "0", gauge))

    assert count("20.00 g", "10.00 g").number == 20
    assert count("20 g", "10 g").number is None


def test_an_empty_bag_is_not_counted():
    reasons = weigh_count_of(WeighCounted("", "", 0, "12 g", "12.0 g", "42.8 g", 5, "1", Gauge("scale", "0.1 g")))
    assert isinstance(reasons, tuple)
    assert "no more than the empty one" in reasons[0].words
