"""What each command tells, and its exit code: 0 where all is well, 1 for a failed check, 2 for no answer."""

import sqlite3
from pathlib import Path

import pytest

from mobileapp.cli import main
from mobileapp.journal import open_journal
from mobileapp.rehearsal import play
from mobileapp.story_shelf import STORIES, load_story, shipped_stories

GOOD = """
sheet = "rocker-cover"
machine = "trial engine"
reason = "to see inside"
starts = 2026-03-02T08:15:00+01:00
people = [{ name = "Ines Vardal", role = "fitter" }]

[[step]]
do = "count out"
line = "rag"
"""


@pytest.fixture
def own_home(tmp_path, monkeypatch) -> Path:
    """The folder where the app keeps its journal, for this test alone."""
    monkeypatch.setenv("COUNTBACK_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def played(tmp_path) -> Path:
    """A journal with the blank-sheet story in it."""
    path = tmp_path / "played.sqlite"
    with open_journal(path) as journal:
        play(load_story("blank-sheet"), journal, lambda: "crane")
    return path


def written(folder: Path, text: str) -> str:
    path = folder / "own story.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


# ---- rehearse


def test_a_story_that_goes_as_expected(capsys):
    assert main(["rehearse", *shipped_stories()]) == 0
    told = capsys.readouterr()
    assert told.err == ""
    assert "NOT AS EXPECTED" not in told.out
    assert told.out.count("every expectation held") == len(shipped_stories())


def test_a_refusal_is_told_with_everything_about_each_reason(capsys):
    assert main(["rehearse", "workboat"]) == 0
    told = capsys.readouterr().out
    assert "wants to clear (Inlet manifold): REFUSED, 13 reasons  [out 27, in the engine 8, missing 1]" in told
    assert (
        "    - 1 half rag in or over the open engine, spot not said. Since 08:45, by Tomas Reke.\n"
        "      -> Take it out and count it back.\n"
    ) in told


ELSEWHERE = GOOD + """
[[step]]
do = "say missing"
line = "socket-10"
from = "put away"

[[step]]
do = "count out"
line = "breather-pipe.bolt-m6"

[[step]]
do = "why not"
closure = "breather-pipe"
says = ["but not in here"]
refused = ["not home"]
"""
NO_REASON = "missing, but not in here: no way in stood uncovered since it was last seen."


def test_what_is_missing_but_no_reason_is_told_by_every_command(tmp_path, capsys):
    journal = str(tmp_path / "kept.sqlite")
    assert main(["rehearse", written(tmp_path, ELSEWHERE), "--journal", journal]) == 0
    assert f"    Not a reason: 1 × socket 10 mm {NO_REASON}" in capsys.readouterr().out
    for command in (["tally", journal], ["whereabouts", "--journal", journal]):
        assert main(command) == 0
        assert f"Breather pipe: 1 × socket 10 mm {NO_REASON}" in capsys.readouterr().out


def test_one_expectation_that_does_not_hold_is_enough(tmp_path, capsys):
    story = written(tmp_path, GOOD + "tally = { out = 2 }\n")
    assert main(["rehearse", "rocker-cover", story]) == 1
    told = capsys.readouterr().out
    assert "NOT AS EXPECTED at step[1]: the tally of out should be 2, but is 1" in told
    assert "1 step, 1 expectation did NOT hold. The teardown is still open." in told


def test_a_broken_story_is_reported_and_the_others_are_played(tmp_path, capsys):
    story = written(tmp_path, GOOD + "quantity = 0\nlabell = 'x'\n")
    assert main(["rehearse", story, "rocker-cover"]) == 2
    told = capsys.readouterr()
    assert f"{story}: 2 faults to put right" in told.err
    assert "did you mean 'label'?" in told.err
    assert "rocker-cover: " in told.out


def test_a_story_that_is_not_there(capsys):
    assert main(["rehearse", "nothing.toml"]) == 2
    assert "there is no such file" in capsys.readouterr().err


def test_the_journal_of_a_rehearsal_can_be_kept(tmp_path, capsys):
    kept = tmp_path / "kept.sqlite"
    assert main(["rehearse", "blank-sheet", "--journal", str(kept)]) == 0
    assert main(["prove", str(kept)]) == 0
    assert "nothing is wrong" in capsys.readouterr().out


def test_a_journal_that_is_something_else_is_left_alone(tmp_path, capsys):
    other = tmp_path / "letter.txt"
    other.write_text("Dear Sir", encoding="utf-8")
    assert main(["rehearse", "blank-sheet", "--journal", str(other)]) == 2
    assert capsys.readouterr().err.startswith("countback: ")
    assert other.read_text(encoding="utf-8") == "Dear Sir"


# ---- sheets


def test_the_shipped_sheets_are_listed(capsys):
    assert main(["sheets"]) == 0
    told = capsys.readouterr().out
    assert "inline-four: Inlet manifold off, inline four\n    2 closures, 16 fasteners, 6 openings" in told
    assert "rocker-cover: " in told


def test_a_sheet_with_faults_fails_the_check(tmp_path, capsys):
    sheet = tmp_path / "own.toml"
    sheet.write_text('name = "x"\nmachine = "y"\nclosures = []\n', encoding="utf-8")
    assert main(["sheets", "rocker-cover", str(sheet)]) == 1
    told = capsys.readouterr()
    assert "rocker-cover: Rocker cover off" in told.out
    assert "closures: this key is not known here; did you mean 'closure'?" in told.err


def test_a_sheet_that_is_not_there_is_no_faulty_one(tmp_path, capsys):
    assert main(["sheets", "rocker-cvr"]) == 2
    faulty = tmp_path / "own.toml"
    faulty.write_text("", encoding="utf-8")
    assert main(["sheets", str(faulty)]) == 1
    assert main(["sheets", str(faulty), "rocker-cvr"]) == 2, "the higher one"
    assert "did you mean 'rocker-cover'?" in capsys.readouterr().err


# ---- tally


def test_the_tally_says_where_everything_is(played, capsys):
    assert main(["tally", str(played)]) == 0
    told = capsys.readouterr().out
    assert "crane: Harbour crane, auxiliary engine (Blank sheet), closed, started 2026-06-18T07:30:00.000+03:00" in told
    assert "out 0, in the engine 0, missing 0" in told
    assert "M8 nut (4): 4 fitted to the thermostat housing" in told
    assert "Wipe (5): 5 in scrap" in told


def test_what_is_away_is_marked(tmp_path, capsys):
    assert main(["rehearse", written(tmp_path, GOOD), "--journal", str(tmp_path / "j.sqlite")]) == 0
    capsys.readouterr()
    assert main(["tally", str(tmp_path / "j.sqlite")]) == 0
    told = capsys.readouterr().out
    assert "  * Rag (6): 1 on the bench; 5 put away\n" in told
    assert "    Ratchet (1): 1 put away\n" in told
    assert told.endswith("* not all of it is at home: some is out, in or over the engine, or missing.\n")


def test_where_nothing_is_away_no_mark_is_explained(played, capsys):
    assert main(["tally", str(played)]) == 0
    assert "*" not in capsys.readouterr().out


def test_one_teardown_can_be_asked_for(played, capsys):
    assert main(["tally", str(played), "--teardown", "crane"]) == 0
    assert main(["tally", str(played), "--teardown", "boat"]) == 2
    assert "There is no teardown 'boat'" in capsys.readouterr().err


def test_without_a_name_the_apps_own_journal_is_meant(own_home, capsys):
    assert main(["tally"]) == 2
    assert str(own_home / "journal.sqlite") in capsys.readouterr().err
    assert not own_home.exists()
    with open_journal(own_home / "journal.sqlite"):
        pass
    assert main(["tally"]) == 2
    assert "There is no teardown in" in capsys.readouterr().err
    assert main(["prove"]) == 0


# ---- prove


def test_a_journal_that_is_whole_is_proven(played, capsys):
    assert main(["prove", str(played)]) == 0
    assert "entries of 1 teardown and 5 photos proven; nothing is wrong." in capsys.readouterr().out


def test_a_changed_journal_is_found_out_and_told(played, capsys):
    with sqlite3.connect(played) as conn:
        conn.execute("UPDATE balance SET quantity = quantity + 1 WHERE line = 'rag' AND place = 'stores'")
    conn.close()
    assert main(["prove", str(played)]) == 1
    told = capsys.readouterr().out
    assert "WRONG in " in told
    assert "rag" in told
    assert "countback restore BACKUP --into NEW.sqlite" in told


def damage(path: Path) -> None:
    """The middle of the file was overwritten, as by a failing card; its first page is whole."""
    data = bytearray(path.read_bytes())
    data[4096:] = b"\xa5" * (len(data) - 4096)
    path.write_bytes(data)


def test_a_damaged_journal_is_not_sent_to_be_proven_again_but_told_what_to_do(played, capsys):
    damage(played)
    assert main(["prove", str(played)]) == 1
    told = capsys.readouterr()
    assert "damaged" in told.out
    assert "countback prove" not in told.out + told.err
    assert "Keep the file as it is, and a copy of it." in told.out
    assert "countback restore BACKUP --into NEW.sqlite" in told.out


def test_a_sheet_is_not_held_against_a_journal_that_cannot_be_read(played, tmp_path, capsys):
    sheet = tmp_path / "sheet.pdf"
    assert main(["closing-sheet", str(played), "--to", str(sheet)]) == 0
    damage(played)
    capsys.readouterr()
    assert main(["prove", str(sheet), str(played)]) == 1
    told = capsys.readouterr()
    assert "not compared, for the journal cannot be read" in told.out
    assert "countback prove" not in told.out + told.err


def test_a_closing_sheet_for_a_folder_that_is_not_there_makes_none(played, tmp_path, capsys):
    target = tmp_path / "no such folder" / "sheet.pdf"
    assert main(["closing-sheet", str(played), "--to", str(target)]) == 2
    assert f"There is no folder {target.parent}: nothing was written." in capsys.readouterr().err
    assert not target.parent.exists()


def test_what_the_system_refuses_is_said_in_words(played, tmp_path, capsys):
    assert main(["closing-sheet", str(played), "--to", str(tmp_path / ("long" * 80))]) == 2
    told = capsys.readouterr().err
    assert "Errno" not in told
    assert "cannot be used" in told


@pytest.mark.parametrize("command", ["tally", "prove"])
def test_there_is_no_such_journal_and_none_is_made(tmp_path, capsys, command):
    path = tmp_path / "none.sqlite"
    assert main([command, str(path)]) == 2
    assert f"There is no journal at {path}" in capsys.readouterr().err
    assert not path.exists()


@pytest.mark.parametrize(("command", "code"), [("tally", 2), ("prove", 1)])
def test_a_file_that_is_no_journal(command, code, capsys):
    assert main([command, str(STORIES / "README.md")]) == code
    told = capsys.readouterr()
    assert "is not a Countback journal" in told.out + told.err
    assert "countback restore" not in told.out, "it is another file, not a damaged one"


# ---- the command line itself


@pytest.mark.parametrize("line", [["fly"], ["rehearse"], ["demo", "--fast"], ["tally", "a", "b"]])
def test_a_wrong_command_line_is_2(line, capsys):
    with pytest.raises(SystemExit) as ended:
        main(line)
    assert ended.value.code == 2
    assert "usage: countback" in capsys.readouterr().err


def test_without_a_screen_the_app_says_what_to_do(own_home, monkeypatch, capsys):
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert main([]) == 2
    assert "There is no screen here to open the app on. Try: countback demo" in capsys.readouterr().err


def test_a_closing_sheet_is_not_written_over_another_file_unasked(played, tmp_path, capsys):
    target = tmp_path / "sheet.pdf"
    target.write_text("mine", encoding="utf-8")
    assert main(["closing-sheet", str(played), "--to", str(target)]) == 2
    told = capsys.readouterr().err
    assert f"{target} is there already: nothing was written. Name another file, or say --replace." in told
    assert target.read_text(encoding="utf-8") == "mine"
    assert main(["closing-sheet", str(played), "--to", str(target), "--replace", "--paper", "letter"]) == 0
    assert capsys.readouterr().out.rstrip().endswith("Letter")
    assert target.read_bytes().startswith(b"%PDF")


def test_prove_says_which_journal_it_takes_where_none_is_named(played, tmp_path, capsys, monkeypatch):
    sheet = tmp_path / "sheet.pdf"
    assert main(["closing-sheet", str(played), "--to", str(sheet)]) == 0
    monkeypatch.setenv("COUNTBACK_HOME", str(played.parent))
    main(["prove", str(sheet)])
    told = capsys.readouterr().out
    assert f"No journal is named: {sheet} is held against {played.parent / 'journal.sqlite'}." in told
