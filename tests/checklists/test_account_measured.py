"""What was measured, weighed, tightened and searched stands in the closing account, with instrument and verdict."""

from __future__ import annotations

from dataclasses import replace

from account_reading import account_of, rows, titles, words
from test_broken_part_adds_up import LETTER, broken, piece
from test_counting_by_weight import TEN
from test_limits_measured import DEPTH, LIMITED, reads
from test_tightening_ticked import MAPPED, tick_all
from workboat_model import BOLT, HEAD, INES, NUT, TOMAS, Job

from checklists import builders
from checklists.account.parts import Words
from checklists.by_weight import ONE_LINE_ONLY, hands_in, whose_count
from checklists.facts import Refitted
from checklists.facts_measured import Gauge, Searched
from checklists.residual import risk_of
from checklists.sheet import Line


def test_every_reading_of_a_limit_with_its_instrument_and_verdict():
    job = Job(sheet=LIMITED)
    job.lift("nozzle")
    assert "nozzle holder: push rod proud" in words(account_of(job).sections)
    job.do(reads("0.529 in"))
    job.do(reads("0.523 in", Gauge("steel rule", "1/64 in")), TOMAS)
    job.do(reads("0.5235 in"))
    told = rows(account_of(job), "Limits measured")
    assert [row[1] for row in told] == [INES, TOMAS, INES]
    assert told[0][2] == "nozzle holder: push rod proud\n0.522 in to 0.525 in"
    assert told[0][3] == f"0.529 in\ndepth gauge, reads to {DEPTH.step}, error up to {DEPTH.error}"
    assert [row[4] for row in told] == [
        "OUTSIDE; measured again, or off again since",
        "TOO CLOSE TO CALL; measured again, or off again since",
        "inside",
    ]


def test_fasteners_tightened_pass_by_pass():
    job = Job(sheet=MAPPED)
    job.lift("crossover", "manifold")
    job.clear("manifold")
    job.do(Refitted("manifold"))
    job.home("manifold")
    tick_all(job)
    told = [row for row in rows(account_of(job), "Torques") if row[1].endswith("%")]
    assert [row[:3] for row in told] == [("manifold", "50 %", "10"), ("manifold", "100 %", "10")]


def test_a_broken_part_its_pieces_and_whether_they_add_up():
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    halves = [(Line("wrench-piece", "wrench piece", "part", 2, "stores"), 2)]
    job.do(builders.convert("wrench", 1, "bench", halves, "broken"))
    job.do(broken())
    assert "Whether the pieces add up is not known: none was weighed." in words(account_of(job).sections)
    job.do(piece("jaw", "2.10 g"))
    job.do(piece("handle", "4.31 g"), TOMAS)
    account = account_of(job)
    (section,) = [section for section in account.sections if section.title.startswith("Broken parts")]
    told = rows(account, "Broken parts")
    assert [row[:2] for row in told] == [("jaw", "2.10 g"), ("handle", "4.31 g")]
    assert told[0][3] == f"letter scale, reads to {LETTER.step}, error up to {LETTER.error}"
    assert "6.42 g, from an identical part weighed" in words(section)
    assert [block.loud for block in section.blocks if isinstance(block, Words)] == [False]
    job.do(piece("handle", "3.10 g"), TOMAS)
    (section,) = [section for section in account_of(job).sections if section.title.startswith("Broken parts")]
    assert [block.loud for block in section.blocks if isinstance(block, Words)] == [True]


def test_a_mass_worked_out_says_from_what():
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    given = "cylinder 12.0 mm x 64.0 mm, each within 0.1 mm; density 2.70 g/cm3 within 0.05 g/cm3"
    job.do(replace(broken(), basis="its dimensions", gauge=Gauge("", ""), density="2.70 g/cm3", worked_out=given))
    assert f"6.42 g, from its dimensions, within 0.05 g; {given}" in words(account_of(job).sections)


def test_the_lengths_of_a_broken_part_stand_beside_its_mass():
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    job.do(replace(broken(), length="120 mm"))
    job.do(replace(piece("all of it", "6.41 g"), length="80 mm", length_within="0.5 mm"))
    (section,) = [section for section in account_of(job).sections if section.title.startswith("Broken parts")]
    assert "The whole is long 120 mm ± 1 mm" in words(section).replace("\n", " ")
    assert rows(account_of(job), "Broken parts")[0][2] == "80 mm ± 0.5 mm"
    length, mass = [block for block in section.blocks if isinstance(block, Words)]
    assert (length.loud, mass.loud) == (True, False), "what is short is read first"
    assert mass.text.startswith("By mass: Adds up.")
    assert length.text.startswith("Laid end to end the pieces are short by 40.0")


def test_a_count_by_weight_is_told_as_one():
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    job.do(TEN, TOMAS)
    (told,) = rows(account_of(job), "Counts by weight")
    assert told[1:3] == (TOMAS, "10 M8 bolts in the tray; independent of whoever put them there")
    job.do(replace(TEN, number=9, gross="210.0 g"), TOMAS)
    assert rows(account_of(job), "Counts that differed")[0][2].startswith("M8 bolt: 9 counted in the tray")


def test_a_count_by_weight_by_whoever_put_them_there_is_marked():
    job = Job()
    job.count(BOLT, 10, "fitted/manifold", "tray")
    job.do(TEN)
    (told,) = rows(account_of(job), "Counts by weight")
    assert told[2] == "10 M8 bolts in the tray; NOT independent: by whoever put them there"


def test_whoever_put_one_of_them_there_does_not_count_them_independently():
    job = Job()
    job.count(BOLT, 6, "fitted/manifold", "tray")
    job.do(builders.count_out(job.t, BOLT, 4), TOMAS)
    assert whose_count(job.t, BOLT, "tray", TOMAS) == "NOT independent: by one of those who put them there"
    job.do(TEN, TOMAS)
    job.count(BOLT, 10, "tray", "bench")
    assert whose_count(job.t, BOLT, "bench", TOMAS) == "independent of whoever put them there"
    assert hands_in(job.t, BOLT, "tray") == frozenset(), "nothing lies there any more"
    (told,) = rows(account_of(job), "Counts by weight")
    assert told[2].endswith("NOT independent: by one of those who put them there"), "as it was when it was counted"


def test_a_count_by_weight_is_not_among_the_counts_of_the_residual_risk_and_that_is_said_beside_it():
    """They are of all that a closure's spaces could hold; a bag weighed is of one line."""
    job = Job()
    job.lift("crossover", "manifold")
    before = risk_of(job.t)
    job.do(TEN, TOMAS)
    risk = risk_of(job.t)
    assert (risk.if_alike, risk.if_independent) == (before.if_alike, before.if_independent)
    assert risk.words == (*before.words, ONE_LINE_ONLY)
    for title in ("What a correct count does not show", "Counts by weight"):
        (section,) = [each for each in account_of(job).sections if each.title == title]
        assert ONE_LINE_ONLY in [block.text for block in section.blocks if isinstance(block, Words)]


def test_every_search_for_what_never_was_found():
    job = Job()
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray", "one where two should be"))
    job.do(Searched(NUT, "cylinder-1", "magnet", False, "nothing on the crown"))
    job.do(Searched(NUT, "the bilge", "sieve", False, "only paint"), TOMAS)
    job.do(Searched(NUT, "cylinder-1", "mirror", False, "a ledge in the way", reached=False), TOMAS)
    job.do(Searched(NUT, "cylinder-1", "borescope", False, "past the ledge, bare"), TOMAS)
    job.do(builders.released(job.t, "It must be towed.", "", HEAD), TOMAS)
    missing, one, other, tried, _again = [row[2] for row in rows(account_of(job), "Drops")]
    assert missing == "MISSING: 1 M8 nut, last in the tray. Note: one where two should be."
    assert one == "Searched cylinder 1 for the M8 nut, magnet: not found; nothing on the crown."
    assert other == "Searched the bilge for the M8 nut, sieve: not found; only paint."
    assert tried == "Searched cylinder 1 for the M8 nut, mirror: COULD NOT BE LOOKED INTO; a ledge in the way."


def test_a_job_without_any_of_it_says_nothing_of_it():
    job = Job()
    job.lift("nozzle")
    assert not {"Limits measured", "Counts by weight", "Broken parts and their pieces", "Torques"} & set(
        titles(account_of(job))
    )
