"""A story that cannot be played gets one report of all its faults, each with its file and its place."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from story_stage import EXAMPLE, HEAD

from checklists.sheet_fault import Fault
from mobileapp.journal import open_journal
from mobileapp.rehearsal import play
from mobileapp.story_shelf import Script, StoryFault, load_story, script_of

OUT = '[[step]]\ndo = "count out"\nline = "rag"\n'
TEAR = '[[step]]\ndo = "tear"\nline = "rag"\nfrom = "put away"\n'
GROW = """
[[step]]
do = "grow"

  [[step.sheet.opening]]
  id = "o"
  name = "O"
  space = "nowhere"
  clear = { shape = "circle", mm = [5] }
  closure = "rocker-cover"
  cover = "rag"
"""


def faults_of(text: str, folder) -> list[str]:
    with pytest.raises(StoryFault) as caught:
        script_of(text, "trial.toml", folder)
    assert {fault.source for fault in caught.value.faults} == {"trial.toml"}
    assert str(caught.value).startswith("trial.toml: ")
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("steps", "fault"),
    [
        ('[[step]]\ndo = "count owt"\n', "step[1].do: nobody knows how to 'count owt'; did you mean 'count out'?"),
        ("[[step]]\nline = 'rag'\n", "step[1].do: this key is missing"),
        ('[[step]]\ndo = "count out"\n', "step[1].line: this key is missing; 'count out' needs it"),
        (OUT + 'opening = "head-top"\n', "step[1].opening: 'count out' does not use this key"),
        (OUT + 'lable = "x"\n', "step[1].lable: this key is not known here; did you mean 'label'?"),
        (OUT + "quantity = 0\n", "step[1].quantity: 0 is too few; the least is 1"),
        (OUT + "quantity = 1001\n", "step[1].quantity: is more than anybody counts; the most is 1000"),
        (OUT + "quantity = 100001\nat_once = true\n", "step[1].quantity: is more than anybody counts"),
        (OUT + 'after = "745 h"\n', "step[1].after: is longer than a month"),
        (OUT + 'after = "1234567890 h"\n', "step[1].after: '1234567890 h' is no duration"),
        (OUT + "quantity = 1.5\n", "step[1].quantity: should be a whole number, this is a number with a decimal point"),
        (OUT + 'quantity = "2"\n', "step[1].quantity: should be a whole number, this is the text '2'"),
        (OUT + "quantity = true\n", "step[1].quantity: should be a whole number, this is true or false"),
        (OUT + 'after = "soon"\n', "step[1].after: 'soon' is no duration; write it like '40 s' or '1 h 5 min'"),
        (OUT + 'label = "a"\n' + OUT + 'label = "a"\n', "step[2].label: 'a' is the label of step[1] already"),
        (OUT + 'expect = "maybe"\n', "step[1].expect: 'maybe' is not known; write 'done', or refused"),
        (OUT + 'expect = "refused"\n', "step[1].refused: goes with expect = 'refused'"),
        (OUT + "only = true\n", "step[1].only: goes with refused = [...]"),
        (OUT + 'says = [""]\n', "step[1].says[1]: should be text in quotes, and not empty"),
        (OUT + "tally = { outt = 1 }\n", "step[1].tally.outt: this key is not known here; did you mean 'out'?"),
        (OUT + 'stage = { rocker-cover = "liftd" }\n', "did you mean 'lifted'?"),
        (OUT + 'stage = { rocker = "lifted" }\n', "step[1].stage: there is no closure 'rocker' at this step"),
        (OUT + 'opening_state = { top = "sealed" }\n', "step[1].opening_state: there is no opening 'top' at this step"),
        (OUT + 'who = "Nobody"\n', "step[1].who: there is no person 'Nobody' at this step"),
        (OUT + 'to = "under the bench"\n', "step[1].to: 'under the bench' is no place here"),
        (OUT.replace("rag", "rags"), "step[1].line: there is no line 'rags' at this step; did you mean 'rag'?"),
        (TEAR + 'into = [{ id = "h", name = "Half", kind = "rug", quantity = 0 }]\n', "into[1].kind: is not one of"),
        (TEAR + 'into = []\n', "step[1].into: says nothing"),
        ('[[step]]\ndo = "grow"\n[step.sheet]\nlines = []\n', "step[1].sheet.lines: this key is not known here"),
        (GROW, "there is no space 'nowhere'"),
        ("[[step]]\ndo = [\n", "this is not TOML"),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_place(tmp_path, steps, fault):
    told = faults_of(HEAD + steps, tmp_path)
    assert any(fault in line for line in told), told


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('sheet = "rocker-cover"\n', "", "sheet: this key is missing"),
        ('sheet = "rocker-cover"\n', 'sheet = "none.toml"\n', "sheet: "),
        ('reason = "to see inside"\n', 'reason = ""\n', "reason: is empty; say it in words"),
        ("+01:00", "", "starts: has no offset; write it like 2026-03-02T08:15:00+01:00"),
        ("starts = 2026", "starts = 9999", "starts: is not a year in which anybody opens an engine"),
        ("starts = 2026-03-02T08:15:00+01:00", 'starts = "08:15"', "starts: should be a time with its offset"),
        (', role = "fitter"', "", "people[1].role: this key is missing"),
        ("people = [", "persons = [", "people: this key is missing"),
    ],
)
def test_a_fault_in_the_head(tmp_path, old, new, fault):
    assert old in HEAD
    told = faults_of(HEAD.replace(old, new) + OUT, tmp_path)
    assert any(fault in line for line in told), told


def test_all_faults_come_in_one_report(tmp_path):
    steps = OUT + "quantity = 0\nlabell = 'x'\n" + '[[step]]\ndo = "fly"\n' + '[[step]]\ndo = "close"\nline = "rag"\n'
    assert len(faults_of(HEAD + steps, tmp_path)) == 4


def test_what_a_step_brings_is_known_from_then_on_and_not_before(tmp_path):
    tear = TEAR + 'into = [{ id = "half", name = "Half rag", kind = "rag", quantity = 2 }]\n'
    use = '[[step]]\ndo = "count out"\nline = "half"\n'
    assert script_of(HEAD + tear + use, "trial.toml", tmp_path).story.steps[1].line == "half"
    assert faults_of(HEAD + use + tear, tmp_path) == ["step[1].line: there is no line 'half' at this step"]


def test_a_sheet_beside_the_story_is_used(tmp_path):
    from mobileapp.shelf import shipped_sheets

    (tmp_path / "own.toml").write_bytes(shipped_sheets()["rocker-cover"].read_bytes())
    script = script_of(HEAD.replace('"rocker-cover"', '"own.toml"') + OUT, "trial.toml", tmp_path)
    assert script.sheet.name == "Rocker cover off"


def test_the_faults_of_its_sheet_are_the_faults_of_the_story(tmp_path):
    (tmp_path / "own.toml").write_text('name = "x"\nmachine = "y"\nclosures = []\n', encoding="utf-8")
    (told,) = faults_of(HEAD.replace('"rocker-cover"', '"own.toml"') + OUT, tmp_path)
    assert told.startswith("sheet: ")
    assert "closures: this key is not known here" in told


def test_a_story_that_is_not_there():
    with pytest.raises(StoryFault, match=r"there is no such file; .* 'workboat'.*did you mean 'workboat'"):
        load_story("workboot")


@st.composite
def damaged(draw) -> str:
    """The documented example with some of its lines lost, doubled, swapped or given another's value."""
    lines = EXAMPLE.splitlines()
    for _ in range(draw(st.integers(1, 6))):
        here, there = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        how = draw(st.sampled_from(["lose", "double", "swap", "value", "cut"]))
        if how == "lose" and len(lines) > 1:
            del lines[here]
        elif how == "double":
            lines.insert(there, lines[here])
        elif how == "swap":
            lines[here], lines[there] = lines[there], lines[here]
        elif how == "value":
            lines[here] = lines[here].partition("=")[0] + "=" + lines[there].partition("=")[2]
        else:
            lines[here] = lines[here][: draw(st.integers(0, 40))]
    return "\n".join(lines)


@given(damaged())
@settings(max_examples=150, deadline=None)
def test_whatever_is_written_it_is_played_or_reported(text):
    with tempfile.TemporaryDirectory() as name:
        script, faults = script_or_faults(text, Path(name))
        if script is None:
            assert faults
            return
        with open_journal(Path(name) / "journal.sqlite") as journal:
            assert len(play(script, journal).results) <= 1 + len(script.story.steps)


def script_or_faults(text: str, folder: Path) -> tuple[Script | None, tuple[Fault, ...]]:
    try:
        return script_of(text, "damaged.toml", folder), ()
    except StoryFault as fault:
        return None, fault.faults
