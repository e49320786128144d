"""Each way to spoil a sheet gets its own clear fault, at its own key."""

import pytest
from sheet_texts import SMALL, spoilt

from checklists.sheet_fault import COUNTED
from checklists.sheet_reading import Fault, read_sheet, report


def faults_in(text: str) -> list[tuple[str, str]]:
    sheet, faults = read_sheet(text, "thermostat.toml")
    assert (sheet is None) == bool(faults)
    assert {fault.source for fault in faults} <= {"thermostat.toml"}
    return [(fault.path, fault.message) for fault in faults]


def the_fault_in(*edits: tuple[str, str]) -> tuple[str, str]:
    faults = faults_in(spoilt(*edits))
    assert len(faults) == 1, faults
    return faults[0]


def test_a_sound_sheet_has_no_fault():
    assert faults_in(SMALL) == []


def test_a_second_count_is_demanded_unless_the_sheet_says_otherwise():
    sheet, _ = read_sheet(SMALL, "")
    assert sheet is not None
    assert [(c.id, c.second_count) for c in sheet.closures] == [("hose", False), ("housing", True)]


# (story, what is typed, what is typed instead, path of the fault, words that must be in it)
STORIES = [
    ("a misspelt key", "harm =", "ham =", "space[0].ham", "did you mean 'harm'"),
    ("a key nobody knows", 'machine = "', 'colour = "grey"\nmachine = "', "colour", "not known here"),
    ("a size typed as text", "[32]", '["32"]', "opening[1].clear.mm[0]", "a number in mm, this is the text '32'"),
    ("true is no quantity", "quantity = 4", "quantity = true", "closure[1].fastener[0].quantity", "whole number"),
    ("half a bolt", "quantity = 4", "quantity = 4.5", "closure[1].fastener[0].quantity", "whole number"),
    ("a date for a name", 'name = "Rag"', "name = 2026-03-02", "line[0].name", "this is a date"),
    ("torque without quotes", 'torque = "10 N.m"', "torque = 10", "closure[1].torque", "should be text"),
    ("a second count of no", "second_count = false", 'second_count = "no"', "closure[0].second_count", "true or false"),
    ("lies over is a list", '["housing"]', '"housing"', "closure[0].lies_over", "should be a list"),
    ("a blank name", 'name = "Top hose"', 'name = "  "', "closure[0].name", "empty"),
    ("no machine said", '"inline-four diesel"', '""', "machine", "empty"),
    ("an empty caution", '"Let it cool."', '""', "caution[0].text", "empty"),
    ("a bell in the name", '"Top hose"', '"Top\\u0007hose"', "closure[0].name", "cannot be shown"),
    ("an id with capitals", 'id = "rag"', 'id = "Rag"', "line[0].id", "small letters"),
    ("an id with a stroke", 'id = "rag"', 'id = "rag/1"', "line[0].id", "small letters"),
    ("an id with a line break", 'id = "rag"', 'id = "rag\\n"', "line[0].id", "small letters"),
    ("two openings of one id", 'id = "stub"', 'id = "outlet"', "opening[1].id", "already taken by opening[1]"),
    ("gasket and bolt of one id", 'id = "gasket"', 'id = "bolt-m6"', "closure[1].part[0].id", "closure[2].fastener[1]"),
    ("an opening to nothing", 'space = "head-coolant"', 'space = "hed-coolant"', "opening[0].space", "did you mean"),
    ("an opening sealed by no closure", 'closure = "hose"', 'closure = "hoze"', "opening[1].closure", "no closure"),
    ("a passage from nowhere", 'from = "head-coolant"', 'from = "rear"', "passage[0].from", "no space 'rear'"),
    ("a passage to nowhere", 'to = "block-coolant"', 'to = "sump"', "passage[0].to", "no space 'sump'"),
    ("a passage to itself", 'to = "block-coolant"', 'to = "head-coolant"', "passage[0]", "to itself"),
    ("lying over what is not there", '["housing"]', '["houzing"]', "closure[0].lies_over[0]", "did you mean 'housing'"),
    ("lying over the same twice", '["housing"]', '["housing", "housing"]', "closure[0].lies_over[1]", "named twice"),
    ("lying over itself", '["housing"]', '["hose"]', "closure[0].lies_over", "'hose' over 'hose'"),
    ("no bolts at all", "quantity = 4", "quantity = 0", "closure[1].fastener[0].quantity", "the least is 1"),
    ("minus four bolts", "quantity = 4", "quantity = -4", "closure[1].fastener[0].quantity", "the least is 1"),
    ("no gasket of a gasket", "quantity = 1", "quantity = 0", "closure[1].part[0].quantity", "the least is 1"),
    ("minus six rags", "quantity = 6", "quantity = -6", "line[0].quantity", "the least is 0"),
    ("more rags than the harbour", "quantity = 6", "quantity = 100001", "line[0].quantity", "the most is 100000"),
    ("a shape nobody cuts", '"circle", mm = [32]', '"cirkle", mm = [32]', "opening[1].clear.shape", "mean 'circle'"),
    ("a kind of line nobody knows", 'kind = "rag"', 'kind = "bag"', "line[0].kind", "did you mean 'rag'"),
    ("a way nothing moves", 'way = "falls"', 'way = "flies"', "passage[0].way", "falls, blows or drains"),
    ("a circle with two sizes", "[32]", "[32, 30]", "opening[1].clear.mm", "1 size in mm"),
    ("an oval with one size", "[42, 34.5]", "[42]", "opening[0].clear.mm", "2 sizes in mm"),
    ("a hole of no size", "[32]", "[0]", "opening[1].clear.mm[0]", "more than 0"),
    ("a hole less than nothing", "[32]", "[-0.5]", "opening[1].clear.mm[0]", "more than 0"),
    ("a size that is no number", "[32]", "[nan]", "opening[1].clear.mm[0]", "not a size"),
    ("a size without end", "[32]", "[inf]", "opening[1].clear.mm[0]", "not a size"),
    ("a hole as wide as a town", "[32]", "[1e7]", "opening[1].clear.mm[0]", "cannot be right"),
    ("a size in too many figures", "[32]", "[32.0000000000001]", "opening[1].clear.mm[0]", "round it"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "path", "words"), [story[1:] for story in STORIES], ids=[story[0] for story in STORIES]
)
def test_one_slip_on_a_sheet(old: str, new: str, path: str, words: str):
    faults = faults_in(spoilt((old, new)))
    told = [message for at, message in faults if at == path]
    assert len(told) == 1, faults
    assert words in told[0]


MISSING = [
    ('name = "Thermostat housing off"\n', "name"),
    ('machine = "inline-four diesel"\n', "machine"),
    ('text = "Let it cool."\n', "caution[0].text"),
    ('harm = "A blocked passage."\n', "space[0].harm"),
    ('way = "falls"\n', "passage[0].way"),
    ('clear = { shape = "oval", mm = [42, 34.5] }\n', "opening[0].clear"),
    ('cover = "Coolant plug."\n', "opening[0].cover"),
    ('shape = "oval", ', "opening[0].clear.shape"),
    (", mm = [42, 34.5]", "opening[0].clear.mm"),
    ('name = "Top hose"\n', "closure[0].name"),
    ('spec = "Hose clip 40 mm"\n', "closure[0].fastener[0].spec"),
    ("quantity = 2\n", "closure[0].fastener[0].quantity"),
    ('kind = "rag"\n', "line[0].kind"),
    ('id = "rag"\n', "line[0].id"),
]


@pytest.mark.parametrize(("left_out", "path"), MISSING, ids=[path for _, path in MISSING])
def test_a_key_left_out_is_missed_once(left_out: str, path: str):
    assert the_fault_in((left_out, "")) == (path, "this key is missing")


OPTIONAL = [
    'torque = "10 N.m"\n',
    'lies_over = ["housing"]\n',
    "second_count = false\n",
    'clear = { shape = "circle", mm = [11.5] }\n',
    '  [[closure.part]]\n  id = "gasket"\n  name = "Housing gasket"\n  quantity = 1\n',
    '[[line]]\nid = "rag"\nname = "Rag"\nkind = "rag"\nquantity = 6\n',
]


@pytest.mark.parametrize("left_out", OPTIONAL)
def test_what_may_be_left_unsaid(left_out: str):
    assert faults_in(spoilt((left_out, ""))) == []


CLIP = '  [[closure.fastener]]\n  id = "clip"\n  spec = "Hose clip 40 mm"\n  quantity = 2\n'


def test_a_closure_without_fasteners_must_say_so():
    assert the_fault_in((CLIP, "")) == (
        "closure[0].fastener",
        "this key is missing; where there is none, write fastener = []",
    )
    assert faults_in(spoilt((CLIP, "fastener = []\n"))) == []


def test_a_passage_of_unknown_size_stays_unknown():
    sheet, _ = read_sheet(spoilt(('clear = { shape = "circle", mm = [11.5] }\n', "")), "")
    assert sheet is not None
    assert sheet.passages[0].clear is None


def test_a_closure_that_seals_nothing():
    path, message = the_fault_in(('closure = "hose"', 'closure = "housing"'))
    assert path == "closure[0]"
    assert message.startswith("the closure 'hose' seals nothing")


LONELY = '[[space]]\nid = "{0}"\nname = "{0}"\nharm = "Blocked oil pick-up."\n'


def test_a_space_nothing_leads_to():
    faults = faults_in(SMALL + LONELY.format("sump"))
    assert [path for path, _ in faults] == ["space[2]"]
    assert "nothing leads into the space 'sump'" in faults[0][1]


def test_two_spaces_that_only_lead_to_each_other_are_both_out_of_reach():
    way = '[[passage]]\nfrom = "{}"\nto = "{}"\nway = "drains"\n'
    ring = way.format("sump", "case") + way.format("case", "sump")
    faults = faults_in(SMALL + LONELY.format("sump") + LONELY.format("case") + ring)
    assert [path for path, _ in faults] == ["space[2]", "space[3]"]


def test_a_loop_of_closures_is_named_all_the_way_round():
    faults = faults_in(spoilt(('torque = "10 N.m"', 'lies_over = ["hose"]')))
    assert faults == [
        (
            "closure[0].lies_over",
            "lies over itself in a loop: 'hose' over 'housing' over 'hose'; none of them could come off first",
        )
    ]


LINE_OF_THE_BOLTS = SMALL.splitlines().index("  quantity = 4") + 1


def test_broken_toml_names_the_line():
    path, message = the_fault_in(("quantity = 4", "quantity = "))
    assert path == f"line {LINE_OF_THE_BOLTS}"
    assert message.startswith("this is not TOML:")


def test_toml_that_breaks_off_names_its_last_line():
    assert [path for path, _ in faults_in('name = "a"\nmachine = """b')] == ["line 2"]


def test_the_same_key_twice_is_broken_toml():
    path, message = the_fault_in(("quantity = 4", "quantity = 4\nquantity = 5"))
    assert path == f"line {LINE_OF_THE_BOLTS + 1}"
    assert "this is not TOML" in message


def test_a_page_of_brackets_is_too_deep():
    assert faults_in("a = " + "[" * 100_000) == [
        ("", "tables or lists are nested too deep; a sheet needs three levels")
    ]


def test_an_empty_file_misses_its_heading():
    assert faults_in("") == [("name", "this key is missing"), ("machine", "this key is missing")]


def test_a_list_where_tables_belong_is_one_fault_and_no_echo():
    faults = faults_in(spoilt(("[[line]]\n", "[line]\n")))
    assert faults == [("line", "should be a list, this is a table")]


def test_something_else_among_the_tables_keeps_the_numbers_of_the_others():
    faults = faults_in('name = "a"\nmachine = "b"\ncaution = [1, { id = "heat", text = "" }]\n')
    assert faults == [
        ("caution[0]", "should be a table, this is a whole number"),
        ("caution[1].text", "is empty; say it in words"),
    ]


@pytest.mark.parametrize("huge", ["0x" + "f" * 20_000, "9" * 5_000])
def test_a_number_too_long_to_print_is_refused_in_words(huge: str):
    _, message = the_fault_in(("quantity = 6", f"quantity = {huge}"))
    assert len(message) < 200


@pytest.mark.parametrize("size", ["1e999999999999999999999", "-9e999999999999", "1e-99999999999", "0x" + "f" * 20_000])
def test_a_size_beyond_all_measure_is_refused_in_words(size: str):
    path, message = the_fault_in(("[32]", f"[{size}]"))
    assert path == "opening[1].clear.mm[0]"
    assert len(message) < 120


def test_every_slip_of_a_bad_day_stands_in_one_report():
    text = spoilt(
        ('name = "Thermostat', 'nmae = "Thermostat'),
        ('id = "heat"', 'id = "Heat"'),
        ('harm = "A blocked passage."\n', ""),
        ('way = "falls"', 'way = "flies"'),
        ("[42, 34.5]", "[42, 0]"),
        ('closure = "hose"', 'closure = "hoze"'),
        ('torque = "10 N.m"', 'torque = "10 N.m"\nlies_over = ["hose"]'),
        ("quantity = 4", "quantity = -4"),
        ("quantity = 6", 'quantity = "six"'),
    )
    _, faults = read_sheet(text, "bad-day.toml")
    assert {fault.path for fault in faults} == {
        "nmae",
        "name",
        "caution[0].id",
        "space[0].harm",
        "passage[0].way",
        "opening[0].clear.mm[1]",
        "opening[1].closure",
        "closure[0]",
        "closure[0].lies_over",
        "closure[1].fastener[0].quantity",
        "line[0].quantity",
    }
    lines = report(faults).splitlines()
    assert lines[0] == f"bad-day.toml: 11 faults to put right before it can be used. {COUNTED}"
    assert "  closure[2].fastener[1].quantity: -4 is too few; the least is 1" in lines, "told from 1"
    assert lines[1:] == [f"  {fault}" for fault in faults]


def test_a_report_keeps_two_files_apart():
    one, other = Fault("a.toml", "name", "is empty; say it in words"), Fault("b.toml", "", "there is no such file")
    assert report((one, other)) == (
        "a.toml: 1 fault to put right before it can be used.\n"
        "  name: is empty; say it in words\n"
        "b.toml: 1 fault to put right before it can be used.\n"
        "  there is no such file"
    )
    assert report(()) == ""


def test_a_report_cannot_be_dressed_up_by_what_was_typed():
    faults = faults_in(spoilt(('id = "rag"', 'id = "rag\\n  all is well"')))
    assert "\n" not in faults[0][1]
