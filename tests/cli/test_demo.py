"""The demo: a folder of its own, the story told, teardowns left standing at each moment, the truth about pictures."""

from pathlib import Path

import pytest

from checklists.teardown import fold
from mobileapp.cli import main
from mobileapp.demo import MARKER, MOMENTS, draw, make_room, play_demo
from mobileapp.exit_codes import Trouble
from mobileapp.journal import open_journal, prove

NOW = "2026-03-02T16:00:00.000+01:00"


@pytest.fixture
def folder(tmp_path) -> Path:
    return tmp_path / "countback-demo"


def test_the_demo_tells_every_refusal_and_the_closing(folder):
    told: list[str] = []
    make_room(folder)
    assert play_demo(folder, told.append, NOW)
    refusals = [line for line in told if "REFUSED" in line]
    assert any("clear (Inlet manifold): REFUSED, 13 reasons" in line for line in refusals)
    assert len(refusals) >= 8
    assert any("closes the teardown" in line for line in told)
    assert any("every expectation held" in line for line in told)
    assert any("nothing is wrong" in line for line in told)


def test_it_leaves_the_story_whole_and_at_each_of_its_moments(folder):
    make_room(folder)
    assert play_demo(folder, lambda line: None, NOW)
    assert prove(folder / "journal.sqlite") == []
    with open_journal(folder / "journal.sqlite") as journal:
        cards = {card.teardown: card for card in journal.teardowns()}
        assert set(cards) == {"workboat", *(f"workboat-{moment}" for moment in MOMENTS)}
        assert cards["workboat"].state == "closed"
        states = {moment: fold(journal.entries(f"workboat-{moment}")) for moment in MOMENTS}
    assert all(state.ended == "" for state in states.values())
    assert states["counting"].quantity("inlet-manifold.bolt-m8", "tray") == 7
    assert states["openings"].opening_states["inlet-4"].state == "covered"
    assert states["refusal"].closure_states["inlet-manifold"].stage == "lifted"
    assert states["sign-off"].closure_states["coolant-crossover"].stage == "set down"
    assert all(card.last_at <= NOW for card in cards.values())
    assert all(card.last_at >= "2026-03-02T15:55" for card in cards.values())


def test_a_fresh_run_replaces_what_the_last_one_left(folder):
    for _ in range(2):
        make_room(folder)
        assert play_demo(folder, lambda line: None, NOW)
        with open_journal(folder / "journal.sqlite") as journal:
            assert len(journal.teardowns()) == 1 + len(MOMENTS)


def test_old_pictures_go_and_photos_stay(folder):
    make_room(folder)
    for name in ("pictures/old.png", "photos/mine.jpg"):
        (folder / name).parent.mkdir()
        (folder / name).write_bytes(b"x")
    make_room(folder)
    assert not (folder / "pictures/old.png").exists()
    assert (folder / "photos/mine.jpg").exists()


@pytest.mark.parametrize("stranger", ["letter.txt", "journal.sqlite", "pictures/holiday.png"])
def test_a_folder_of_somebody_elses_is_left_as_it_is(folder, stranger):
    """Even where its files have the demo's own names: without the demo's mark nothing is replaced."""
    (folder / stranger).parent.mkdir(parents=True)
    (folder / stranger).write_text("mine", encoding="utf-8")
    with pytest.raises(Trouble, match="holds something that no demo made"):
        make_room(folder)
    assert (folder / stranger).read_text(encoding="utf-8") == "mine"
    assert not (folder / MARKER).exists()


@pytest.mark.parametrize("stranger", ["letter.txt", "pictures/notes.txt", "rehearsed.sqlite"])
def test_something_put_beside_the_demo_since_then_is_not_touched(folder, stranger):
    make_room(folder)
    (folder / "journal.sqlite").write_text("the last demo's", encoding="utf-8")
    (folder / stranger).parent.mkdir(exist_ok=True)
    (folder / stranger).write_text("mine", encoding="utf-8")
    with pytest.raises(Trouble, match=stranger):
        make_room(folder)
    assert (folder / stranger).exists()
    assert (folder / "journal.sqlite").exists()


def test_a_file_in_the_way(folder, capsys):
    folder.write_text("mine", encoding="utf-8")
    assert main(["demo", "--no-window", "--folder", str(folder)]) == 2
    assert "is a file. Name another folder with --folder." in capsys.readouterr().err


def test_a_place_where_no_folder_can_be_made(tmp_path, capsys):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    places = [tmp_path / "file" / "demo", *([Path("/proc/x")] if Path("/proc/self").exists() else [])]
    for place in places:
        assert main(["demo", "--no-window", "--folder", str(place)]) == 2
        told = capsys.readouterr().err
        assert f"The demo cannot use the folder {place}" in told
        assert "Name one that you may write to: countback demo --folder FOLDER" in told
        assert "Errno" not in told


def test_it_says_what_its_times_mean(folder):
    told: list[str] = []
    make_room(folder)
    play_demo(folder, told.append, NOW)
    assert "the times are the story's own, and its last is now" in told[0]


def test_without_a_window_the_screens_are_drawn(folder, capsys):
    code = main(["demo", "--no-window", "--folder", str(folder)])
    told = capsys.readouterr().out
    pictures = sorted(path.name for path in (folder / "pictures").glob("*.png"))
    assert code == 0, told
    assert all(any(screen in name for name in pictures) for screen in ("board", "count", "openings", "refusal", "sign"))
    assert all(f"drawn: {folder / 'pictures' / name}" in told for name in pictures)
    assert "No window was asked for, so the screens are drawn to pictures." in told


def test_where_the_screens_cannot_be_drawn_it_says_why_and_the_exit_code_is_1(folder):
    told: list[str] = []
    make_room(folder)
    assert draw(folder, told.append) == 1
    assert told[0].startswith("The screens could not be drawn here: LookupError: The demo's teardown")
    assert not any(line.startswith("drawn") for line in told)
