"""The workshop on the command line: by figures alone and on a teardown, in words and as JSON, slips told plainly."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from mobileapp.cli import main
from mobileapp.journal import open_journal
from mobileapp.rehearsal import play, play_until
from mobileapp.story_shelf import Script, load_story

SCALE = ["--reads-to", "0.01g", "--error", "0.02g"]


@pytest.fixture(scope="module")
def journals(tmp_path_factory) -> Path:
    """Two journals: a lift pump closed, and a rocker cover released with a washer missing."""
    folder = tmp_path_factory.mktemp("journals")
    for name in ("lift-pump", "rocker-cover"):
        with open_journal(folder / f"{name}.sqlite") as journal:
            play(load_story(name), journal, lambda name=name: name)
    return folder


def told(capsys, *words: str, code: int = 0) -> str:
    assert main(list(words)) == code
    out = capsys.readouterr()
    assert out.err == ""
    return out.out


def refused(capsys, *words: str) -> str:
    """Not understood: 2, told apart from a bad answer, which is 1."""
    assert main(list(words)) == 2
    out = capsys.readouterr()
    assert out.out == ""
    assert out.err.startswith("countback: ")
    return out.err


# ---- whereabouts


def test_where_a_nut_could_be_on_a_sheet(capsys):
    out = told(capsys, "whereabouts", "--sheet", "lift-pump-and-side-cover", "--item", "5/16-18 nut",
               "--open", "pump-flange=12min")  # fmt: skip
    assert "Taken as: nut 12.42 x 6.55 mm" in out
    assert "Could be in Cam chamber: Pump flange on the block stood uncovered for 12 min" in out
    assert "Not in Sump: it cannot pass on any way to Sump." in out
    assert "Not in Tappet chest: no opening that leads to Tappet chest stood uncovered" in out


def test_the_sizes_of_a_shape_are_read_with_their_unit(capsys):
    sheet = ["whereabouts", "--sheet", "rocker-cover", "--shape"]
    assert "Taken as: ball 3 mm" in told(capsys, *sheet, "ball", "3mm")
    assert "Taken as: rod 6.35 x 25.4 mm" in told(capsys, *sheet, "rod", "1/4", "1", "in")


def test_an_item_and_its_openings_go_with_a_sheet(capsys):
    """On a teardown it is known what is missing and what stood open; what is typed besides would be left out."""
    for words in (["--item", "M6 nut"], ["--shape", "ball", "3"], ["--open", "head-top"]):
        assert f"{words[0]} goes with --sheet" in refused(capsys, "whereabouts", *words)


def test_whereabouts_as_json(capsys):
    out = told(capsys, "whereabouts", "--sheet", "rocker-cover", "--shape", "ball", "13.9", "--json")
    answer = json.loads(out)
    assert answer["shape"] == "ball 13.9 mm"
    assert [(row["space"], row["verdict"]) for row in answer["could_be"]] == [
        ("valve-gear", "passes"), ("inlet-tract", "passes"), ("sump", "might pass"),
    ]  # fmt: skip
    assert {row["verdict"] for row in answer["could_be"]} <= {"passes", "might pass"}
    assert all(row["path"] for row in answer["could_be"])


def test_whereabouts_of_what_is_missing_on_a_teardown(capsys, journals):
    out = told(capsys, "whereabouts", "--journal", str(journals / "rocker-cover.sqlite"))
    assert "1 M6 sealing washer, missing:\n  Could be in Sump:" in out
    assert "valve gear by magnet (Edda Brun, 2026-05-07 " in out
    assert "Nothing is missing" in told(capsys, "whereabouts", "--journal", str(journals / "lift-pump.sqlite"))


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--item", "M8 flnge nut"], "did you mean 'flange'?"),
        (["--shape", "nutt", "10", "5"], "'nutt' is not known here"),
        (["--shape", "nut", "10"], "a nut is measured by across flats, thickness, in mm; number given here: 1"),
        (["--shape", "nut", "10", "wide"], "--shape: 'wide' is not a number with a unit"),
        (["--shape", "nut", "10", "-5"], "more than 0 mm"),
        (["--shape", "rod", "1/4", "1"], "--shape: '1/4' can hardly be in mm; write it like 1/4 in."),
        (["--shape", "nut", "10", "5", "--item", "M6 nut"], "--item and --shape: say one of them."),
        (["--open", "head-tap"], "there is no opening 'head-tap' on this sheet; did you mean 'head-top'? It has: "),
        (["--open", "head-top=soon"], "'soon' is no time; write it like 40s, 12min or 1h5min."),
    ],
)
def test_what_whereabouts_does_not_understand(capsys, words, why):
    assert why in refused(capsys, "whereabouts", "--sheet", "rocker-cover", *words)


# ---- pieces and weighing


def test_pieces_that_add_up_that_do_not_and_that_nobody_can_tell(capsys):
    two = ["pieces", "--whole", "6.42g", "--likeness", "0.05 g", "--piece", "4.11g", "--piece", "2.30g"]
    assert "Adds up." in told(capsys, *two, *SCALE, "--smallest", "4mm")
    assert "Cannot tell." in told(capsys, *two, *SCALE, code=1)
    short = told(capsys, *two[:-2], *SCALE, "--json", code=1)
    assert json.loads(short)["verdict"] == "short"
    assert json.loads(short)["short"] == pytest.approx(2.31)
    assert "Adds up." in told(capsys, *two, "--from-size", *SCALE, "--smallest", "4mm")


def test_the_lengths_of_pieces_are_added_up_beside_their_mass(capsys):
    two = ["pieces", "--whole", "6.42g", "--likeness", "0.05 g", "--piece", "4.11g", "--piece", "2.30g", *SCALE,
           "--smallest", "4mm", "--length", "32mm", "--length-within", "0.2mm", "--piece-length", "20.5mm"]  # fmt: skip
    good = told(capsys, *two, "--piece-length", "11.4mm")
    assert "The lengths add up within 0.4 mm (k = 2)" in good
    short = json.loads(told(capsys, *two, "--piece-length", "9mm", "--json", code=1))
    assert (short["verdict"], short["length"]["verdict"]) == ("adds up", "short")
    assert "1 lengths for 2 pieces" in refused(capsys, *two)
    assert "more than 0 mm" in refused(capsys, *two, "--piece-length", "0mm")
    assert "--length-within: 'close' is not a number" in refused(
        capsys, *two, "--piece-length", "9mm", "--length-within", "close"
    )


def test_what_stands_against_it_is_told_first(capsys):
    """The mass adds up, but not the length: nobody who reads the first words alone goes away with a good answer."""
    two = ["pieces", "--whole", "6.42g", "--likeness", "0.05 g", "--piece", "4.11g", "--piece", "2.30g", *SCALE,
           "--smallest", "4mm", "--length", "32mm", "--length-within", "0.2mm", "--piece-length", "11.5mm"]  # fmt: skip
    out = told(capsys, *two, "--piece-length", "9mm", code=1)
    assert out.startswith("Laid end to end the pieces are short by 11.5")
    assert "By mass: Adds up. Whole and pieces agree" in out


def test_the_mass_of_the_whole_from_its_shape_and_density(capsys):
    pin = ["pieces", "--shape", "cylinder", "--size", "12mm", "--size", "64mm", "--size-within", "0.1mm"]
    assert "The whole should weigh 56.8 ± 1.2 g (k = 2)." in told(capsys, *pin, "--material", "steel")
    answer = json.loads(told(capsys, *pin, "--density", "7850 kg/m3", "--density-within", "50kg/m3", "--json"))
    assert answer["mass"] == pytest.approx(56.82, abs=0.01)
    wide = json.loads(told(capsys, *pin, "--material", "steel", "--likeness", "2g", "--json"))
    assert wide["u"] == pytest.approx((answer["u"] ** 2 + 4 / 3) ** 0.5)
    weighed = [*pin, "--material", "steel", *SCALE, "--piece", "40g", "--smallest", "9mm"]
    assert "Short by 16.8" in told(capsys, *weighed, code=1)
    assert "Adds up." in told(capsys, *weighed, "--piece", "16.5g")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--shape", "cilinder", "--size", "12mm"], "did you mean 'cylinder'? Known: "),
        (["--shape", "box", "--size", "12mm"], "a box is measured by length, width, height; given here: 1"),
        (["--shape", "cylinder", "--size", "1mm", "--size", "2mm"], "Not said: --material."),
        (["--shape", "cylinder", "--size", "1mm", "--size", "2mm", "--material", "stele"],
         "did you mean 'steel'? Known: "),
        (["--shape", "cylinder", "--size", "1mm", "--size", "2g", "--material", "steel"], "--size: g measures mass"),
        (["--shape", "cylinder", "--size", "1mm", "--size", "2mm", "--density", "8"], "--density: The unit is missing"),
        (["--shape", "cylinder", "--whole", "2g"], "say one of them"),
        (["--shape", "cylinder", "--density", "8 g/cm3", "--material", "steel", "--size", "1mm", "--size", "2mm"],
         "say one of them"),
    ],
)  # fmt: skip
def test_what_a_mass_from_a_shape_does_not_understand(capsys, words, why):
    assert why in refused(capsys, "pieces", *words)


def test_the_mass_of_the_whole_from_a_fasteners_specification(capsys):
    out = told(capsys, "pieces", "--item", "M8x60-8.8-bolt")
    assert out.startswith("The whole should weigh 26.2 ± 2.7 g (k = 2).\nBy its standard's sizes, within")
    short = told(capsys, "pieces", "--item", "M8x60-8.8-bolt", "--piece", "18g", "--reads-to", "0.1g", code=1)
    assert "Short by 8.2 ± 2.8 g" in short
    assert "say one of them" in refused(capsys, "pieces", "--item", "M8x60", "--whole", "20g")
    assert "--item: The length is not said." in refused(capsys, "pieces", "--item", "M8-bolt")


def test_where_no_standard_is_said_it_is_said_what_the_older_one_would_be(capsys):
    """Pieces that add up to a nut by ISO may be short of one to the older DIN standard, which is wider."""
    nut = ["pieces", "--item", "M10 nut", "--piece", "9.8g", "--reads-to", "0.01g", "--smallest", "6mm"]
    wider = "16 mm across flats by ISO; to the older DIN standard it is 17 mm: measure it."
    out = told(capsys, *nut, code=1)
    assert "Cannot tell." in out
    assert wider in out
    assert wider not in told(capsys, *nut[:2], "M10 nut DIN 934", *nut[3:], code=1)
    bag = ["--gross", "104g", "--sample", "52g", "--pieces", "5", "--reads-to", "0.1g"]
    assert wider in told(capsys, "weigh", *bag, "--item", "M10 nut")
    searched = ["whereabouts", "--sheet", "rocker-cover", "--item"]
    assert f"Taken as: nut 15.73 x 7.64 mm\n{wider}\n" in told(capsys, *searched, "M10 nut")
    assert json.loads(told(capsys, *searched, "M10 nut", "--json"))["notes"] == [wider]


def test_pieces_of_a_teardown(capsys, journals):
    out = told(capsys, "pieces", "--journal", str(journals / "lift-pump.sqlite"))
    assert out.startswith("Return spring:\n  Adds up.")
    assert "\n  The lengths add up within 0.4 mm (k = 2); splinters do not show in a length." in out
    assert "Nothing is known to be broken" in told(capsys, "pieces", "--journal", str(journals / "rocker-cover.sqlite"))


def test_a_part_not_yet_weighed_is_a_failed_check(capsys, tmp_path):
    story = load_story("lift-pump")
    number = next(step.number for step in story.story.steps if step.do == "part broken")
    assert story.story.steps[number].do == "why not"
    with open_journal(tmp_path / "j.sqlite") as journal:
        play(Script(replace(story.story, steps=story.story.steps[:number]), story.sheet), journal)
    out = told(capsys, "pieces", "--journal", str(tmp_path / "j.sqlite"), code=1)
    assert "no piece of it is weighed yet" in out


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--whole", "6.42g"], "Not said: --piece."),
        (["--whole", "6.42g", "--piece", "4g"], "Not said: --reads-to."),
        (["--whole", "6.42g", "--piece", "4g", *SCALE], "Not said: --likeness."),
        (["--whole", "6g", "--likeness", "0g", "--piece", "6g", "--from-size", *SCALE],
         "--likeness: A mass worked out from dimensions is never exact"),
        (["--whole", "6g", "--likeness", "1g", "--piece", "6g", *SCALE, "--smallest", "0mm"],
         "--smallest: The smallest piece that does harm is more than 0 mm"),
        (["--whole", "6g", "--likeness", "1g", "--piece", "6g", *SCALE, "--smallest=-2mm"], "is more than 0 mm"),
        (["--item", "M8x60", "--piece", "6g", *SCALE, "--smallest", "0 in"], "is more than 0 mm"),
        (["--whole", "heavy", "--piece", "4g", *SCALE], "--whole: 'heavy' is not a number with a unit"),
        (["--whole", "0g", "--piece", "4g", *SCALE], "weighs more than nothing"),
        (["--whole", "6g", "--likeness", "1g", "--piece", "4 mm", *SCALE], "--piece: mm measures length"),
        (["--whole", "6g", "--piece", "4g", "--reads-to", "fine"], "Scale: 'fine' is not a number"),
    ],
)
def test_what_pieces_does_not_understand(capsys, words, why):
    assert why.casefold() in refused(capsys, "pieces", *words).casefold()


def test_a_bag_counted_by_weight(capsys, journals):
    bag = ["weigh", "--gross", "97.6g", "--tare", "12g", "--sample", "42.8g", "--pieces", "5"]
    assert told(capsys, *bag, "--reads-to", "0.1g").startswith("10 pieces by weight")
    assert "Cannot tell" in told(capsys, *bag, "--reads-to", "10g", code=1)
    assert json.loads(told(capsys, *bag, "--reads-to", "0.1g", "--json"))["number"] == 10
    beside = told(capsys, *bag, "--reads-to", "0.1g", "--item", "M8x30-8.8")
    assert "One of them weighs 8.56 g, and M8x30-8.8 14.7 to 17.2 g by its standard's sizes: is it what it" in beside
    assert "--item: 'wsher' is not understood" in refused(capsys, *bag, "--reads-to", "0.1g", "--item", "M8-wsher")
    assert "Not said: --sample, --pieces." in refused(capsys, "weigh", "--gross", "97.6g")
    assert "not a share in percent" in refused(capsys, *bag, "--reads-to", "0.1g", "--scatter", "some")
    on_record = told(capsys, "weigh", "--journal", str(journals / "lift-pump.sqlite"))
    first, second = on_record.splitlines()
    assert first == (
        "09:58 Jonas Brekke: 10 × 1/4-28 x 1 hex bolt gr 5 in the tray, counted by weight, "
        "independent of whoever put them there"
    )
    assert second.startswith("A count by weight is of one line where it lies, so it is not among the counts")
    (row,) = json.loads(told(capsys, "weigh", "--journal", str(journals / "lift-pump.sqlite"), "--json"))[
        "counted_by_weight"
    ]
    assert (row["number"], row["independent"]) == (10, True)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--gross", "97.6"], "--gross: The unit is missing; write it like 12.5 g."),
        (["--tare", "12mm"], "--tare: mm measures length"),
        (["--sample", "some"], "--sample: 'some' is not a number with a unit"),
        (["--scatter", "-1"], "--scatter: '-1' is not a share in percent"),
        (["--reads-to", "fine"], "--reads-to: "),
        (["--error", "fine"], "--error: 'fine' is not a number with a unit"),
        (["--error=-1g"], "--error: An error is not below zero."),
        (["--pieces", "-5"], "--pieces: The sample weighs nothing, or holds no piece. Count some out and weigh them."),
        (["--sample", "0g"], "--sample: The sample weighs nothing, or holds no piece. Count some out and weigh them."),
        (["--tare", "97.6g"], "--gross and --tare: By these weights the full bag weighs no more than the empty one: "
         "nothing was weighed. Weigh the full bag, then the empty one, on the same scale."),
    ],
)  # fmt: skip
def test_what_weigh_does_not_understand_names_the_option_and_what_to_do(capsys, words, why):
    bag = {"--gross": "97.6g", "--tare": "12g", "--sample": "42.8g", "--pieces": "5", "--reads-to": "0.1g"}
    typed = [each for option, value in bag.items() if option != words[0] for each in (option, value)]
    assert why in refused(capsys, "weigh", *typed, *words)


# ---- limits


def test_a_push_rod_against_its_limits(capsys, journals):
    rod = ["--least", "0.522in", "--most", "0.525 in", "--reads-to", "0.0001in", "--error", "0.0002in"]
    assert told(capsys, "limits", "0.5235in", *rod).startswith("0.5235in is inside: 0.522in to 0.525 in.")
    assert "is outside" in told(capsys, "limits", "0.529in", *rod, code=1)
    assert "too close to call" in told(capsys, "limits", "0.5249in", *rod, code=1)
    assert json.loads(told(capsys, "limits", "0.5235in", *rod, "--json"))["verdict"] == "inside"
    coarse = told(capsys, "limits", "0.523in", *rod[:4], "--reads-to", "1/64 in", code=1)
    assert "with this no reading can ever be called inside.\nTake a finer instrument: one that reads to " in coarse
    out = told(capsys, "limits", "--journal", str(journals / "lift-pump.sqlite"))
    assert out.startswith("Lift pump, Push rod proud of the flange, cam on its low side: 0.5235 in is inside")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["0.5in"], "There is no limit: say --least, --most or both."),
        (["0.5in", "--least", "0.6in", "--most", "0.5in", "--reads-to", "0.1in"], "put the smaller first"),
        (["0.5", "--most", "0.5in", "--reads-to", "0.1in"], "READING: The unit is missing"),
        (["0.5in", "--most", "0.5in"], "Not said: --reads-to."),
    ],
)
def test_what_limits_does_not_understand(capsys, words, why):
    assert why in refused(capsys, "limits", *words)


# ---- torque and order


def test_slips_in_a_torque(capsys, journals):
    degreased = told(capsys, "torque", "240 N.m (threads degreased)", "--spec", "M8x25-8.8", code=1)
    assert "or 24 N.m? Look at the maker's page again." in degreased
    assert "24N.m is plausible" in told(capsys, "torque", "24N.m", "--spec", "M8x25-8.8")
    out = told(capsys, "torque", "9lbf.in", "--spec", "1/4-28x1", code=1)
    assert "Was it 9 lbf.ft" in out
    assert json.loads(told(capsys, "torque", "9lbf.in", "--spec", "1/4-28x1", "--json", code=1))["verdict"] == "slip"
    assert "Breather pipe, 8 N.m (sheet):" in told(capsys, "torque", "--sheet", "rocker-cover")
    out = told(capsys, "torque", "--journal", str(journals / "lift-pump.sqlite"))
    assert "Side cover, 9 lbf.ft (signed for):" in out


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["24N.m"], "A figure and its bolt go together"),
        (["24", "--spec", "M8x25"], "FIGURE: The unit is missing"),
        (["24N.m", "--spec", "thing"], "--spec: 'thing' has no thread size that is known here"),
    ],
)
def test_what_torque_does_not_understand(capsys, words, why):
    assert why in refused(capsys, "torque", *words)


def test_a_torque_for_stainless_of_no_class_is_not_judged(capsys):
    out = told(capsys, "torque", "24N.m", "--spec", "M8x25 A2")
    assert "No proof strength is known for this thread, so nothing is judged." in out
    assert "The head says A2-50, A2-70 or A2-80." in out


def test_figures_in_two_units_and_in_stages(capsys):
    out = told(capsys, "torque", "20 Nm (15 lbf.in)", "--spec", "M8x25-8.8", code=1)
    assert out.startswith("20 N.m and 15 lbf.in are not the same torque: 20 N.m is 177 lbf.in. Was it 15 lbf.ft?")
    assert "The last stage, 24 N.m, is plausible" in told(capsys, "torque", "8, 16, 24 N.m", "--spec", "M8x25-8.8")
    ring = ["order", "0,0", "40,0", "40,30", "0,30", "--torque", "8 Nm, 16 Nm, 24 Nm"]
    assert "33 % (8 Nm): 1, 3, 2, 4\n67 % (16 Nm): 1, 3, 2, 4\n100 % (24 Nm): 1, 3, 2, 4\n" in told(capsys, *ring)
    angle = told(capsys, *ring[:-1], "30 N.m + 90 deg", "--passes", "50", "100")
    assert "pass 1 of 2 of the maker's 30 N.m + 90 deg: 1, 3, 2, 4\npass 2 of 2 of the maker's" in angle
    apart = told(capsys, *ring[:-1], "20 Nm (15 lbf.in)", code=1)
    assert apart.startswith("20 N.m and 15 lbf.in are not the same torque")
    assert "leave --passes out" in refused(capsys, *ring, "--passes", "50", "100")


def test_a_tightening_order_from_positions_a_sheet_and_a_teardown(capsys, tmp_path):
    out = told(capsys, "order", "0,0", "40,0", "40,30", "0,30", "--passes", "50", "100", "--torque", "24 N.m")
    assert "50 % (12 N.m): 1, 3, 2, 4\n100 % (24 N.m): 1, 3, 2, 4\n" in out
    dry = told(capsys, "order", "0,0", "40,0", "40,30", "0,30", "--passes", "50", "100", "--torque", "24 N.m degreased")
    assert "50 % (12 N.m): 1, 3, 2, 4\n" in dry
    photo = json.loads(told(capsys, "order", "0,0", "40,0", "40,30", "0,30", "--photo", "--json"))
    assert photo["numbers"][0] == {"number": 1, "x": "40", "y": "0"}  # on a photo the upper ones have the smaller y
    sheet = told(capsys, "order", "--sheet", "lift-pump-and-side-cover")
    assert "100 % (8 to 10 lbf.ft): 1, 6, 2, 7, 5, 10, 3, 8, 4, 9" in sheet
    with open_journal(tmp_path / "j.sqlite") as journal:
        play(load_story("lift-pump"), journal)
    out = told(capsys, "order", "--journal", str(tmp_path / "j.sqlite"), "--closure", "side-cover")
    assert out.endswith("Not ticked yet: 0 of 20 steps.\n")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["0,0", "40"], "a position is two numbers with a comma between them"),
        (["0,0", "0,0"], "two fasteners sit at the same place"),
        (["0,0", "1,x"], "'x' is not a number"),
        (["0,0", "40,0", "--passes", "30", "30", "100"], "--passes: Two passes are alike"),
        (["0,0", "40,0", "--passes", "50"], "The last pass must be 100 %."),
        (["--sheet", "rocker-cover"], "No closure there gives positions and passes. Closures: breather-pipe"),
        (["--sheet", "rocker-cvr"], "did you mean 'rocker-cover'?"),
    ],
)
def test_what_order_does_not_understand(capsys, words, why):
    assert why in refused(capsys, "order", *words)


FOUR = ["0,0", "40,0", "40,30", "0,30"]
WHOLE = ["--whole", "6g", "--likeness", "0.1g", "--piece", "5g", *SCALE]


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["weigh", "--item", "M8-nut"], "--item goes with --gross and --sample."),
        (["weigh", "--pieces", "5"], "--pieces goes with --gross and --sample."),
        (["limits", "--least", "5mm"], "--least goes with a READING."),
        (["limits", "--reads-to", "1mm"], "--reads-to goes with a READING."),
        (["torque", "24N.m", "--spec", "M8x25", "--sheet", "rocker-cover"], "FIGURE and --sheet: say one of them."),
        (["order", *FOUR, "--sheet", "rocker-cover"], "X,Y and --sheet: say one of them."),
        (["order", *FOUR, "--closure", "side-cover"], "X,Y and --closure: say one of them."),
        (["order", "--sheet", "lift-pump-and-side-cover", "--torque", "24N.m"], "--torque goes with positions X,Y."),
        (["order", "--sheet", "lift-pump-and-side-cover", "--passes", "100"], "--passes goes with positions X,Y."),
        (["pieces", "--length", "5mm"], "--length goes with --whole, --shape or --item."),
        (["pieces", "--from-size"], "--from-size goes with --whole, --shape or --item."),
        (["pieces", *WHOLE, "--size", "3mm"], "--size goes with --shape."),
        (["pieces", *WHOLE, "--density", "0 g/cm3"], "--density: a density is more than nothing."),
        (["pieces", *WHOLE, "--density", "heavy"], "--density: 'heavy' is not a number with a unit"),
        (["pieces", "--item", "M8x60", "--material", "steel"], "--material goes with --whole or --shape."),
        (["pieces", "--shape", "box", "--from-size"], "--from-size goes with --whole."),
    ],
)
def test_what_would_be_left_out_of_the_answer_is_refused(capsys, words, why):
    assert why in refused(capsys, *words)


def test_a_missing_piece_is_as_big_a_ball_as_its_material_makes_it(capsys):
    steel, light = (
        json.loads(told(capsys, "pieces", *WHOLE, *made_of, "--json", code=1))["ball"]
        for made_of in ([], ["--material", "aluminium alloy"])
    )
    assert light == pytest.approx(steel * (7.85 / 2.72) ** (1 / 3))


@pytest.mark.parametrize("command", ["whereabouts", "pieces", "weigh", "limits", "torque", "order"])
def test_without_figures_and_without_a_journal_it_is_said_what_to_name(command, tmp_path, capsys):
    why = refused(capsys, command, "--journal", str(tmp_path / "none.sqlite"))
    assert f"There is no journal at {tmp_path / 'none.sqlite'}" in why
    assert f"countback {command} --help" in why


def test_of_several_teardowns_one_is_named(tmp_path, capsys):
    with open_journal(tmp_path / "j.sqlite") as journal:
        for name in ("first", "second"):
            play_until(load_story("rocker-cover"), "released", journal, lambda name=name: name)
    why = refused(capsys, "whereabouts", "--journal", str(tmp_path / "j.sqlite"))
    assert "Name one with --teardown: first, second" in why
    assert all(name in why for name in ("first", "second"))
    assert "missing" in told(capsys, "whereabouts", "--journal", str(tmp_path / "j.sqlite"), "--teardown", "second")


def test_figures_below_zero_need_no_dashes_before_them(capsys):
    assert "Number 1 at 0, 5" in told(capsys, "order", "-5,0", "5,0", "0,5")
    assert "Number 1 at -0.5, -0.5" in told(capsys, "order", "-.5,-.5", ".5,-.5")
    assert "--shape: A size is more than 0 mm" in refused(
        capsys, "whereabouts", "--sheet", "rocker-cover", "--shape", "nut", "10", "-5.2"
    )
    assert "READING: 'x' is not a unit" in refused(capsys, "limits", "-5x", "--most", "1mm", "--reads-to", "0.1mm")
    out = told(capsys, "limits", "-0.10mm", "--least", "-0.30mm", "--most", "0.30mm", "--reads-to", "0.01mm")
    assert "-0.10mm is inside" in out


def test_a_pitch_after_a_dash_is_read_as_on_paper(capsys):
    dashed = told(capsys, "whereabouts", "--sheet", "rocker-cover", "--item", "M8-1.25x25")
    assert dashed == told(capsys, "whereabouts", "--sheet", "rocker-cover", "--item", "M8x25")
