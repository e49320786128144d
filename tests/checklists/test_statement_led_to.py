"""A signature for the wrong words leads to where the right ones are read and signed."""

from dataclasses import replace

from workboat_model import Job, only

from checklists import builders
from checklists.facts import HandTurned, Refitted
from mobileapp.screens.lead import way_to_mend


def way(job: Job, fact) -> tuple:
    return way_to_mend(only(job.refused(replace(fact, statement="")), "not its statement"), job.t)


def test_each_signature_leads_to_its_own_statement():
    job = Job()
    job.lift("nozzle")
    job.look_into("nozzle")
    assert way(job, job.clearing("nozzle")) == ("sign_off", {"what": "clear", "closure": "nozzle"})
    job.do(job.clearing("nozzle"))
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    assert way(job, job.signing("nozzle")) == ("sign_off", {"what": "sign", "closure": "nozzle"})
    job.do(job.signing("nozzle"))
    job.do(HandTurned("free"))
    assert way(job, builders.close(job.t, "")) == ("sign_off", {"what": "close", "closure": ""})
